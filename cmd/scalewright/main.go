// Command scalewright turns a photograph of a small reference object into the
// print files, drawings and plan of an oversize display piece.
//
// Exit status: 0 done; 1 a stage found a blocker; 2 a command line, text or file
// that cannot be read or understood; 3 the disk failed, Ctrl-C or a request to
// terminate stopped it, or a fault of our own. However it ends, nothing is left
// half written.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := stoppable()
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// stoppable is done when somebody presses Ctrl-C or the system asks the program to
// end, as it does before it shuts down.
func stoppable() (context.Context, context.CancelFunc) {
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}
