package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strconv"
	"syscall"

	"github.com/spf13/cobra"

	"wythe/site"
)

func (a *app) preview() *cobra.Command {
	port := 8123
	c := &cobra.Command{
		Use:   "preview",
		Short: "Show the library in a browser while you write it",
		Long: `Serves the library on this machine alone and watches its folder. On each save
the open page is redrawn in place; what is wrong stands over it with file, line
and the offending lines. While there are errors the last good pages stay, marked
stale. Nothing is written. End it with Ctrl-C.`,
		Example: `  wythe preview
  wythe preview --port 9000 --library details`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return a.runPreview(ctx, port)
		},
	}
	c.Flags().IntVar(&port, "port", port, "the port on 127.0.0.1; 0 takes any that is free")
	return c
}

func (a *app) runPreview(ctx context.Context, port int) error {
	if port < 0 || port > 65535 {
		return usagef("write: wythe preview --port 8123", "%d is no port", port)
	}
	dir, err := a.library()
	if err != nil {
		return err
	}
	on, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return failf("take another with --port, or 0 for any that is free", "port %d is taken or not allowed", port)
	}
	defer on.Close()
	p, err := site.NewPreview(dir)
	if err != nil {
		return err
	}
	defer p.Close()
	host := on.Addr().String()
	server := &http.Server{Handler: p.Handler(host)}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	go func() { cancel(server.Serve(on)) }()
	go func() {
		if err := p.Watch(ctx); err != nil {
			cancel(failf("serve fewer folders, or raise the system's limit of watched files", "the library cannot be watched: %v", err))
		}
	}()
	n := p.Notice()
	fmt.Fprintf(a.stdout, "Previewing %s at http://%s/ (%s, %s).\nEnd with Ctrl-C.\n", dir, host, count(n.Errors, "error"), count(n.Warnings, "warning"))
	<-ctx.Done()
	_ = server.Close() // open pages are cut off; nothing is lost
	if err := context.Cause(ctx); !errors.Is(err, context.Canceled) && !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	fmt.Fprintln(a.stdout, "Preview ended.")
	return nil
}
