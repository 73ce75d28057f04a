package book

import (
	"fmt"
	"strings"

	"scalewright/craft/firmware"
	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
)

const pageLights = "lights"

// lights says what draws what, what each button does, and how it is wired.
func (b *sheets) lights() {
	e := b.r.Effects
	if e.Supply == "" {
		return
	}
	l := b.flowOn(pageLights, "Lights and sound")
	l.head("Lights and sound")
	l.text(drawing.SizeText, plain(b.powerWords()))
	l.text(drawing.SizeSmall, bold("Take care. "), plain("Only a certified mains adapter, at the wall; what is mains is for licensed practice and local codes. A lithium pack stays where it can be taken out, is never crushed, glued in or charged unwatched inside; stop using a swollen one. Solder with extraction, wash your hands. Try everything on the bench before anything is closed."))
	l.y += 2
	width := l.page.body.W
	l.table(showTable(b.r.Effects, width))
	l.y += 3
	b.played(l)
	l.table(drawTable(e, width))
	l.y += 3
	l.table(b.wireTable(width))
	l.text(drawing.SizeSmall, faint("Lengths hold 15 % and 100 mm of slack. Volts are lost there and back at the largest current, copper at "+fmt.Sprintf("%.0f", b.r.Effects.Celsius)+" °C; 0.15 V (3 %) is asked for. A gauge also bears what the fuse lets through. ≈: no way was laid, the length is a guess. Parts in a line: 330 to 470 Ω before the first pixel, 1 kΩ in each trigger, 1000 µF across the strip's input."))
}

// played draws what each show makes of the lamps.
func (b *sheets) played(l *flow) {
	for _, q := range lane.Sequences(b.r) {
		if len(q.Columns) == 0 || len(q.Columns[0]) == 0 {
			continue
		}
		figure := lane.Seconds(b.r, q, l.page.body.W)
		l.need(figure.Height)
		l.page.scene.Place(figure, drawing.Pt(l.page.body.X, l.y), "show-"+q.Show.ID+"-")
		l.y += figure.Height + 2
	}
}

func (b *sheets) powerWords() string {
	e := b.r.Effects
	var words strings.Builder
	fmt.Fprintf(&words, "%s gives %.1f A; with the program's limiter at most %.1f A are drawn, and no component gets less than %.2f V.", capital(e.Supply), e.Gives/1000, e.Most/1000, e.Least)
	if e.Fuse > 0 {
		fmt.Fprintf(&words, " A slow fuse of %v A goes into its red lead.", e.Fuse)
	}
	for _, r := range e.Road {
		if r.Component == e.Supply {
			fmt.Fprintf(&words, " It lasts %.1f h", r.Hours)
		} else {
			fmt.Fprintf(&words, " On %s, plugged in instead, it runs %.1f h", r.Component, r.Hours)
		}
		if site := b.r.Design.Site; site != nil && site.Hours > 0 {
			fmt.Fprintf(&words, " of the %v h a day asked for", site.Hours)
		}
		if r.KeepOnMA > 0 {
			fmt.Fprintf(&words, ", with a load that keeps it on (%.0f mA in the mean)", r.KeepOnMA)
		}
		words.WriteString(".")
	}
	if p := e.Program; len(p.Shows) > 0 {
		fmt.Fprintf(&words, " The program for the controller is in controller/: %d pixels, 50 frames a second; make builds it with avr-gcc.", p.Pixels)
	}
	return words.String()
}

func showTable(e model.Effects, width float64) drawing.Table {
	t := drawing.Table{ID: "shows", Columns: []drawing.Column{
		{Head: "show", Width: 23},
		{Head: "begins with", Width: 29},
		{Head: "light", Width: width - 122},
		{Head: "sound", Width: 14, Align: drawing.End},
		{Head: "lasts", Width: 22, Align: drawing.End},
		{Head: "mean A", Width: 17, Align: drawing.End},
		{Head: "most A", Width: 17, Align: drawing.End},
	}}
	for i, s := range e.Program.Shows {
		starts := "nothing else"
		if s.Button >= 0 {
			starts = e.Program.Buttons[s.Button]
		}
		sound, lasts := "–", "no end"
		if s.Sound > 0 {
			sound = fmt.Sprint(s.Sound)
		}
		if s.Lasts > 0 {
			lasts = fmt.Sprintf("%.1f s", float64(s.Lasts)/firmware.FramesPerSecond)
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			s.ID, starts, lightWords(s, e.Shows[i].Held), sound, lasts,
			fmt.Sprintf("%.2f", e.Shows[i].Mean/1000), fmt.Sprintf("%.2f", e.Shows[i].Most/1000),
		}})
	}
	return t
}

