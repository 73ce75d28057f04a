package server

// AsOf says which text of the build an answer rests on.
type AsOf struct {
	Version  string `json:"version" doc:"Of build.yaml and shop.yaml as they stand; edits name it as their base."`
	Revision int    `json:"revision"`
	State    int    `json:"state" doc:"Rises with every change that this server has seen, of the log too. A later state is never older."`
	Stale    bool   `json:"stale" doc:"What is shown is from before the last change; a new result is being worked out, or cannot be."`
	Since    string `json:"since,omitempty" doc:"The change that it is from before of: wall of tail."`
	Partial  bool   `json:"partial" doc:"The stages are not through yet; what this answer needs is there."`
}

// Shelf is what can be worked on.
type Shelf struct {
	Folder string   `json:"folder" doc:"Where new builds are started."`
	Recent []OnFile `json:"recent" doc:"The latest first."`
	Demo   bool     `json:"demo" doc:"A copy of the demo can be had."`
}

// OnFile is a build that was opened before.
type OnFile struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Folder string `json:"folder"`
	Opened string `json:"opened" format:"date-time"`
	Gone   bool   `json:"gone" doc:"Its folder is not there now."`
}

// Opening asks for a build.
type Opening struct {
	Kind   string `json:"kind" enum:"new,demo,open"`
	Name   string `json:"name,omitempty" maxLength:"80" doc:"Of a new build."`
	Folder string `json:"folder,omitempty" maxLength:"120" doc:"Its folder inside Shelf.folder: one name. Of a new build or the demo it may be left out."`
}

// Opened is a build that can be asked about.
type Opened struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Board is what the window shows round every sheet.
type Board struct {
	AsOf       AsOf        `json:"as_of"`
	ID         string      `json:"id"`
	Name       string      `json:"name"`
	Invented   string      `json:"invented,omitempty"`
	Folder     string      `json:"folder"`
	Currency   string      `json:"currency"`
	Run        Run         `json:"run"`
	Unreadable []Finding   `json:"unreadable" doc:"Mistakes of form in the files; while there are any, all else is from before."`
	Trouble    *Trouble    `json:"trouble,omitempty" doc:"Why the last work ended without an answer; absent: it has one."`
	Empty      bool        `json:"empty" doc:"Nothing was derived yet, so there is nothing to show."`
	Blocked    bool        `json:"blocked"`
	Sheets     []SheetTab  `json:"sheets"`
	Title      []TitleCell `json:"title" doc:"Cells of the title block, from the left."`
	Undo       []string    `json:"undo" doc:"Names of edits, the next to take back first."`
	Redo       []string    `json:"redo"`
	Span       Stretch     `json:"span" doc:"Of the whole build."`
	Ratio      float64     `json:"ratio" doc:"Full size over reference; 0: not known."`
	Lanes      []LaneHead  `json:"lanes"`
	Worst      string      `json:"worst_lane,omitempty" doc:"Lane of the worst finding: it is open from the start."`
}

// Run is the work that goes on.
type Run struct {
	Running bool   `json:"running"`
	Stage   string `json:"stage,omitempty"`
	Done    int    `json:"done,omitempty"`
	Total   int    `json:"total,omitempty"`
}

// Trouble is what a disk, a network or we did wrong.
type Trouble struct {
	What string `json:"what"`
	Do   string `json:"do"`
}

// SheetTab is an entry of the register.
type SheetTab struct {
	Number  int    `json:"number"`
	ID      string `json:"id" enum:"verdict,reference,size,sheet,lights,calendar,book,shop"`
	Name    string `json:"name"`
	Reading string `json:"reading"`
	Alarm   bool   `json:"alarm,omitempty" doc:"The reading is of a limit broken."`
}

// TitleCell is a cell of the title block.
type TitleCell struct {
	ID    string `json:"id" enum:"build,reference,enlargement,overall,across,prints,mass,finish,findings,lengths,paper,rev"`
	Head  string `json:"head"`
	Value string `json:"value"`
	Owner string `json:"owner,omitempty" enum:"reference,shop"`
}

// Stretch is between two stations, mm at full size.
type Stretch struct {
	From float64 `json:"from_mm"`
	To   float64 `json:"to_mm"`
}

// LaneHead is a lane folded to its words.
type LaneHead struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	What   string `json:"what" doc:"What is measured, in which unit."`
	Says   string `json:"says"`
	Remark string `json:"remark"`
	Alarm  bool   `json:"alarm" doc:"The remark is of a limit broken."`
}

// Words is a stretch of a sentence.
type Words struct {
	Text   string `json:"text"`
	Strong bool   `json:"strong,omitempty"`
}

// VerdictSheet is the answer before all others.
type VerdictSheet struct {
	AsOf    AsOf      `json:"as_of"`
	Heading string    `json:"heading"`
	Says    []Words   `json:"says" doc:"One paragraph."`
	Worst   []Finding `json:"worst"`
	More    int       `json:"more" doc:"Findings that are not named here."`
	Tonight *Tonight  `json:"tonight,omitempty" doc:"The piece to print now; absent: none is sure to stay right."`
	Because string    `json:"because" doc:"Why that one, or why none."`
	Try     string    `json:"try,omitempty" doc:"The test slice to try first."`
	Totals  Totals    `json:"totals"`
}

// Tonight is the piece to print now.
type Tonight struct {
	Piece string `json:"piece"`
	Says  string `json:"says"`
}

// Totals are what a build takes.
type Totals struct {
	Overall    float64 `json:"overall_mm"`
	Across     float64 `json:"across_mm"`
	Prints     int     `json:"prints"`
	Spools     int     `json:"spools"`
	Mass       float64 `json:"mass_g"`
	Money      float64 `json:"money"`
	PrintHours float64 `json:"print_hours"`
	BenchHours float64 `json:"bench_hours"`
	Likely     string  `json:"likely,omitempty"`
	Safe       string  `json:"safe,omitempty"`
	Together   float64 `json:"goes_together"`
	Blockers   int     `json:"blockers"`
	Cautions   int     `json:"cautions"`
	Notes      int     `json:"notes"`
}
