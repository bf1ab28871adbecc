package rest

import (
	"context"
	"encoding/json"
	"sync"

	"github.com/danielgtaylor/huma/v2"
)

type documentAnswer struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}

// document serves the OpenAPI document, which includes itself.
func document(r *routes) {
	text := sync.OnceValues(func() ([]byte, error) { return json.Marshal(r.api.OpenAPI()) })
	add(r, operation{
		name: "read-openapi", method: "GET", path: "/openapi.json", tag: "server",
		does: "This document",
		shape: func(o *huma.Operation) {
			o.Responses = map[string]*huma.Response{"200": {
				Description: "OpenAPI 3.1",
				Content:     map[string]*huma.MediaType{"application/json": {Schema: &huma.Schema{Type: "object"}}},
			}}
		},
	}, func(context.Context, *struct{}) (*documentAnswer, error) {
		body, err := text()
		return &documentAnswer{ContentType: "application/json", Body: body}, err
	})
}
