package server

// Scene is a drawing as the page takes it: lengths in mm of paper, x to the right
// and y down, the first item lowest. Colours are names of the design's inks (ink,
// pencil, tintA ...) that the page gives its values by day and night, or "#rrggbb"
// where the colour itself is the subject.
type Scene struct {
	Width  float64     `json:"width_mm"`
	Height float64     `json:"height_mm"`
	Title  string      `json:"title" doc:"Said aloud."`
	Desc   string      `json:"desc" doc:"Said aloud after the title."`
	Items  []SceneItem `json:"items"`
}

// SceneItem is one thing on a Scene. Which fields count depends on its kind.
type SceneItem struct {
	Kind  string            `json:"kind" enum:"group,path,text,image,link"`
	ID    string            `json:"id,omitempty" doc:"Single in its scene; the page puts the lane's id before it."`
	Class string            `json:"class,omitempty"`
	Title string            `json:"title,omitempty" doc:"Of a group: said aloud. A group with a title is a mark that can be pressed."`
	Data  map[string]string `json:"data,omitempty" doc:"Of a group: anchors. from and to are stations in mm at full size."`
	Clip  *Box              `json:"clip,omitempty" doc:"Of a group: what shows."`
	Items []SceneItem       `json:"items,omitempty" doc:"Of a group."`

	D       string    `json:"d,omitempty" doc:"Of a path: as in SVG."`
	Fill    string    `json:"fill,omitempty"`
	EvenOdd bool      `json:"even_odd,omitempty"`
	Stroke  string    `json:"stroke,omitempty"`
	Width   float64   `json:"width_mm,omitempty" doc:"Of the line."`
	Dash    []float64 `json:"dash_mm,omitempty"`
	Opacity float64   `json:"opacity,omitempty"`

	X      float64   `json:"x_mm,omitempty" doc:"Of a text: where its baseline is anchored. Of an image or link: its left side."`
	Y      float64   `json:"y_mm,omitempty"`
	Size   float64   `json:"size_mm,omitempty" doc:"Of a text: the body size."`
	Anchor string    `json:"anchor,omitempty" enum:"start,middle,end"`
	Rotate float64   `json:"rotate_deg,omitempty" doc:"Clockwise about (x, y); then the baseline lies drop_mm below."`
	Drop   float64   `json:"drop_mm,omitempty"`
	Halo   float64   `json:"halo_mm,omitempty" doc:"Width of a stroke in the sheet's colour under the letters."`
	Runs   []TextRun `json:"runs,omitempty"`

	W    float64 `json:"w_mm,omitempty"`
	H    float64 `json:"h_mm,omitempty"`
	Href string  `json:"href,omitempty" doc:"Of an image: a data URL. Of a link: where it leads."`
}

// TextRun is a stretch of letters in one face and colour.
type TextRun struct {
	Text   string `json:"text"`
	Colour string `json:"colour"`
	Bold   bool   `json:"bold,omitempty"`
	Italic bool   `json:"italic,omitempty"`
}

// Box is an upright box, mm of paper.
type Box struct {
	X float64 `json:"x_mm"`
	Y float64 `json:"y_mm"`
	W float64 `json:"w_mm"`
	H float64 `json:"h_mm"`
}
