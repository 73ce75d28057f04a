package build

// BoundHistory sets how far back undo goes.
func BoundHistory(f *Folder, edits, bytes int) { f.mostEdits, f.mostHistory = edits, bytes }
