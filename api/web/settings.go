package web

import (
	"context"
	"encoding/json"
	"sync"
	"time"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// SettingsBooks are what every page's frame asks of the books.
type SettingsBooks interface {
	Thing(ctx context.Context, kind, id string) (store.Thing, error)
}

// A setting is the shop's name and zone.
type setting struct {
	Name string
	zone *time.Location
}

// A settingsCache keeps the zone that belongs to the settings' last text: to
// load one takes longer than all else of a frame.
type settingsCache struct {
	mu   sync.Mutex
	text string
	last setting
}

// of returns the settings as they are now; books that are empty have none yet.
func (s *settingsCache) of(ctx context.Context, books SettingsBooks) setting {
	t, err := books.Thing(ctx, "settings", "settings")
	if err != nil {
		return setting{"blankwright", time.UTC}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if text := string(t.Body); text != s.text {
		var said store.Settings
		if err := json.Unmarshal(t.Body, &said); err != nil {
			return setting{"blankwright", time.UTC}
		}
		s.text, s.last = text, setting{said.Name, (&shop.Shop{Timezone: said.Timezone}).Zone()}
	}
	return s.last
}
