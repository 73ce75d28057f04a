package server

// LaneSheet are lanes drawn for one view, so that they can be read down one line.
type LaneSheet struct {
	AsOf  AsOf    `json:"as_of"`
	Span  Stretch `json:"span" doc:"Stations that are shown."`
	Pad   float64 `json:"pad_mm" doc:"Free at both ends: station from lies at pad_mm."`
	Scale float64 `json:"scale" doc:"mm of paper for a mm of the build. x = pad_mm + (station - from) * scale."`
	Lanes []Lane  `json:"lanes"`
}

// Lane is a lane and its drawing.
type Lane struct {
	LaneHead
	AsOf   AsOf  `json:"as_of" doc:"A lane whose stages are through is newer than the others."`
	Folded bool  `json:"folded"`
	Scene  Scene `json:"scene"`
}

// LaneTable is a lane's facts as rows by station.
type LaneTable struct {
	AsOf    AsOf       `json:"as_of"`
	Caption string     `json:"caption"`
	Columns []Column   `json:"columns"`
	Rows    [][]string `json:"rows"`
}

// Column is the head of a column.
type Column struct {
	Head   string `json:"head"`
	Figure bool   `json:"figure" doc:"Set to the right."`
}

// LaneReadings is what the plumb line reads, lane by lane.
type LaneReadings struct {
	AsOf  AsOf           `json:"as_of"`
	Step  float64        `json:"step_mm" doc:"Readings were taken so far apart."`
	Axis  []Reading      `json:"axis" doc:"The station itself, at the ends of the span: at full size and of the reference."`
	Lanes []LaneReadList `json:"lanes"`
}

// LaneReadList is what one lane states, from one station up to the next.
type LaneReadList struct {
	ID       string    `json:"id"`
	Readings []Reading `json:"readings" doc:"By station; one holds until the next."`
}

// Reading is what is stated from a station on.
type Reading struct {
	From      float64 `json:"from_mm"`
	Here      string  `json:"here"`
	Reference string  `json:"reference,omitempty"`
}

// Drawing is a picture that is no lane.
type Drawing struct {
	AsOf  AsOf    `json:"as_of"`
	Scale float64 `json:"scale,omitempty" doc:"The n of 1:n."`
	Says  string  `json:"says,omitempty" doc:"The scale in words."`
	Scene Scene   `json:"scene"`
}

// Handles are what can be dragged or typed on the elevation.
type Handles struct {
	AsOf    AsOf     `json:"as_of"`
	Handles []Handle `json:"handles"`
}

// Handle is a declared length that stands at a place of the elevation.
type Handle struct {
	ID      string    `json:"id"`
	Name    string    `json:"name" doc:"For undo, and said aloud: wall of tail."`
	Kind    string    `json:"kind" enum:"station,wall,size,count,choice"`
	Part    string    `json:"part,omitempty"`
	Station float64   `json:"station_mm" doc:"Where it stands."`
	Value   float64   `json:"value_mm" doc:"At full size."`
	Says    string    `json:"says" doc:"At full size, in the asked units."`
	Text    string    `json:"text" doc:"As declared."`
	Owner   string    `json:"owner" enum:"reference,shop"`
	At      Place     `json:"at" doc:"The value that an edit puts."`
	Snaps   []float64 `json:"snaps_mm" doc:"Full-size values that it catches at: ends of parts, steps of the outline."`
	Least   float64   `json:"least_mm" doc:"Full size; smaller makes no sense."`
	Most    float64   `json:"most_mm"`

	Lanes   []string `json:"lanes" doc:"Ids of the lanes it is edited on."`
	Marks   []string `json:"marks" doc:"Ids of marks that show it when they are selected; one that ends in - stands for all that begin so."`
	Options []string `json:"options,omitempty" doc:"Of a choice: texts that can be put."`
	With    []Change `json:"with,omitempty" doc:"Changes that belong to the same edit."`

	Provisional bool   `json:"provisional,omitempty" doc:"A cut that is only computed: it is moved and kept by /cuts."`
	Joint       string `json:"joint,omitempty" doc:"Kind of joint at a provisional cut."`
}

// Place is a value of build.yaml or shop.yaml.
type Place struct {
	File string `json:"file" enum:"build.yaml,shop.yaml"`
	Path string `json:"path" maxLength:"400" doc:"Keys, with full stops between: parts.tail.wall; items of lists by number."`
}

// Declaration is what build.yaml and shop.yaml say.
type Declaration struct {
	AsOf   AsOf       `json:"as_of"`
	Values []Declared `json:"values" doc:"In the order of the files."`
}

// Declared is a value as it is written.
type Declared struct {
	At    Place  `json:"at"`
	Text  string `json:"text"`
	Line  int    `json:"line"`
	Owner string `json:"owner,omitempty" enum:"reference,shop" doc:"Of lengths."`
	Full  string `json:"full,omitempty" doc:"A length at full size, in the asked units."`
}
