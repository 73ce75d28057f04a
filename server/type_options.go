package server

import (
	"io/fs"
	"log"
	"time"
)

// Options say what is served, and to whom.
type Options struct {
	// Hosts are the names under which the page may be asked for, with the port:
	// "127.0.0.1:8220". A request under another name is refused, or a page of
	// somebody else's, whose name was made to mean this machine, could ask.
	Hosts []string
	// Token must be shown once by every browser, which keeps it in a cookie; empty:
	// the address is this machine's own, and none is asked for.
	Token string
	// Address is where other machines reach the page, such as http://192.168.1.20:8220;
	// empty: they do not. Labels of pieces lead there.
	Address string
	// Page is the page's files, with an index.html; nil: none.
	Page fs.FS
	// Folder is where new builds are started and from where builds may be opened.
	Folder string
	// Remember is the file that holds the builds opened before; empty: none is kept.
	Remember string
	// Demo is the demo's folder, as it is copied; nil: there is none.
	Demo fs.FS
	// Now is the clock.
	Now func() time.Time
	// Log takes what only the operator sees.
	Log *log.Logger
}
