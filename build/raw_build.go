package build

// The types of this file are build.yaml as written: keys, bounds and examples
// stand in their tags, once, for the reader and for the JSON Schema.

type buildFile struct {
	Schema     int                      `yaml:"schema" example:"1" jsonschema_description:"number of the format; 1"`
	Revision   int                      `yaml:"revision" example:"1" jsonschema:"minimum=1" jsonschema_description:"raised by one with each edit; never lower it"`
	Name       string                   `yaml:"name" example:"Foyer rocket" jsonschema_description:"what people call the build"`
	Invented   string                   `yaml:"invented,omitempty" jsonschema_description:"says what is made up, in an example"`
	Reference  referenceFile            `yaml:"reference" jsonschema_description:"the small object that is copied"`
	Enlarge    enlargeFile              `yaml:"enlarge" jsonschema_description:"how large: a ratio or a length"`
	Core       *coreFile                `yaml:"core,omitempty" jsonschema_description:"stock pipe inside"`
	Parts      map[string]partFile      `yaml:"parts" jsonschema:"minItems=1" jsonschema_description:"designed things along the axis, by id"`
	Joints     map[string]jointFile     `yaml:"joints,omitempty" jsonschema_description:"how parts are joined, by id; what is not said here the program chooses"`
	Cuts       map[string]cutFile       `yaml:"cuts,omitempty" reserved:"foot,nose,collar,ring" jsonschema_description:"accepted cuts, by id"`
	Openings   map[string]openingFile   `yaml:"openings,omitempty" jsonschema_description:"holes through a part's wall, by id"`
	Finish     *finishFile              `yaml:"finish,omitempty" jsonschema_description:"how the outside is to look"`
	Stands     *siteFile                `yaml:"stands,omitempty" jsonschema_description:"where it lives"`
	Stand      *standFile               `yaml:"stand,omitempty" jsonschema_description:"what carries it to the floor"`
	Components map[string]componentFile `yaml:"components,omitempty" jsonschema_description:"lights and sound, by id"`
	Shows      map[string]showFile      `yaml:"shows,omitempty" jsonschema_description:"what lights and sound do, by id"`
	Calendar   calendarFile             `yaml:"calendar" example:"{start: 2026-11-30}" jsonschema_description:"when work begins and when it must be ready"`
	Quiet      []quietFile              `yaml:"quiet,omitempty" jsonschema_description:"cautions silenced, each with its reason"`
}

type referenceFile struct {
	Photo   fileName      `yaml:"photo,omitempty" example:"photos/rocket.jpg" jsonschema_description:"photograph on the mat"`
	More    []fileName    `yaml:"more_photos,omitempty" example:"[photos/rocket-tilted.jpg]" jsonschema_description:"further photographs of the mat by the same camera, best tilted, that tell its lens"`
	Marks   fileName      `yaml:"marks,omitempty" example:"photos/rocket-marks.yaml" jsonschema_description:"crossings of the mat picked by hand, where its grid is not found"`
	Grid    shopDimension `yaml:"grid,omitempty" example:"10 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"step of the mat's printed grid, where the photograph does not show it"`
	Known   *knownFile    `yaml:"known_length,omitempty" jsonschema_description:"one length in the photograph that sets its scale, where no mat lies in it"`
	Outline fileName      `yaml:"outline,omitempty" example:"outlines/rocket.yaml" jsonschema_description:"outline typed or accepted, instead of a photograph"`
	Datum   *datumEnd     `yaml:"datum,omitempty" example:"left" jsonschema_description:"which end of the photograph is station 0; left unless said"`
	Length  refDimension  `yaml:"length,omitempty" example:"218.5 ± 0.2 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"overall, by caliper; weighed with the photograph"`
	Around  [][2]float64  `yaml:"around,omitempty" jsonschema:"minItems=3" jsonschema_description:"rough polygon round the object, mm on the mat"`
	Hidden  []hiddenFile  `yaml:"hidden,omitempty" jsonschema_description:"stretches that the photograph does not show"`
	Rests   []restFile    `yaml:"rests,omitempty" jsonschema_description:"what stands out of the body and touches the mat"`
	Brushes []brushFile   `yaml:"brushes,omitempty" jsonschema_description:"what is object and what is mat, painted on the photograph; a later stroke has its way"`
	Moved   []movedFile   `yaml:"corrections,omitempty" jsonschema_description:"corners and arcs of the outline moved by hand on the photograph"`

	Trued    *truedFile    `yaml:"trued,omitempty" jsonschema_description:"what is to be true of the outline; as measured unless said"`
	Readings []readingFile `yaml:"readings,omitempty" jsonschema_description:"what a caliper says besides: diameters, lengths between faces; weighed with the photograph"`

	Features map[string]featureFile `yaml:"features,omitempty" jsonschema_description:"what was marked on the body's side in the photograph, by id"`
}

