module blankwright

go 1.26

require (
	github.com/crillab/gophersat v1.4.0
	github.com/google/go-cmp v0.7.0
	pgregory.net/rapid v1.3.0
)
