// Package finding is what a stage has to say to the maker: what is wrong or
// worth knowing, where, how much, and what to do.
//
// A stage makes a [Finding] with [New] and typed arguments; it never writes
// prose. The words stand in one catalogue (text/en, a file a stage, keyed by
// [Code]) and are put together at the faces by a [Writer], in the reader's
// units. A finding points at a [Place] (file and path of keys), which the face
// turns into line and column, so that a comment added above a part changes no
// result.
package finding