type knownFile struct {
	Length dimension  `yaml:"length" example:"150 ± 0.1 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"true distance of the two places"`
	From   [2]float64 `yaml:"from" example:"[812, 1404]" jsonschema:"minimum=-100000,maximum=100000" jsonschema_description:"one place, pixels of the upright photograph, right and down"`
	To     [2]float64 `yaml:"to" example:"[1190, 1400]" jsonschema:"minimum=-100000,maximum=100000" jsonschema_description:"the other"`
	Above  dimension  `yaml:"above,omitempty" example:"1 mm" jsonschema:"minimum=0" jsonschema_description:"how high over the table both lie; on it, unless said"`
	On     *levelName `yaml:"on,omitempty" example:"axis" jsonschema_description:"axis where both lie at the height of the body's axis"`
}

type movedFile struct {
	What  cornerName `yaml:"what" example:"corner" jsonschema_description:"a corner, or an arc by its middle"`
	From  pointFile  `yaml:"from" example:"[138, 21]" jsonschema_description:"station and radius where it was found, mm of the reference; it is known again by them"`
	To    pointFile  `yaml:"to" example:"[137.4, 21]" jsonschema_description:"where it is"`
	Doubt float64    `yaml:"doubt_mm" example:"0.2" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"standard uncertainty of the hand, mm of the reference"`
}

type featureFile struct {
	Is   featureName `yaml:"is" example:"circle"`
	From [2]float64  `yaml:"from" example:"[131.5, 62]" jsonschema:"minimum=-100000,maximum=100000" jsonschema_description:"mm on the mat: one end of a diameter, a corner, or an end of the line"`
	To   [2]float64  `yaml:"to" example:"[139.5, 62.4]" jsonschema:"minimum=-100000,maximum=100000" jsonschema_description:"mm on the mat: the other"`
}

type brushFile struct {
	Is   paintName    `yaml:"is" example:"mat" jsonschema_description:"what lies under the stroke"`
	Wide float64      `yaml:"wide_mm" example:"4" jsonschema:"exclusiveMinimum=0,maximum=200" jsonschema_description:"across the stroke, mm on the mat"`
	Path [][2]float64 `yaml:"path" example:"[[102.5, 48], [110, 51.5]]" jsonschema:"minItems=1" jsonschema_description:"mm on the mat"`
}

type hiddenFile struct {
	From    refDimension `yaml:"from" example:"5 ref" jsonschema:"minimum=0"`
	To      refDimension `yaml:"to" example:"65 ref" jsonschema:"minimum=0"`
	Because string       `yaml:"because" example:"fins" jsonschema_description:"what hides it"`
	Outline fileName     `yaml:"outline" example:"outlines/tail.yaml" jsonschema_description:"outline of the stretch, measured by hand"`
}

type restFile struct {
	At    refDimension `yaml:"at" example:"40 ref" jsonschema:"minimum=0" jsonschema_description:"station of the touching place"`
	Below refDimension `yaml:"below" example:"28.3 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"how far below the axis it lies, as photographed"`
}

type enlargeFile struct {
	Ratio  *float64       `yaml:"ratio,omitempty" example:"6" jsonschema:"exclusiveMinimum=0,maximum=1000" jsonschema_description:"full size over reference"`
	Length *shopDimension `yaml:"length,omitempty" example:"1311 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"overall at full size"`
}

type coreFile struct {
	Stock stockName `yaml:"stock" example:"drain-110"`
	From  dimension `yaml:"from" example:"15 ref"`
	To    dimension `yaml:"to" example:"181 ref"`
	Hold  *holdName `yaml:"hold,omitempty" example:"spaced" jsonschema_description:"bored: solid down to the pipe; spaced: hollow, on core rings; bored unless said"`
}

