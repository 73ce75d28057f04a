package book

import (
	"scalewright/job"
	"scalewright/model"
)

// reportFormat is raised whenever a key changes its meaning or goes.
const reportFormat = 1

// report is report.json. Keys end in their unit: mm, mm2, mm3, g, h, min.
// Lengths are at full size but under trace, where they are of the reference.
// A {value, u} is an estimate and its standard uncertainty.
type report struct {
	Format      int             `json:"format"`
	Build       buildJSON       `json:"build"`
	Blocked     bool            `json:"blocked"`
	Verdict     verdictJSON     `json:"verdict"`
	Enlargement enlargementJSON `json:"enlargement"`
	Photograph  *photoJSON      `json:"photograph"` // null where the outline is typed
	Trace       traceJSON       `json:"trace"`
	Readings    ReadingsJSON    `json:"readings"` // by caliper, beside all else
	Trued       truedJSON       `json:"trued"`
	Core        *coreJSON       `json:"core"`
	Parts       []partJSON      `json:"parts"`
	Pieces      []pieceJSON     `json:"pieces"`
	Seams       []seamJSON      `json:"seams"`
	Seats       []seatJSON      `json:"seats"`
	Fits        []fitJSON       `json:"fits"`
	Cuts        []cutJSON       `json:"cuts"`
	Holds       []holdJSON      `json:"holds"`  // pins, screws and magnets of mounts
	Bought      []boughtJSON    `json:"bought"` // those, and panels' screws
	Assembly    assemblyJSON    `json:"assembly"`
	Calendar    calendarJSON    `json:"calendar"`
	Places      placesJSON      `json:"places"`
	Effects     effectsJSON     `json:"effects"`
	Finishing   finishingJSON   `json:"finishing"`
	Templates   []templateJSON  `json:"templates"`
	Structure   structureJSON   `json:"structure"`
	TestSlice   *sliceJSON      `json:"test_slice"` // null where no joint has sizes
	Sizes       []sizeJSON      `json:"sizes"`      // weighed against one another; none once a piece is released
	Risks       []riskJSON      `json:"risks"`      // what may go wrong, worst first
	Findings    []Finding       `json:"findings"`
}

type buildJSON struct {
	Name     string `json:"name"`
	Revision int    `json:"revision"`
	Invented string `json:"invented,omitempty"`
	Date     string `json:"date"`
	Reruns   int    `json:"reruns"`
}

type verdictJSON struct {
	Overall      valueJSON      `json:"overall_mm"`
	Across       figure         `json:"across_mm"`
	Prints       int            `json:"prints"`
	ByPrinter    []shareJSON    `json:"by_printer"`
	Mass         figure         `json:"mass_g"`
	Spools       int            `json:"spools"`
	Money        figure         `json:"money"`
	MoneyFor     []job.Spending `json:"money_for"` // what money is the sum of
	Currency     string         `json:"currency"`
	PrintHours   figure         `json:"print_hours"`
	BenchHours   figure         `json:"bench_hours"`
	Finish       string         `json:"finish"` // as planned
	Likely       string         `json:"likely"` // half of the sampled plans are done by then
	Safe         string         `json:"safe"`   // nine in ten
	GoesTogether figure         `json:"goes_together"`
	LargestError errorJSON      `json:"largest_error"`
	Tonight      string         `json:"tonight,omitempty"`
}

type shareJSON struct {
	Printer string `json:"printer"`
	Prints  int    `json:"prints"`
	Hours   figure `json:"hours"`
}

type errorJSON struct {
	Station figure `json:"station_mm"`
	U       figure `json:"u_mm"`
}

type enlargementJSON struct {
	Ratio     figure    `json:"ratio"`
	Reference valueJSON `json:"reference_mm"`
	Length    valueJSON `json:"length_mm"`
}

type traceJSON struct {
	Length   valueJSON     `json:"length_mm"`
	Profile  []profileJSON `json:"profile"`
	Segments []segmentJSON `json:"segments"`
	Typed    []typedJSON   `json:"typed"`
}

type photoJSON struct {
	View   string     `json:"view"`
	Grid   gridJSON   `json:"grid"`
	Scale  scaleJSON  `json:"mat_scale"`
	Camera cameraJSON `json:"camera"`
	Axis   axisJSON   `json:"axis"`

	Features []featureJSON `json:"features,omitempty"` // marked on the body's side
}

type gridJSON struct {
	Pitch     figure `json:"pitch_mm"`
	Crossings int    `json:"crossings"`
	RMS       figure `json:"rms_px"`
}

// scaleJSON is true millimetres a printed one, and what told it.
type scaleJSON struct {
	By string `json:"by"`
	X  figure `json:"x"`
	Y  figure `json:"y"`
	UX figure `json:"u_x"`
	UY figure `json:"u_y"`
}

type cameraJSON struct {
	K1     figure `json:"k1"`
	K2     figure `json:"k2"`
	Height figure `json:"height_mm"`
	Tilt   figure `json:"tilt_deg"`
}

type axisJSON struct {
	Start figure `json:"height_start_mm"`
	End   figure `json:"height_end_mm"`
}

