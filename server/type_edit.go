package server

// Edit is a small change of build.yaml or shop.yaml, as one step of undo.
type Edit struct {
	Base    string   `json:"base" maxLength:"80" doc:"AsOf.version that the maker looked at."`
	Name    string   `json:"name,omitempty" maxLength:"120" doc:"For undo; made of the first change if left out."`
	Changes []Change `json:"changes" minItems:"1" maxItems:"50"`
	Wait    int      `json:"wait_ms,omitempty" minimum:"0" maximum:"60000" doc:"How long the answer may wait for the consequences."`
}

// Change is one change of a value.
type Change struct {
	Op   string `json:"op" enum:"put,add,drop" doc:"put sets a value, adding its key where it is not there; add adds a key or the next item of a list; drop takes out."`
	At   Place  `json:"at"`
	Text string `json:"text,omitempty" maxLength:"2000" doc:"One line: 2.4 mm, collar, or a list or mapping in brackets."`
	Free bool   `json:"free,omitempty" doc:"The text is free words, such as a name, and is quoted where it must be."`
}

// Edited is what an edit led to.
type Edited struct {
	AsOf         AsOf          `json:"as_of"`
	Name         string        `json:"name" doc:"Of the step, for undo."`
	Consequences *Consequences `json:"consequences,omitempty" doc:"absent: not known within wait_ms; the event derived brings them."`
}

// Trial is what an edit would lead to; nothing is written.
type Trial struct {
	Base         string       `json:"base"`
	Consequences Consequences `json:"consequences"`
}

// Consequences are what changed between two results.
type Consequences struct {
	Says   string    `json:"says" doc:"adds 0.3 h, 11 g; a blocker clears"`
	Before Totals    `json:"before"`
	After  Totals    `json:"after"`
	New    []Finding `json:"new"`
	Gone   []Finding `json:"gone"`
}

// Walk asks for undo or redo.
type Walk struct {
	Base string `json:"base" maxLength:"80"`
	Wait int    `json:"wait_ms,omitempty" minimum:"0" maximum:"60000"`
}

// Findings are what the stages have to say.
type Findings struct {
	AsOf     AsOf      `json:"as_of"`
	Findings []Finding `json:"findings" doc:"Worst first."`
}

// Finding is one thing that the stages have to say, with what can be done about it.
type Finding struct {
	ID       string   `json:"id" doc:"Of its flag on the elevation too, where it has one."`
	Code     string   `json:"code"`
	Severity string   `json:"severity" enum:"blocker,caution,note"`
	Stage    string   `json:"stage"`
	Part     string   `json:"part,omitempty"`
	Station  *float64 `json:"station_mm,omitempty" doc:"At full size; absent: nowhere along the build."`
	Message  string   `json:"message"`
	Remedy   string   `json:"remedy,omitempty"`
	File     string   `json:"file,omitempty"`
	Path     string   `json:"path,omitempty" doc:"Keys of the value that it is about."`
	Line     int      `json:"line,omitempty"`
	Lane     string   `json:"lane,omitempty" doc:"The lane that shows it."`
	Also     []string `json:"also" doc:"Other places that matter, as sentences."`
	Cures    []Cure   `json:"cures" doc:"Edits that the program can make itself."`
	When     string   `json:"when" doc:"When this kind of finding occurs."`
	Rule     string   `json:"rule,omitempty" doc:"The standard or practice behind it."`
}

// Cure is an edit that the program can make itself.
type Cure struct {
	Says    string   `json:"says"`
	Changes []Change `json:"changes"`
}

// Problem is what an error answers.
type Problem struct {
	Status   int       `json:"status"`
	What     string    `json:"what" doc:"What is wrong."`
	Do       string    `json:"do,omitempty" doc:"What to do."`
	Findings []Finding `json:"findings,omitempty" doc:"Mistakes of form that an edit would bring, each with its place."`
	Conflict *Conflict `json:"conflict,omitempty" doc:"The build was changed by another; nothing was written."`
	Wrong    []Wrong   `json:"wrong,omitempty" doc:"Of the request."`
}

// Conflict is what another changed meanwhile.
type Conflict struct {
	Base    string       `json:"base"`
	Now     string       `json:"now" doc:"The version to look at and to send as base."`
	Differs []Difference `json:"differs,omitempty" doc:"Absent where the base is not known any more."`
}

// Difference is a value that stands otherwise now.
type Difference struct {
	At  Place  `json:"at"`
	Was string `json:"was,omitempty"`
	Is  string `json:"is,omitempty"`
}

// Wrong is one thing wrong with a request.
type Wrong struct {
	Where string `json:"where,omitempty"`
	What  string `json:"what"`
}

// NewCuts are cuts to be written: those that were only computed, as they lie or moved.
type NewCuts struct {
	Base string   `json:"base" maxLength:"80"`
	Wait int      `json:"wait_ms,omitempty" minimum:"0" maximum:"60000"`
	Cuts []NewCut `json:"cuts" minItems:"1" maxItems:"50"`
}

// NewCut is one cut.
type NewCut struct {
	Part    string  `json:"part" maxLength:"40"`
	Station float64 `json:"station_mm" doc:"At full size; where it stays, whatever the enlargement."`
	Kind    string  `json:"kind,omitempty" maxLength:"40" doc:"Of joint; the program chooses if left out."`
}