type partFile struct {
	Form     *formName     `yaml:"form,omitempty" example:"flat" jsonschema_description:"turned round an axis, flat, imported from a mesh file; turned unless said"`
	From     dimension     `yaml:"from,omitempty" example:"14 ref" jsonschema_description:"station; of a turned part, and of a flat one that lies across"`
	To       dimension     `yaml:"to,omitempty" example:"30 ref" jsonschema_description:"station, of a turned part"`
	Wall     shopDimension `yaml:"wall,omitempty" example:"2.4 mm" jsonschema:"exclusiveMinimum=0,maximum=200" jsonschema_description:"of what is hollow; an imported part without it is solid"`
	Outline  fileName      `yaml:"outline,omitempty" example:"outlines/fin.yaml" jsonschema_description:"of its own: of a flat part closed; of a turned one round its own axis"`
	Bore     dimension     `yaml:"bore,omitempty" example:"63.4 mm" jsonschema:"exclusiveMinimum=0,maximum=2000" jsonschema_description:"diameter bored along its own axis"`
	Thick    dimension     `yaml:"thick,omitempty" example:"2.4 ref" jsonschema:"exclusiveMinimum=0,maximum=500" jsonschema_description:"of a flat part"`
	Lies     *lieName      `yaml:"lies,omitempty" example:"along" jsonschema_description:"of a flat part: along the axis like a fin, or across it; along unless said"`
	Model    fileName      `yaml:"model,omitempty" example:"models/head.stl" jsonschema_description:"of an imported part: STL, 3MF or OBJ, its z along the axis"`
	ModelOf  *ownerName    `yaml:"model_of,omitempty" example:"reference" jsonschema_description:"whose mm the model is in: it grows with the enlargement, or is full size; reference unless said"`
	Clocking []float64     `yaml:"clockings_deg,omitempty" example:"[45, 135, 225, 315]" jsonschema:"minimum=-360,maximum=360" jsonschema_description:"a copy of the part at each, named id-1, id-2 and so on"`
	Bare     bool          `yaml:"unfinished,omitempty" jsonschema_description:"stays as printed: it is inside, or lets light through"`
	Open     []endName     `yaml:"open,omitempty" example:"[foot]" jsonschema_description:"ends without a wall across"`
	Axis     *axisFile     `yaml:"axis,omitempty" jsonschema_description:"the part's own axis; the build's unless said"`
	Printers []string      `yaml:"printers,omitempty" example:"[heron]" jsonschema_description:"printers it may be printed on; any unless said"`
	Filament string        `yaml:"filament,omitempty" example:"white" jsonschema_description:"of the shop; the first of the list unless said"`
	Settled  bool          `yaml:"settled,omitempty" jsonschema_description:"the part stays as it is; its pieces can be released"`
}

type axisFile struct {
	At       [3]dimension `yaml:"at" example:"[0 ref, 0 ref, 0 ref]" jsonschema_description:"where its station 0 stands, x y z of the build"`
	Towards  [3]float64   `yaml:"towards" example:"[0, 0, 1]" jsonschema_description:"which way it points"`
	Clocking float64      `yaml:"clocking_deg,omitempty" example:"90" jsonschema:"minimum=-360,maximum=360" jsonschema_description:"turned about itself"`
}

type jointFile struct {
	Between   [2]string `yaml:"between" example:"[tail, body]" jsonschema_description:"two parts"`
	Kind      jointName `yaml:"kind,omitempty" example:"spigot"`
	Glue      string    `yaml:"glue,omitempty" example:"epoxy"`
	Removable bool      `yaml:"removable,omitempty" jsonschema_description:"comes apart again"`
}

type cutFile struct {
	Part string    `yaml:"part" example:"body"`
	At   dimension `yaml:"at" example:"84 ref" jsonschema_description:"station"`
	Kind jointName `yaml:"kind,omitempty" example:"spigot"`
}

type calendarFile struct {
	Start date  `yaml:"start" example:"2026-11-30" jsonschema_description:"first day of work"`
	Ready *date `yaml:"ready,omitempty" example:"2027-01-15" jsonschema_description:"day it must be ready"`
}

type quietFile struct {
	Code    findingCode `yaml:"code" example:"typed-outline"`
	Because string      `yaml:"because" example:"seen and accepted"`
}
