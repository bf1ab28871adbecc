//go:build !slowcheck

package answer

// verify does nothing but under the build tag slowcheck.
func (a *Answer) verify() {}
