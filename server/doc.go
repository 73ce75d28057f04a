// Package server is the page's side of the program: an HTTP API over builds, and the
// page's files.
//
// [New] makes a [Server] from [Options]; [Server.Handler] answers. Each build that is
// open lies on a desk: what its files say, the result that was derived from them, and
// who listens. A change, by the page or by an editor on the disk, cancels the run
// under way and starts another; results come as stages get through, by a stream of
// events. Nothing is computed here: every figure is read from job.Result, and every
// drawing from lane.
//
// Edits are changes of build.yaml and shop.yaml that package build makes; each names
// the version that the maker looked at, and is refused with what differs where
// another was faster. Undo and redo are those of history/ and survive restarts.
//
// What keeps others out: requests under foreign names or from foreign pages are
// refused (DNS rebinding, cross-site requests), another address than the machine's
// own asks for a token, the page may load nothing but its own files, nothing outside
// the build's folder is read or written, and bodies, uploads and time are bounded. See
// docs/serve.md.
package server
