package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"hotclimb/plots/bench"
)

// usualPort is that of the page when none is asked for.
const usualPort = 8317

// serveGrace is how long requests under way may take to end.
const serveGrace = 3 * time.Second

func (p *program) serveCommand() *cobra.Command {
	var f serveFlags
	cmd := &cobra.Command{
		Use:   "serve [FILE]",
		Short: "play with a scenario on a page in the browser",
		Long: `Serves a page to play with a scenario until Ctrl-C: sliders for openings, spray,
air temperature, speed and power; both temperatures, margins, drag and the air in
the cowl follow every move. Cores change from coolant to oil, candidate changes
are ticked, the studies of the other commands run on what is set, and the
scenario as changed and its report are saved by the browser. No file is changed.

FILE is a scenario or the name of a built-in one; without it, the demo ` + demo + ` is
served. The address is printed; only browsers on this computer are answered.`,
		Example: examples(
			`hotclimb serve`,
			`hotclimb serve rotary --port 0`,
			`hotclimb serve tug --set "day.temperature=104 degF"`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.anyPort = !cmd.Flags().Changed("port")
			return p.serve(cmd.Context(), file(args, demo), &f)
		},
	}
	f.changeFlags(cmd)
	cmd.Flags().IntVar(&f.port, "port", usualPort, "listen on port `N`, or 0 for any that is free")
	f.workersFlag(cmd)
	return cmd
}

// serveFlags are the flags of serve.
type serveFlags struct {
	common
	port    int
	anyPort bool // another one will do when it is taken
}

// check tells values of flags that no flag reader refuses.
func (f *serveFlags) check() error {
	if f.port < 0 || f.port > 65535 {
		return badInputf("--port %d: must be from 0 to 65535", f.port)
	}
	return f.common.check()
}

// serve serves a page until the context ends.
func (p *program) serve(ctx context.Context, file string, f *serveFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	b, err := p.bench(file, &f.common)
	if err != nil {
		return err
	}
	handler, err := bench.Handler(*b)
	if err != nil {
		return err
	}
	listener, err := p.listen(f)
	if err != nil {
		return err
	}
	return p.answer(ctx, bench.Server(handler), listener)
}

// listen opens the port, for this computer alone.
func (p *program) listen(f *serveFlags) (net.Listener, error) {
	address := func(port int) string { return net.JoinHostPort("127.0.0.1", strconv.Itoa(port)) }
	listener, err := net.Listen("tcp", address(f.port))
	if f.anyPort && errors.Is(err, syscall.EADDRINUSE) {
		p.say(fmt.Sprintf("port %d is taken, so another one is used", f.port))
		listener, err = net.Listen("tcp", address(0))
	}
	if err != nil {
		return nil, fmt.Errorf("cannot listen on port %d: %w", f.port, systemReason(err))
	}
	return listener, nil
}

// systemReason is what the system says, without the names of its calls.
func systemReason(err error) error {
	var number syscall.Errno
	if errors.As(err, &number) {
		return number
	}
	return err
}

// answer prints the address and answers until the context ends, which ends what is
// under way as well.
func (p *program) answer(ctx context.Context, server *http.Server, listener net.Listener) error {
	server.BaseContext = func(net.Listener) context.Context { return ctx }
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	if _, err := fmt.Fprintf(p.out, "http://%s/\n", listener.Addr()); err != nil {
		return errors.Join(fmt.Errorf("cannot write the result: %w", reason(err)), server.Close())
	}
	p.say("open this address in a browser on this computer; Ctrl-C ends it")
	select {
	case err := <-failed:
		return fmt.Errorf("the page is no longer served: %w", err)
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), serveGrace)
	defer cancel()
	if err := server.Shutdown(grace); err != nil {
		return server.Close()
	}
	return nil
}
