package server

// StateEvent is the first event of a stream, and comes whenever the texts, the log
// or the readability of the files changed. The page asks anew for what it shows.
type StateEvent struct {
	AsOf AsOf   `json:"as_of"`
	Why  string `json:"why" enum:"hello,edit,undo,redo,disk,log,release" doc:"disk: somebody else wrote the files."`
	Name string `json:"name,omitempty" doc:"Of the edit."`
}

// ProgressEvent says how far a stage has come.
type ProgressEvent struct {
	State int    `json:"state"`
	Stage string `json:"stage"`
	Done  int    `json:"done"`
	Total int    `json:"total"`
}

// StageEvent says that more can be shown: the lanes and sheets named.
type StageEvent struct {
	AsOf  AsOf     `json:"as_of"`
	Step  string   `json:"step"`
	Lanes []string `json:"lanes"`
}

// DerivedEvent says that all is worked out, or why not.
type DerivedEvent struct {
	AsOf         AsOf          `json:"as_of"`
	Seconds      float64       `json:"seconds"`
	Consequences *Consequences `json:"consequences,omitempty" doc:"Against the result before; absent for the first."`
	Trouble      *Trouble      `json:"trouble,omitempty"`
}

// MadeEvent says that out/ was written, or why not.
type MadeEvent struct {
	Trouble *Trouble `json:"trouble,omitempty"`
	Blocked bool     `json:"blocked"`
}
