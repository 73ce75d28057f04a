package server

// Corner is a corner or an arc of the outline that can be moved on the photograph.
type Corner struct {
	Corner int           `json:"corner" doc:"Its number, for corner of the orders."`
	Arc    bool          `json:"arc" doc:"The middle of an arc; else a corner."`
	At     [2]float64    `json:"at_mm" doc:"Station and radius, mm of the reference."`
	Px     [2][2]float64 `json:"px" doc:"As both sides show it."`
	Says   string        `json:"says" doc:"corner at station 150.0, radius 17.0"`
	Moved  bool          `json:"moved" doc:"By hand."`
	Undo   []Change      `json:"undo" doc:"Leaves it as it was measured; empty where it is."`
}

// MoveCorner asks where a corner would come to lie: by a pixel, or by a place.
type MoveCorner struct {
	Corner int         `json:"corner" minimum:"0" maximum:"5000"`
	Arc    bool        `json:"arc,omitempty"`
	Side   int         `json:"side,omitempty" minimum:"0" maximum:"1" doc:"That the pixel is of."`
	Px     *[2]float64 `json:"px,omitempty"`
	At     *[2]float64 `json:"at_mm,omitempty" doc:"Station and radius, where there is no pixel."`
	Catch  float64     `json:"catch_px,omitempty" minimum:"0" maximum:"200" doc:"From how near it is caught; 0: not at all."`
}

// MovedCorner is where it would come to lie, and the edit that puts it there.
type MovedCorner struct {
	At      [2]float64     `json:"at_mm"`
	Px      [2][2]float64  `json:"px"`
	Ghost   [][][2]float64 `json:"ghost" doc:"The outline beside it, each side, px."`
	Caught  string         `json:"caught,omitempty" doc:"By what: the square shoulder, the radius of a neighbour, the edge as it was found."`
	Says    string         `json:"says"`
	Trouble string         `json:"trouble,omitempty" doc:"Why it cannot lie there. Then there are no changes."`
	Changes []Change       `json:"changes"`
}

// Stroke is painted on the photograph.
type Stroke struct {
	Is   string       `json:"is" enum:"object,mat"`
	Wide float64      `json:"wide_mm"`
	Px   [][2]float64 `json:"px" doc:"Its middle line."`
	Drop []Change     `json:"drop" doc:"Takes it away."`
}

// Paint asks for a stroke as an edit.
type Paint struct {
	Is   string       `json:"is" enum:"object,mat"`
	Wide float64      `json:"wide_mm" exclusiveMinimum:"0" maximum:"200"`
	Px   [][2]float64 `json:"px" minItems:"1" maxItems:"2000"`
}

// Painted is the edit.
type Painted struct {
	Says    string   `json:"says"`
	Changes []Change `json:"changes"`
}

// Feature is a mark on the body's side, as it lies.
type Feature struct {
	ID    string       `json:"id"`
	Is    string       `json:"is" enum:"circle,rectangle,line"`
	Says  string       `json:"says" doc:"Its place and size, each with its doubt 95 times in 100, mm of the reference."`
	Ring  [][2]float64 `json:"ring" doc:"As the photograph shows it on the body, px; of one off the body its two places."`
	Lost  bool         `json:"off_body"`
	Takes []Cure       `json:"takes" doc:"Edits that take its place for an opening of the build."`
	Drop  []Change     `json:"drop" doc:"Takes it away; empty where it is not kept yet."`
}

// MarkFeature asks what two places of the photograph come to.
type MarkFeature struct {
	Is   string     `json:"is" enum:"circle,rectangle,line"`
	From [2]float64 `json:"from_px"`
	To   [2]float64 `json:"to_px"`
}

// MarkedFeature is the answer.
type MarkedFeature struct {
	Feature Feature  `json:"feature"`
	Changes []Change `json:"changes" doc:"Keeps it; empty where it does not lie on the body."`
}
