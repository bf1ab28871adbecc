// Package api serves the shop's books over HTTP: the JSON interface under
// /api/v1, health, metrics and events. It puts the parts together (access,
// rest) and holds what every request passes through.
//
// It is the only layer that knows gin; cmd starts it, nothing else imports it.
package api

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/access"
	"blankwright/api/respond"
	"blankwright/api/rest"
	"blankwright/api/runs"
	"blankwright/api/web"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A Config says what a server serves, and to whom.
type Config struct {
	Books *store.Books
	Log   *slog.Logger
	Now   func() time.Time
	// Proxies are the addresses or networks whose word on a client's address
	// is taken. None is by default.
	Proxies []string
	// Open lets everybody in as the admin "demo". It is for a demonstration
	// on this machine alone.
	Open bool
	// Planning says how plans are made. Its clock and its log are the server's.
	Planning runs.Options
}

// A Server answers requests. Make it with New.
type Server struct {
	log    *slog.Logger
	engine *gin.Engine
	gate   *access.Gate
	runs   *runs.Manager
	tick   *runs.Tick
	// stopping is closed when the server begins to stop: streams end then.
	stopping chan struct{}
}

// The times that a connection has. Streams move their own deadline on.
const (
	headerTime = 5 * time.Second
	readTime   = time.Minute
	writeTime  = time.Minute
	idleTime   = 2 * time.Minute
	// graceTime is how long requests under way have to end at a stop.
	graceTime = 20 * time.Second
)

// New puts a server together. It fails where the configuration is wrong.
func New(c Config) (*Server, error) {
	gin.SetMode(gin.ReleaseMode)
	log := slog.New(requestLog{c.Log.Handler()})
	s := &Server{log: log, engine: gin.New(), stopping: make(chan struct{})}
	s.gate = access.New(c.Books, access.Options{Now: c.Now, Log: log, Open: c.Open})
	desk := runs.Desk{Books: c.Books}
	var waiting crowd
	c.Planning.Now, c.Planning.Log, c.Planning.Waiting = c.Now, log, waiting.waiting.Load
	s.runs = runs.NewManager(desk, c.Planning)
	s.tick = runs.NewTick(desk, s.runs, c.Now, log)
	s.engine.ContextWithFallback = true
	s.engine.HandleMethodNotAllowed = true
	s.engine.UseRawPath = true // an id may hold a slash, which a path has as %2F
	s.engine.RedirectTrailingSlash = false
	if err := s.engine.SetTrustedProxies(c.Proxies); err != nil {
		return nil, fmt.Errorf("proxies: %w", err)
	}
	m := newMetrics()
	s.engine.Use(requestID, headers, accessLog(log), m.watch, waiting.count, recovered(log), wellFormed, limited, sameOrigin(), s.gate.Identify)
	s.engine.NoMethod(wrongMethod)
	s.gate.Handle(&s.engine.RouterGroup, http.MethodGet, "/healthz", "alive", alive)
	s.gate.Handle(&s.engine.RouterGroup, http.MethodGet, "/readyz", "ready", ready(log, c.Books))
	s.gate.Handle(&s.engine.RouterGroup, http.MethodGet, "/metrics", "read-metrics", m.text())
	rest.Mount(s.engine, rest.Parts{Books: c.Books, Gate: s.gate, Runs: s.runs, Log: log, Now: c.Now, Stopping: s.stopping})
	web.Mount(s.engine, web.Parts{
		Books: c.Books, Gate: s.gate, Runs: s.runs, Log: log, Now: c.Now, Open: c.Open, Missing: missing,
		Stock: func(ctx context.Context) (*shop.Shop, error) {
			stock, err := desk.Stock(ctx)
			if err != nil {
				return nil, err
			}
			return stock.Shop, nil
		},
		NextTick: func(ctx context.Context, s store.TickSettings) (time.Time, error) {
			return desk.NextTick(ctx, s, c.Now())
		},
	})
	if unknown := s.gate.Unknown(); len(unknown) > 0 {
		return nil, fmt.Errorf("operations without a row in the table of access: %v", unknown)
	}
	return s, nil
}

// Gate returns who guards the server: by it the first admin is made.
func (s *Server) Gate() *access.Gate { return s.gate }

// Routes returns all that the server answers.
func (s *Server) Routes() []access.Route { return s.gate.Routes(s.engine) }

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.engine.ServeHTTP(w, r) }

// Serve answers what comes in at a listener until the context ends, and makes
// plans meanwhile. Then it takes no more, ends its streams, has plans that are
// being made end with the best they have, lets the requests under way end, and
// returns nil.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	if err := s.BeginWork(ctx); err != nil {
		return errors.Join(err, l.Close())
	}
	defer shareProcessors()()
	server := &http.Server{
		Handler:           s,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       readTime,
		WriteTimeout:      writeTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	grace := context.WithoutCancel(ctx)
	select {
	case err := <-ended:
		return errors.Join(err, s.EndWork(grace))
	case <-ctx.Done():
	}
	close(s.stopping)
	grace, cancel := context.WithTimeout(grace, graceTime)
	defer cancel()
	worked := make(chan error, 1)
	go func() { worked <- s.EndWork(grace) }()
	err := errors.Join(server.Shutdown(grace), <-worked)
	if serving := <-ended; !errors.Is(serving, http.ErrServerClosed) {
		err = errors.Join(err, serving)
	}
	return err
}

// BeginWork begins what the server does without being asked: the tick, which at
// once makes up for what it missed. Serve does so by itself.
func (s *Server) BeginWork(ctx context.Context) error {
	if err := s.runs.Begin(ctx); err != nil {
		return err
	}
	return s.tick.Start(context.WithoutCancel(ctx)) // it ends by EndWork
}

// EndWork ends the tick and the plans that are being made: with the best that
// they have, unless the context ends first.
func (s *Server) EndWork(ctx context.Context) error {
	return errors.Join(s.runs.Stop(ctx), s.tick.Stop(ctx))
}

func missing(c *gin.Context) {
	fail(c, respond.New(http.StatusNotFound, "there is nothing at this address"))
}

func wrongMethod(c *gin.Context) {
	fail(c, respond.New(http.StatusMethodNotAllowed, "this address does not take "+c.Request.Method+"; it takes "+c.Writer.Header().Get("Allow")))
}
