package store

import (
	"context"
	"time"
)

// Keys of what a request carries.
type (
	actorKey   struct{}
	requestKey struct{}
	trialKey   struct{}
	onceKey    struct{}
	momentKey  struct{}
)

// System is the actor of what nobody in particular does.
const System = "system"

// WithActor says on whose behalf the books are changed.
func WithActor(ctx context.Context, name string) context.Context {
	return context.WithValue(ctx, actorKey{}, name)
}

// WithRequest names the request that a change comes from.
func WithRequest(ctx context.Context, id string) context.Context {
	return context.WithValue(ctx, requestKey{}, id)
}

// WithTrial has changes made, answered and undone, as if they had not been.
func WithTrial(ctx context.Context) context.Context {
	return context.WithValue(ctx, trialKey{}, true)
}

// WithKey marks a request so that the same one again, by the same actor, does
// nothing and gets the answer of the first.
func WithKey(ctx context.Context, key string) context.Context {
	return context.WithValue(ctx, onceKey{}, key)
}

func actor(ctx context.Context) string {
	if name, _ := ctx.Value(actorKey{}).(string); name != "" {
		return name
	}
	return System
}

func request(ctx context.Context) string {
	id, _ := ctx.Value(requestKey{}).(string)
	return id
}

func trial(ctx context.Context) bool {
	on, _ := ctx.Value(trialKey{}).(bool)
	return on
}

func keyOf(ctx context.Context) string {
	key, _ := ctx.Value(onceKey{}).(string)
	return key
}

// moment returns the one instant at which a transaction happens.
func moment(ctx context.Context) time.Time {
	at, ok := ctx.Value(momentKey{}).(time.Time)
	if !ok {
		panic("store: a moment outside of a transaction")
	}
	return at
}
