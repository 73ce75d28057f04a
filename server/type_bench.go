package server

// LogEntry is what happened at the bench. One that is sent twice, the same to the
// last letter of its time, is logged once.
type LogEntry struct {
	Kind    string  `json:"kind" enum:"released,started,printed,failed,measured,done,spent,photo,note,withdrawn"`
	Time    string  `json:"time" format:"date-time" doc:"When it happened, by the maker's clock."`
	Piece   string  `json:"piece,omitempty" maxLength:"120" doc:"Id or label, of released, started, printed, failed, and where a note or photo is about one."`
	Task    string  `json:"task,omitempty" maxLength:"160" doc:"Of done."`
	Minutes int     `json:"minutes,omitempty" minimum:"0" maximum:"20160"`
	Grams   float64 `json:"grams,omitempty" minimum:"0" maximum:"50000"`
	Printer string  `json:"printer,omitempty" maxLength:"40" doc:"Of a reading of a test piece."`
	What    string  `json:"what,omitempty" enum:"outer,bore,core" doc:"Of measured."`
	Asked   string  `json:"asked,omitempty" maxLength:"40" doc:"Of measured: the diameter asked for, as a length."`
	Came    string  `json:"came,omitempty" maxLength:"40" doc:"Of measured: the diameter that came."`
	Money   float64 `json:"money,omitempty" minimum:"-1000000" maximum:"1000000" doc:"Of spent."`
	Text    string  `json:"text,omitempty" maxLength:"2000" doc:"A note; of photo the file's name."`
	Of      int     `json:"of,omitempty" minimum:"0" doc:"Of withdrawn: the number of the event taken back."`
}

// Logged says how an event was logged.
type Logged struct {
	Number int    `json:"number"`
	Label  string `json:"label,omitempty" doc:"Of a released piece."`
	Again  bool   `json:"again,omitempty" doc:"It was logged before."`
	AsOf   AsOf   `json:"as_of"`
}

// LogList is the log.
type LogList struct {
	Events []LogLine `json:"events" doc:"The latest first."`
}

// LogLine is a line of the log.
type LogLine struct {
	Number    int    `json:"number"`
	Kind      string `json:"kind"`
	Time      string `json:"time"`
	Says      string `json:"says"`
	Piece     string `json:"piece,omitempty"`
	Label     string `json:"label,omitempty"`
	Task      string `json:"task,omitempty"`
	Withdrawn bool   `json:"withdrawn,omitempty"`
	May       bool   `json:"may_withdraw,omitempty"`
}

// Today is a day's bench list.
type Today struct {
	AsOf  AsOf   `json:"as_of"`
	Asked string `json:"asked" format:"date"`
	Date  string `json:"date,omitempty" doc:"The day that the list is of: the next with acts, where the asked one has none. Empty: nothing is planned any more."`
	Acts  []Act  `json:"acts"`
	Care  string `json:"care,omitempty"`
	Sure  string `json:"sure,omitempty" doc:"Likely the 19th, safe the 23rd."`
	Print *Act   `json:"print_now,omitempty" doc:"Of Acts, the next print to start; absent: none."`
}

// Act is what somebody does at one go.
type Act struct {
	ID       string `json:"id" doc:"Of the task and step."`
	Task     string `json:"task"`
	Kind     string `json:"kind"`
	Step     string `json:"step"`
	Says     string `json:"says"`
	Detail   string `json:"detail" doc:"One line of particulars."`
	From     string `json:"from" format:"date-time"`
	Minutes  int    `json:"minutes"`
	Who      string `json:"who"`
	Piece    string `json:"piece,omitempty"`
	Label    string `json:"label,omitempty"`
	Printer  string `json:"printer,omitempty"`
	LogKind  string `json:"log_kind,omitempty" enum:"started,printed,done" doc:"What checking its box logs; empty: release the piece first."`
	LogTask  string `json:"log_task,omitempty"`
	Planned  int    `json:"planned_min" doc:"Minutes to confirm or correct."`
	Grams    int    `json:"planned_g,omitempty"`
	Critical bool   `json:"critical" doc:"The end hangs on it in most of the sampled plans."`
}

// Plan is the calendar.
type Plan struct {
	AsOf     AsOf       `json:"as_of"`
	Start    string     `json:"start" format:"date"`
	Finish   string     `json:"finish,omitempty"`
	Likely   string     `json:"likely,omitempty"`
	Safe     string     `json:"safe,omitempty"`
	Ready    string     `json:"ready,omitempty" doc:"The fixed date."`
	Says     string     `json:"says"`
	Tasks    []PlanTask `json:"tasks"`
	Printers []Row      `json:"printers"`
	People   []Row      `json:"people"`
}

// Row is somebody or something that works.
type Row struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// PlanTask is one piece of work. Times count from the start date, 00:00.
type PlanTask struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"`
	Name    string     `json:"name"`
	Piece   string     `json:"piece,omitempty"`
	Who     string     `json:"who,omitempty"`
	Printer string     `json:"printer,omitempty"`
	From    int        `json:"from_min"`
	To      int        `json:"to_min"`
	Bench   int        `json:"bench_min"`
	Hangs   float64    `json:"critical" doc:"Share of the sampled plans whose end hangs on it."`
	Steps   []PlanStep `json:"steps"`
}

// PlanStep is one stretch of a task.
type PlanStep struct {
	Name     string `json:"name"`
	From     int    `json:"from_min"`
	To       int    `json:"to_min"`
	ByItself bool   `json:"by_itself" doc:"Takes nobody's hands."`
}

// PieceList are all prints.
type PieceList struct {
	AsOf   AsOf        `json:"as_of"`
	Pieces []PieceLine `json:"pieces"`
}

// PieceLine is a piece in a list.
type PieceLine struct {
	ID       string  `json:"id"`
	Label    string  `json:"label,omitempty"`
	Name     string  `json:"name"`
	Part     string  `json:"part"`
	State    string  `json:"state" enum:"planned,released,printing,printed,failed"`
	Printer  string  `json:"printer"`
	Minutes  int     `json:"minutes"`
	Mass     float64 `json:"mass_g"`
	Span     Stretch `json:"span"`
	File     string  `json:"file" doc:"Of its print file, for /file."`
	Findings int     `json:"findings" doc:"Blockers and cautions of its part."`
}

// PiecePage is the bench page of a piece.
type PiecePage struct {
	AsOf AsOf `json:"as_of"`
	PieceLine
	Filament string    `json:"filament"`
	Stands   string    `json:"stands_on"`
	Joins    []Join    `json:"joins" doc:"What it joins, and what to measure."`
	Steps    []string  `json:"steps" doc:"What to do with it, in order."`
	Care     string    `json:"care"`
	Next     []Act     `json:"next" doc:"What comes next by hand."`
	May      []string  `json:"may" doc:"Kinds of event that can be logged now."`
	Release  string    `json:"release,omitempty" doc:"What stands in the way of a release; empty: nothing."`
	Kept     []string  `json:"kept" doc:"Files of it in made/, for /file."`
	Events   []LogLine `json:"events"`
	Worst    []Finding `json:"findings"`
}

// Join is one thing that a piece meets.
type Join struct {
	Where string `json:"where"`
	Meets string `json:"meets"`
	Held  string `json:"held_by"`
	Deep  string `json:"deep,omitempty"`
	Print string `json:"print,omitempty" doc:"Diameter to print, mm."`
	Comes string `json:"comes_out,omitempty" doc:"Diameter expected, mm."`
}
