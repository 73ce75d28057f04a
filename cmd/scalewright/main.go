// Command scalewright turns a photograph of a small reference object into the
// print files, drawings and plan of an oversize display piece.
//
// Exit status: 0 done; 1 a stage found a blocker; 2 a command line, text or file
// that cannot be read or understood; 3 the disk failed, or a fault of our own.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
