module blankwright

go 1.26.0

require (
	github.com/boombuler/barcode v1.1.0
	github.com/crillab/gophersat v1.4.0
	github.com/google/go-cmp v0.7.0
	pgregory.net/rapid v1.3.0
)