type profileJSON struct {
	Station figure `json:"station_mm"`
	Radius  figure `json:"radius_mm"`
	U       figure `json:"u_mm"`
}

type segmentJSON struct {
	Kind   model.SegmentKind `json:"kind"`
	From   [2]figure         `json:"from_mm"` // station, radius
	To     [2]figure         `json:"to_mm"`
	Centre *[2]figure        `json:"centre_mm,omitempty"`
	Radius figure            `json:"radius_mm,omitempty"`
}

type typedJSON struct {
	From    figure `json:"from_mm"`
	To      figure `json:"to_mm"`
	Because string `json:"because"`
}

type spanJSON struct {
	From figure `json:"from_mm"`
	To   figure `json:"to_mm"`
}

type coreJSON struct {
	Stock    string         `json:"stock"`
	Name     string         `json:"name"`
	Diameter figure         `json:"diameter_mm"`
	Wall     figure         `json:"wall_mm"`
	Span     spanJSON       `json:"span"`
	Hold     model.CoreHold `json:"hold"`
}

type partJSON struct {
	ID       string      `json:"id"`
	Span     spanJSON    `json:"span"`
	Wall     figure      `json:"wall_mm"`
	Filament string      `json:"filament"`
	State    model.State `json:"state"`
	formJSON
}

type pieceJSON struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Label     string          `json:"label,omitempty"`
	Kind      model.PieceKind `json:"kind"`
	Part      string          `json:"part"`
	Span      spanJSON        `json:"span"`
	Reach     spanJSON        `json:"reach"` // spigot included
	Diameter  figure          `json:"diameter_mm"`
	Wall      figure          `json:"wall_mm"`
	WallAt    [2]figure       `json:"wall_at_mm"` // station, radius
	Volume    figure          `json:"volume_mm3"`
	Printer   string          `json:"printer"`
	Filament  string          `json:"filament"`
	Direction model.Direction `json:"direction"`
	Box       [3]figure       `json:"box_mm"` // as it stands on the platform
	Hours     figure          `json:"hours"`
	Minutes   int             `json:"minutes"`
	Logged    bool            `json:"logged"`
	Mass      figure          `json:"mass_g"`
	Layers    int             `json:"layers"`
	Overhang  figure          `json:"overhang_mm2"`
	// ToBuild brings the piece's files to its place in the build: three rows of
	// a 3 by 4 matrix, to be applied to (x, y, z, 1) in mm.
	ToBuild  [3][4]figure  `json:"to_build"`
	STL      string        `json:"stl,omitempty"`
	ThreeMF  string        `json:"threemf,omitempty"`
	Rounding *roundingJSON `json:"rounding,omitempty"`
	ownJSON
}

type roundingJSON struct {
	Moved  figure `json:"moved_mm"`
	Clean  bool   `json:"clean"`
	Mended string `json:"mended,omitempty"`
}

type seamJSON struct {
	ID        string          `json:"id"`
	Station   figure          `json:"station_mm"`
	Kind      model.JointKind `json:"kind"`
	Below     string          `json:"below"`
	Above     string          `json:"above"`
	Engage    figure          `json:"engage_mm"`
	Glue      string          `json:"glue,omitempty"`
	Removable bool            `json:"removable"`
}

type seatJSON struct {
	Ring string   `json:"ring"`
	Host string   `json:"host"`
	Span spanJSON `json:"span"`
}

type fitJSON struct {
	Seam      string    `json:"seam"`
	Station   figure    `json:"station_mm"`
	Male      sideJSON  `json:"male"`
	Female    sideJSON  `json:"female"`
	Depth     figure    `json:"depth_mm"`
	Clearance valueJSON `json:"clearance_mm"`
	Step      valueJSON `json:"step_mm"`
	Bind      figure    `json:"bind"`  // chance
	Loose     figure    `json:"loose"` // chance
}

type sideJSON struct {
	Piece  string    `json:"piece"`
	Print  figure    `json:"print_mm"`
	Actual valueJSON `json:"actual_mm"`
}

type cutJSON struct {
	ID          string          `json:"id"`
	Part        string          `json:"part"`
	Station     figure          `json:"station_mm"`
	Kind        model.JointKind `json:"kind,omitempty"`
	Provisional bool            `json:"provisional"`
}

type calendarJSON struct {
	Start string     `json:"start"`
	Until string     `json:"finish"`
	Half  string     `json:"likely"`
	Most  string     `json:"safe"`
	Bench int        `json:"bench_min"`
	Print int        `json:"print_min"`
	Tasks []taskJSON `json:"tasks"`
}

// Minutes of tasks and steps count from the start date, 00:00.
type taskJSON struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"`
	Name    string     `json:"name"`
	Piece   string     `json:"piece,omitempty"`
	Who     string     `json:"who,omitempty"`
	Printer string     `json:"printer,omitempty"`
	From    int        `json:"from_min"`
	To      int        `json:"to_min"`
	Bench   int        `json:"bench_min"`
	Hangs   figure     `json:"critical"` // share of the sampled plans whose end hangs on it
	Steps   []stepJSON `json:"steps"`
}

type stepJSON struct {
	Name string `json:"name"`
	From int    `json:"from_min"`
	To   int    `json:"to_min"`
}
