// Package build is the folder of a build: it reads what the maker wrote,
// changes it, and keeps what was made.
//
// [Open] takes a folder. [Folder.Load] reads build.yaml, shop.yaml, the files
// they name and the log, and reports every mistake of form in one go, each with
// its place: what cannot be read or understood is an [Unreadable] error, never
// half a build. Whether the build can be made is for the stages to say.
//
// [Folder.Set], [Folder.Insert] and [Folder.Remove] change one value of the
// text and leave the rest, comments included, as the maker wrote it.
// [Folder.Undo] and [Folder.Redo] walk back and forth over the edits.
// [Folder.Append] adds to the log, [Folder.Release] keeps a piece for ever in
// made/, [Folder.Out] replaces what is derived. Each is whole or not at all,
// whenever the program is killed: see recover.go for how.
//
// Nothing outside the folder is read. One writer at a time holds the lock file
// of history/, for one write and no longer.
package build
