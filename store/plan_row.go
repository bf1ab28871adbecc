package store

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"
)

type planRow struct {
	ID      int64 `gorm:"primaryKey"`
	Why     string
	State   string
	Actor   string
	AskedAt int64
	EndedAt *int64
	Failure string
	Figures string
}

func (planRow) TableName() string { return "plans" }

func (r *planRow) plan() (Plan, error) {
	p := Plan{
		ID: r.ID, Why: r.Why, State: r.State, By: r.Actor, AskedAt: instant(r.AskedAt), EndedAt: optional(r.EndedAt), Failure: r.Failure,
	}
	if err := json.Unmarshal([]byte(r.Figures), &p.Figures); err != nil {
		return p, fmt.Errorf("figures of plan %d: %w", r.ID, err)
	}
	return p, nil
}

type planFilesRow struct {
	Plan   int64 `gorm:"primaryKey"`
	Shop   []byte
	File   []byte
	Report []byte
}

func (planFilesRow) TableName() string { return "plan_files" }

func packed(plan int64, f PlanFiles) (*planFilesRow, error) {
	row := &planFilesRow{Plan: plan}
	var failed []error
	for _, part := range []struct {
		to   *[]byte
		text []byte
	}{{&row.Shop, f.Shop}, {&row.File, f.Plan}, {&row.Report, f.Report}} {
		var err error
		*part.to, err = compress(part.text)
		failed = append(failed, err)
	}
	return row, errors.Join(failed...)
}

func (r *planFilesRow) unpacked() (PlanFiles, error) {
	var f PlanFiles
	var failed []error
	for _, part := range []struct {
		to   *[]byte
		pack []byte
	}{{&f.Shop, r.Shop}, {&f.Plan, r.File}, {&f.Report, r.Report}} {
		var err error
		*part.to, err = decompress(part.pack)
		failed = append(failed, err)
	}
	return f, errors.Join(failed...)
}

func compress(text []byte) ([]byte, error) {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(text)
	err = errors.Join(err, w.Close())
	return out.Bytes(), err
}

func decompress(pack []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(pack))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}

// optional turns what may be absent into a time, which is zero then.
func optional(millis *int64) time.Time {
	if millis == nil {
		return time.Time{}
	}
	return instant(*millis)
}
