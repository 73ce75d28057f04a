package finding

import "scalewright/unit"

// Code names a kind of finding. It is stable and never used again for another.
type Code string

// Severity says how much a finding matters.
type Severity uint8

const (
	// Note is worth knowing.
	Note Severity = iota
	// Caution will cost the maker something.
	Caution
	// Blocker means that the build cannot be made as declared.
	Blocker
)

var severityNames = [...]string{Note: "note", Caution: "caution", Blocker: "blocker"}

func (s Severity) String() string { return severityNames[s] }

// MarshalText writes the name.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Place is where in a build a finding points: a file of the build folder and
// the path of keys in it, such as "parts.tail.wall". The zero value is the
// build as a whole.
type Place struct {
	File string `json:"file,omitempty"`
	Path string `json:"path,omitempty"`
}

// Key is the place of a key below p.
func (p Place) Key(name string) Place {
	if p.Path == "" {
		return Place{p.File, name}
	}
	return Place{p.File, p.Path + "." + name}
}

// Also is another place that matters.
type Also struct {
	Code Code // a sentence of the catalogue, of severity note
	At   Place
	Args Args
}

// Edit is what the program could do itself: set the value at a place.
type Edit struct {
	At   Place
	Text string // the YAML scalar to write there
}

// Finding is one thing that a stage has to say.
type Finding struct {
	Code     Code
	Severity Severity
	Stage    string // the folder under stage/ that says it, or build
	At       Place
	Part     string
	Station  unit.Length
	HasPlace bool // Station counts
	Args     Args
	Edit     *Edit
	Notes    []Also
}

// New makes a finding of the catalogue. An unknown code or an argument that the
// text does not use is a bug of ours.
func New(code Code, at Place, args Args) Finding {
	entry := lookUp(code)
	entry.mustTake(args)
	return Finding{Code: code, Severity: entry.Severity, Stage: entry.Stage, At: at, Args: args}
}

// About says which part it concerns.
func (f Finding) About(part string) Finding { f.Part = part; return f }

// AtStation says where along the build it stands, in full-size mm.
func (f Finding) AtStation(s unit.Length) Finding { f.Station, f.HasPlace = s, true; return f }

// WithEdit says what the program could do itself.
func (f Finding) WithEdit(at Place, text string) Finding { f.Edit = &Edit{at, text}; return f }

// WithNote adds another place that matters.
func (f Finding) WithNote(code Code, at Place, args Args) Finding {
	lookUp(code).mustTake(args)
	f.Notes = append(f.Notes[:len(f.Notes):len(f.Notes)], Also{code, at, args})
	return f
}
