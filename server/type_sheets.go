package server

// Sizes are ratios worth weighing.
type Sizes struct {
	AsOf       AsOf        `json:"as_of"`
	Settled    string      `json:"settled,omitempty" doc:"Why the size is settled: a piece is made. Then there are no candidates."`
	Candidates []Candidate `json:"candidates" doc:"The best first."`
}

// Candidate is a ratio with what it would take.
type Candidate struct {
	Ratio  float64 `json:"ratio"`
	Says   string  `json:"says" doc:"Why it is there, and what it is the best of."`
	Length string  `json:"length"`
	Now    bool    `json:"now" doc:"The declared one."`
	Totals Totals  `json:"totals"`
	Core   string  `json:"core,omitempty"`

	Spools   int     `json:"spools" doc:"To be bought."`
	Together float64 `json:"together" doc:"Chance that all goes together as printed; 0: not known."`
	WayIn    string  `json:"way_in" doc:"Through the doors and lifts on its way; empty: not known."`

	Blocked string `json:"blocked,omitempty" doc:"What stands in the way."`
	Edit    Change `json:"edit" doc:"Takes this size."`
}

// ReferenceSheet is what is known of the reference.
type ReferenceSheet struct {
	AsOf     AsOf            `json:"as_of"`
	Photo    *PhotoFacts     `json:"photo,omitempty" doc:"absent: the outline is typed."`
	Length   Doubtful        `json:"length_mm" doc:"Of the reference."`
	Ratio    float64         `json:"ratio"`
	Worst    *WorstError     `json:"largest_error,omitempty" doc:"At full size; absent: the outline is taken as exact."`
	Profile  []ProfilePoint  `json:"profile"`
	Segments []Segment       `json:"segments"`
	Typed    []TypedStretch  `json:"typed" doc:"Stretches that the maker typed."`
	Readings []DeclaredPoint `json:"readings" doc:"Caliper readings as declared."`
}

// PhotoFacts is how the photograph was taken.
type PhotoFacts struct {
	File      string  `json:"file" doc:"For /photos."`
	Width     int     `json:"width_px" doc:"Upright, as browsers show it."`
	Height    int     `json:"height_px"`
	GridFound bool    `json:"grid_found"`
	Pitch     float64 `json:"pitch_mm"`
	Crossings int     `json:"crossings"`
	RMS       float64 `json:"rms_px"`
	Camera    float64 `json:"camera_height_mm"`
	Tilt      float64 `json:"tilt_deg"`
	By        string  `json:"scale_by" doc:"What set the scale: ruler, print, marks or known_length; empty: nothing was measured."`
	Marks     []Mark  `json:"marks" doc:"Crossings picked by hand."`

	FoundMarks [][2]float64 `json:"found_marks" doc:"Crossings found by themselves, px; empty where they were picked."`

	Scale    float64        `json:"px_per_mm" doc:"On the mat, in the middle of the picture; 0: the camera is not known."`
	Outline  [][][2]float64 `json:"outline" doc:"The outline as it is taken, as both sides show it, px."`
	Band     [][][2]float64 `json:"band" doc:"Where it lies 95 times in 100, a closed ring each side, px."`
	Corners  []Corner       `json:"corners" doc:"What of the outline can be moved by hand."`
	Strokes  []Stroke       `json:"strokes" doc:"What is painted as object or mat."`
	Features []Feature      `json:"features" doc:"What is marked on the body's side."`

	Edges [][]EdgePoint `json:"edges" doc:"Where the two sides are seen in the upright photograph, by station. Empty: nothing was found."`
}

// EdgePoint is a place of the body's edge in the photograph.
type EdgePoint struct {
	Station float64    `json:"station_mm" doc:"Of the reference."`
	Px      [2]float64 `json:"px"`
}

// Mark is a place of the mat in the photograph.
type Mark struct {
	Px [2]float64 `json:"px"`
	Mm [2]float64 `json:"mm"`
}

// Doubtful is a value and its standard uncertainty.
type Doubtful struct {
	Value float64 `json:"value"`
	U     float64 `json:"u"`
}

// WorstError is the largest error at full size.
type WorstError struct {
	Station float64 `json:"station_mm"`
	U       float64 `json:"u_mm"`
	Says    string  `json:"says"`
}

// ProfilePoint is the measured profile at a station, mm of the reference.
type ProfilePoint struct {
	Station float64 `json:"station_mm"`
	Radius  float64 `json:"radius_mm"`
	U       float64 `json:"u_mm"`
}

// Segment is a line or arc of the outline, mm of the reference.
type Segment struct {
	Kind   string      `json:"kind" enum:"line,arc"`
	From   [2]float64  `json:"from_mm" doc:"Station and radius."`
	To     [2]float64  `json:"to_mm"`
	Centre *[2]float64 `json:"centre_mm,omitempty"`
	Radius float64     `json:"radius_mm,omitempty"`
}

// TypedStretch is a stretch that no photograph tells.
type TypedStretch struct {
	From    float64 `json:"from_mm"`
	To      float64 `json:"to_mm"`
	Because string  `json:"because"`
}