// lightWords say what a show's light does: at what level, how fast, in what
// colour.
func lightWords(s model.ProgramShow, held float64) string {
	words := fmt.Sprintf("%s, #%02x%02x%02x, %.0f\u00a0%%", s.Pattern, s.Colour[0], s.Colour[1], s.Colour[2], float64(s.Level)/2.55)
	if s.Pattern != model.Steady {
		words += fmt.Sprintf(", a swing %v\u00a0s", float64(s.Period)/firmware.FramesPerSecond)
	}
	if held < 1 {
		words += fmt.Sprintf(", held at %.0f\u00a0%%", 100*held)
	}
	return words
}

func drawTable(e model.Effects, width float64) drawing.Table {
	t := drawing.Table{ID: "draws", Columns: []drawing.Column{
		{Head: "component", Width: width - 75}, {Head: "idle mA", Width: 25, Align: drawing.End}, {Head: "usual mA", Width: 25, Align: drawing.End}, {Head: "most mA", Width: 25, Align: drawing.End},
	}}
	for _, d := range e.Draws {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{d.Component, fmt.Sprintf("%.0f", d.Idle), fmt.Sprintf("%.0f", d.Usual), fmt.Sprintf("%.0f", d.Most)}})
	}
	t.Rows = append(t.Rows, drawing.Row{Face: drawing.Bold, Cells: []string{"all at once", "", "", fmt.Sprintf("%.0f", e.Most)}})
	return t
}

func (b *sheets) wireTable(width float64) drawing.Table {
	t := drawing.Table{ID: "wires", Columns: []drawing.Column{
		{Head: "wire", Width: 27},
		{Head: "from", Width: 23},
		{Head: "to", Width: 25},
		{Head: "AWG", Width: 11, Align: drawing.End},
		{Head: "long", Width: 14, Align: drawing.End},
		{Head: "A, V", Width: 19, Align: drawing.End},
		{Head: "colours", Width: 19},
		{Head: "note", Width: width - 138},
	}}
	for _, w := range b.r.Effects.Wires {
		long := b.o.System.Figure(w.Length)
		if w.Guessed {
			long = "≈ " + long
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			w.Wire.ID, w.FromPin, w.ToPin, fmt.Sprint(w.Gauge), long, fmt.Sprintf("%.2f, %.2f", w.Amps, w.Drop), w.Colours, w.Note,
		}})
	}
	return t
}

type effectsJSON struct {
	Supply string     `json:"supply"`
	Gives  figure     `json:"gives_ma"`
	Most   figure     `json:"most_ma"`
	Fuse   figure     `json:"fuse_a"`
	Least  figure     `json:"least_v"`
	Copper figure     `json:"copper_c"`
	Limit  int        `json:"limiter_steps"`
	Draws  []drawJSON `json:"draws"`
	Shows  []showJSON `json:"shows"`
	Wires  []wireJSON `json:"wires"`
	Road   []roadJSON `json:"road"`
}

type drawJSON struct {
	Component string `json:"component"`
	Idle      figure `json:"idle_ma"`
	Usual     figure `json:"usual_ma"`
	Most      figure `json:"most_ma"`
}

type showJSON struct {
	Show string `json:"show"`
	Mean figure `json:"mean_ma"`
	Most figure `json:"most_ma"`
	Held figure `json:"held_share"`
}

type wireJSON struct {
	Wire   string `json:"wire"`
	Gauge  int    `json:"awg"`
	Length figure `json:"length_mm"`
	Guess  bool   `json:"length_guessed"`
	Amps   figure `json:"current_a"`
	Drop   figure `json:"drop_v"`
	Colour string `json:"colours"`
	From   string `json:"from_pin"`
	To     string `json:"to_pin"`
	Note   string `json:"note"`
}

type roadJSON struct {
	Component string `json:"component"`
	Hours     figure `json:"hours"`
	Idle      figure `json:"idle_ma"`
	SwitchOff bool   `json:"may_switch_off"`
	KeepOn    figure `json:"keep_on_ma"`
}

func reportEffects(e model.Effects) effectsJSON {
	return effectsJSON{
		Supply: e.Supply, Gives: figure(e.Gives), Most: figure(e.Most), Fuse: figure(e.Fuse), Least: figure(e.Least), Copper: figure(e.Celsius), Limit: e.Limit,
		Draws: each(e.Draws, func(d model.Current) drawJSON {
			return drawJSON{d.Component, figure(d.Idle), figure(d.Usual), figure(d.Most)}
		}),
		Shows: each(e.Shows, func(s model.ShowDraw) showJSON {
			return showJSON{s.Show, figure(s.Mean), figure(s.Most), figure(s.Held)}
		}),
		Wires: each(e.Wires, func(w model.WireRun) wireJSON {
			return wireJSON{w.Wire.ID, w.Gauge, figure(w.Length), w.Guessed, figure(w.Amps), figure(w.Drop), w.Colours, w.FromPin, w.ToPin, w.Note}
		}),
		Road: each(e.Road, func(r model.RoadSupply) roadJSON {
			return roadJSON{r.Component, figure(r.Hours), figure(r.IdleMA), r.SwitchOff, figure(r.KeepOnMA)}
		}),
	}
}
