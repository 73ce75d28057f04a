// Package job is the order of the stages: what runs after what, side by side
// where it can, and only where inputs changed.
//
// [Run] takes a loaded build and gives the [Result] that every face reads. The
// order stands in order.go, one call a line. Each part and each piece is
// remembered by recipe (package recipe), so an edit of one wall carves only the
// pieces that hang on it. One loop feeds back, at most twice: the minutes that
// printing finds, to divide, which counted on fewer.
package job
