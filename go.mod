module blankwright

go 1.26

require (
	github.com/google/go-cmp v0.7.0
	pgregory.net/rapid v1.3.0
)
