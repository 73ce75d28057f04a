package main

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"scalewright/examples"
	"scalewright/server"
	"scalewright/web"
)

type serveCmd struct {
	Dir    string `arg:"" optional:"" help:"Folder of the build; without one the page lists builds, starts new ones, and copies the demo."`
	Listen string `help:"Another address than this machine's own, such as 192.168.1.20:8220, or :8220 for all. Browsers are then paired by a code that is shown here." placeholder:"ADDR"`
	Builds string `help:"Folder in which new builds are started." type:"path" placeholder:"DIR"`
}

// usualListen is this machine's own address, and a port that no other service has
// registered with IANA.
const usualListen = "127.0.0.1:8220"

func (c *serveCmd) Run(ctx context.Context, f *face) error {
	listen, err := c.listen()
	if err != nil {
		return err
	}
	defer listen.Close()
	o, err := c.options(f)
	if err != nil {
		return err
	}
	address := listen.Addr().(*net.TCPAddr)
	o.Hosts = hostsOf(address)
	if !address.IP.IsLoopback() {
		o.Token = newToken()
		o.Address = "http://" + outward(o.Hosts)
	}
	s := server.New(o)
	defer s.Close()
	to := "/"
	if c.Dir != "" {
		id, err := s.Open(c.Dir)
		if err != nil {
			return usageOfServe(err)
		}
		to = "/b/" + id
	}
	if _, built := web.Page(); !built {
		fmt.Fprintln(f.talk, web.Missing)
	}
	if err := f.address(o, to); err != nil {
		return err
	}
	return serveUntil(ctx, listen, s)
}

// listen opens the door.
func (c *serveCmd) listen() (net.Listener, error) {
	address := usualListen
	if c.Listen != "" {
		if _, _, err := net.SplitHostPort(c.Listen); err != nil {
			return nil, &usageError{fmt.Sprintf("%q is not an address", c.Listen), "write it like 192.168.1.20:8220, or :8220 for all of this machine's"}
		}
		address = c.Listen
	}
	l, err := net.Listen("tcp", address)
	if err != nil && c.Listen == "" { // somebody has the port: any other will do
		l, err = net.Listen("tcp", "127.0.0.1:0")
	}
	if err != nil {
		return nil, fmt.Errorf("listen on %s: %w", address, err)
	}
	return l, nil
}

func (c *serveCmd) options(f *face) (server.Options, error) {
	o := server.Options{Folder: c.Builds, Demo: examples.Demo(), Now: time.Now, Log: log.New(f.talk, "scalewright: ", 0)}
	if page, built := web.Page(); built {
		o.Page = page
	}
	if o.Folder == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return o, &usageError{"this machine does not say where your files are", "name a folder: --builds DIR"}
		}
		o.Folder = filepath.Join(home, "Scalewright")
	}
	if config, err := os.UserConfigDir(); err == nil {
		o.Remember = filepath.Join(config, "scalewright", "recent.json")
	}
	return o, nil
}

// serveUntil serves until the program is asked to end. Streams of events end with
// the server's desks; what is being written is finished.
func serveUntil(ctx context.Context, l net.Listener, s *server.Server) error {
	h := s.HTTP()
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(l) }()
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	s.Close()
	last, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := h.Shutdown(last); err != nil {
		_ = h.Close() // somebody will not let go
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	return nil // asked to end is no failure here
}

// usageOfServe says what to do where a folder is no build.
func usageOfServe(err error) error {
	if p, ok := errors.AsType[*server.Problem](err); ok {
		return &usageError{p.What, p.Do}
	}
	return err
}