// DeclaredPoint is a reading as declared.
type DeclaredPoint struct {
	At   Place  `json:"at"`
	Name string `json:"name"`
	Text string `json:"text"`
}

// LightSheet is lights and sound.
type LightSheet struct {
	AsOf    AsOf        `json:"as_of"`
	Supply  string      `json:"supply"`
	Says    string      `json:"says" doc:"The supply in one line."`
	Shows   []Show      `json:"shows"`
	Pins    []Pin       `json:"pins"`
	Wires   []Wire      `json:"wires"`
	Road    []RoadHours `json:"road"`
	Program string      `json:"program,omitempty" doc:"The program for the book, in C; empty: there is no controller."`
}

// Show is a sequence: every lamp's real colours, as the controller makes them.
type Show struct {
	ID      string   `json:"id"`
	Button  string   `json:"button,omitempty" doc:"Empty: it plays while nothing else does."`
	Sound   int      `json:"sound,omitempty"`
	Pattern string   `json:"pattern"`
	Seconds float64  `json:"seconds" doc:"Of the strip that is shown; an endless show is shown for a while."`
	Endless bool     `json:"endless"`
	Step    float64  `json:"step_s" doc:"Between two columns."`
	Lamps   int      `json:"lamps"`
	Columns []string `json:"columns" doc:"A column a step: six hex digits a lamp, foot to nose."`
	Says    []string `json:"says" doc:"The cross-ticks as sentences: at 18 seconds, to white in 2."`
}

// Pin is a pin of the controller.
type Pin struct {
	Pin  string `json:"pin"`
	Wire string `json:"wire"`
	To   string `json:"to"`
}

// Wire is a wire as it is to be made.
type Wire struct {
	ID     string  `json:"id"`
	From   string  `json:"from"`
	To     string  `json:"to"`
	Length string  `json:"length"`
	Gauge  string  `json:"gauge"`
	Amps   float64 `json:"current_a"`
	Drop   float64 `json:"lost_v"`
	Note   string  `json:"note,omitempty"`
}

// RoadHours is how long a power bank lasts.
type RoadHours struct {
	Component string  `json:"component"`
	Hours     float64 `json:"hours"`
}

// Files are what was made.
type Files struct {
	Stale  bool       `json:"stale" doc:"out/ is of an earlier state."`
	Made   bool       `json:"made" doc:"There is anything."`
	Making bool       `json:"making" doc:"It is being made now."`
	Files  []FileLine `json:"files"`
}

// FileLine is a file of out/.
type FileLine struct {
	Path  string `json:"path" doc:"For /file."`
	Bytes int64  `json:"bytes"`
	Says  string `json:"says"`
}

// PhotoPut is a photograph that was stored.
type PhotoPut struct {
	File   string `json:"file" doc:"As build.yaml names it: photos/rocket.jpg."`
	Width  int    `json:"width_px"`
	Height int    `json:"height_px"`
	Kind   string `json:"kind" enum:"jpeg,png,webp,tiff"`
}

// Solids are the pieces that can be turned, where they lie in the build.
type Solids struct {
	AsOf   AsOf        `json:"as_of"`
	Pieces []SolidLine `json:"pieces"`
}

// SolidLine is a piece that can be turned.
type SolidLine struct {
	ID        string     `json:"id"`
	Name      string     `json:"name"`
	Tint      string     `json:"tint"`
	Triangles int        `json:"triangles"`
	Span      Stretch    `json:"span"`
	Apart     [3]float64 `json:"apart_mm" doc:"How far it goes when the build is pulled apart the way it was put together."`
}

// Marks are crossings of the mat that were picked in a photograph.
type Marks struct {
	Pitch float64 `json:"pitch_mm" exclusiveMinimum:"0" maximum:"1000"`
	Marks []Mark  `json:"marks" minItems:"4" maxItems:"2000"`
}

// Stored is a file that was stored. What lay under that name is still there: the name
// is another then. An edit makes the build name it.
type Stored struct {
	File string `json:"file"`
}

// Outlines are the outlines that the build names.
type Outlines struct {
	Outlines []TypedOutline `json:"outlines"`
}

// TypedOutline is an outline as it is typed.
type TypedOutline struct {
	File   string        `json:"file,omitempty" doc:"As build.yaml names it; given by the server."`
	Doubt  float64       `json:"doubt_mm" minimum:"0" maximum:"1000"`
	Of     string        `json:"of" enum:"reference,shop"`
	Closed bool          `json:"closed" doc:"Of a flat part: points are x and y, the last joins the first."`
	Path   []OutlineStep `json:"path" minItems:"2" maxItems:"5000"`
	Holes  int           `json:"holes,omitempty" doc:"It has holes, which are typed in the file itself."`
}

// OutlineStep is a point of an outline: the first begins it, each other ends a line,
// or an arc where it has a centre.
type OutlineStep struct {
	To     [2]float64  `json:"to_mm" doc:"Station and radius."`
	Centre *[2]float64 `json:"centre_mm,omitempty"`
}
