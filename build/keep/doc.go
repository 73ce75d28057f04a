// Package keep is the store on disk of results that can be made again
// (out/.keep of a build). A [Dir] answers with just the bytes it was given for a
// key, or not at all.
//
// One file holds one entry, under its key in hex digits, and begins with a
// checksum over key and data: an entry that was torn, cut off, changed or
// renamed is removed and counts as absent. Entries are written to a temporary
// file and renamed, so that a reader never meets half of one; they are not
// synced, since the checksum finds what a power cut leaves, and the loss is one
// computation. When all entries together pass the bound, those not asked for
// the longest are removed. The folder may be deleted at any time.
package keep
