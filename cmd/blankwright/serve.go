package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"syscall"

	"blankwright/api"
	"blankwright/store"
)

type serveOptions struct {
	booksOption
	addr    string
	proxies []string
}

func serveCommand() *command {
	return &command{
		name:  "serve",
		brief: "serve the shop's books and pages",
		about: `Serves the books to browsers and programs until Ctrl-C or SIGTERM, then stops
in good order. While there is no account it serves this machine alone, and
prints a link by which the first one is made, once. It speaks plain HTTP:
beyond this machine, put a proxy with TLS before it, and name that with -proxy.
`,
		bind: func(set *flag.FlagSet) action {
			o := &serveOptions{}
			o.booksOption.bind(set)
			set.StringVar(&o.addr, "addr", "127.0.0.1:8080", "listen at `ADDR`")
			set.Func("proxy", "take the word of the proxy at `ADDR`, or in that network as 10.0.0.0/8, on where a request comes from; may be given again", func(text string) error {
				o.proxies = append(o.proxies, text)
				return nil
			})
			return o.run
		},
	}
}

func (o *serveOptions) run(ctx context.Context, w *world, _ []string) (err error) {
	if _, err := os.Stat(o.folder); errors.Is(err, fs.ErrNotExist) && !isLoopback(o.addr) {
		return o.tooFar()
	}
	books, err := o.open(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	server, err := api.New(w.served(books, func(c *api.Config) { c.Proxies = o.proxies }))
	if err != nil {
		return bad("serve: %v", err)
	}
	known, err := server.Gate().HasAccounts(ctx)
	if err != nil {
		return err
	}
	if !known && !isLoopback(o.addr) {
		return o.tooFar()
	}
	return w.listen(ctx, server, o.addr, func(url string) string {
		text := fmt.Sprintf("The books in %s are served at %s/\n", o.folder, url)
		if !known {
			text += fmt.Sprintf("There is no account yet. Make the first one here; the link is good once:\n%s/first?key=%s\n", url, server.Gate().FirstKey())
		}
		return text
	})
}

// tooFar refuses to serve, beyond this machine, books without any account.
func (o *serveOptions) tooFar() error {
	return bad("serve: %s can be reached from beyond this machine, and the books have no account yet; "+
		"serve them at 127.0.0.1:8080 first, and make one", o.addr)
}

// served is what every server is given.
func (w *world) served(books *store.Books, change func(*api.Config)) api.Config {
	var handler slog.Handler = slog.NewJSONHandler(w.stderr, nil)
	if w.terminal {
		handler = slog.NewTextHandler(w.stderr, nil)
	}
	c := api.Config{Books: books, Now: w.now, Log: slog.New(handler)}
	change(&c)
	return c
}

// listen serves at an address until it is told to stop, and first says so.
func (w *world) listen(ctx context.Context, server *api.Server, addr string, say func(url string) string) error {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return bad("can't listen at %s: %v", addr, errors.Unwrap(err))
	}
	if _, err := fmt.Fprint(w.stdout, say("http://"+l.Addr().String())); err != nil {
		return errors.Join(err, l.Close())
	}
	if err := server.Serve(ctx, l); err != nil {
		return err
	}
	_, err = fmt.Fprintln(w.stdout, "Stopped.")
	return err
}

// isLoopback reports whether an address can be reached from this machine only.
func isLoopback(addr string) bool {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return false
	}
	ip := net.ParseIP(host)
	return host == "localhost" || (ip != nil && ip.IsLoopback())
}
