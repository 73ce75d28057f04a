package build

// The types of this file are an outline and the marks of a photograph as
// written.

type outlineFile struct {
	Schema int          `yaml:"schema" example:"1"`
	Doubt  float64      `yaml:"doubt_mm" example:"0.1" jsonschema:"minimum=0,maximum=1000"`
	Of     *ownerName   `yaml:"of,omitempty" example:"shop" jsonschema_description:"whose mm: of the reference, or full size; reference unless said"`
	Closed bool         `yaml:"closed,omitempty" jsonschema_description:"of a flat part: points are [x, y], the last joins the first"`
	Holes  [][]stepFile `yaml:"holes,omitempty" jsonschema_description:"of a closed outline"`
	Path   []stepFile   `yaml:"path" example:"[{to: [0, 8]}, {to: [20, 8]}]" jsonschema:"minItems=2"`
}

type stepFile struct {
	To     pointFile  `yaml:"to" example:"[14, 6.5]"`
	Centre *pointFile `yaml:"centre,omitempty" example:"[14, 0]"`
}

// pointFile is station and radius, mm of the reference.
type pointFile [2]float64

type marksFile struct {
	Schema int        `yaml:"schema,omitempty"`
	Pitch  float64    `yaml:"pitch_mm" example:"10" jsonschema:"exclusiveMinimum=0,maximum=1000"`
	Marks  []markFile `yaml:"marks" example:"[{px: [1201.5, 833.2], mm: [0, 10]}]"`
}

type markFile struct {
	Pixel [2]float64 `yaml:"px" example:"[1201.5, 833.2]" jsonschema:"minimum=-100000,maximum=100000"`
	Mat   [2]float64 `yaml:"mm" example:"[0, 10]" jsonschema:"minimum=-100000,maximum=100000"`
}
