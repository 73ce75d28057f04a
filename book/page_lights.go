package book

import (
	"fmt"
	"strings"

	"scalewright/drawing"
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
	l.table(drawTable(e, width))
	l.y += 3
	l.table(b.wireTable(width))
	l.text(drawing.SizeSmall, faint("Lengths hold 15 % and 100 mm of slack. Volts are lost there and back at the largest current, copper at 40 °C; 3 % of 5 V are 0.15 V."))
}

func (b *sheets) powerWords() string {
	e := b.r.Effects
	var words strings.Builder
	fmt.Fprintf(&words, "%s gives %.1f A; with the program's limiter at most %.1f A are drawn.", capital(e.Supply), e.Gives/1000, e.Most/1000)
	for _, r := range e.Road {
		if r.Component == e.Supply {
			fmt.Fprintf(&words, " It lasts %.1f h.", r.Hours)
			continue
		}
		fmt.Fprintf(&words, " On %s, plugged in instead, it runs %.1f h.", r.Component, r.Hours)
	}
	if p := e.Program; p.Pixels > 0 && len(p.Shows) > 0 {
		fmt.Fprintf(&words, " The program for the controller is in controller/: %d pixels, 50 frames a second; make builds it with avr-gcc.", p.Pixels)
	}
	return words.String()
}

func showTable(e model.Effects, width float64) drawing.Table {
	t := drawing.Table{ID: "shows", Columns: []drawing.Column{
		{Head: "show", Width: 24},
		{Head: "begins with", Width: 42},
		{Head: "light", Width: width - 142},
		{Head: "sound", Width: 15, Align: drawing.End},
		{Head: "lasts", Width: 25, Align: drawing.End},
		{Head: "mean A", Width: 18, Align: drawing.End},
		{Head: "most A", Width: 18, Align: drawing.End},
	}}
	for i, s := range e.Program.Shows {
		starts := "when nothing else runs"
		if s.Button >= 0 {
			starts = e.Program.Buttons[s.Button]
		}
		sound, lasts := "–", "until another"
		if s.Sound > 0 {
			sound = fmt.Sprint(s.Sound)
		}
		if s.Lasts > 0 {
			lasts = fmt.Sprintf("%.1f s", float64(s.Lasts)/50)
		}
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			s.ID, starts, fmt.Sprintf("%s, #%02x%02x%02x", s.Pattern, s.Colour[0], s.Colour[1], s.Colour[2]), sound, lasts,
			fmt.Sprintf("%.2f", e.Shows[i].Mean/1000), fmt.Sprintf("%.2f", e.Shows[i].Most/1000),
		}})
	}
	return t
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
		{Head: "wire", Width: 34},
		{Head: "from", Width: 26},
		{Head: "to", Width: 30},
		{Head: "AWG", Width: 12, Align: drawing.End},
		{Head: "long", Width: 16, Align: drawing.End},
		{Head: "V", Width: 12, Align: drawing.End},
		{Head: "note", Width: width - 130},
	}}
	for _, w := range b.r.Effects.Wires {
		t.Rows = append(t.Rows, drawing.Row{Cells: []string{
			w.Wire.ID, w.FromPin, w.ToPin, fmt.Sprint(w.Gauge), b.o.System.Figure(w.Length), fmt.Sprintf("%.2f", w.Drop), w.Note,
		}})
	}
	return t
}

type effectsJSON struct {
	Supply string     `json:"supply"`
	Gives  figure     `json:"gives_ma"`
	Most   figure     `json:"most_ma"`
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
}

type wireJSON struct {
	Wire   string `json:"wire"`
	Gauge  int    `json:"awg"`
	Length figure `json:"length_mm"`
	Amps   figure `json:"current_a"`
	Drop   figure `json:"drop_v"`
	From   string `json:"from_pin"`
	To     string `json:"to_pin"`
	Note   string `json:"note"`
}

type roadJSON struct {
	Component string `json:"component"`
	Hours     figure `json:"hours"`
	Idle      figure `json:"idle_ma"`
	SwitchOff bool   `json:"may_switch_off"`
}

func reportEffects(e model.Effects) effectsJSON {
	return effectsJSON{
		Supply: e.Supply, Gives: figure(e.Gives), Most: figure(e.Most),
		Draws: each(e.Draws, func(d model.Current) drawJSON {
			return drawJSON{d.Component, figure(d.Idle), figure(d.Usual), figure(d.Most)}
		}),
		Shows: each(e.Shows, func(s model.ShowDraw) showJSON { return showJSON{s.Show, figure(s.Mean), figure(s.Most)} }),
		Wires: each(e.Wires, func(w model.WireRun) wireJSON {
			return wireJSON{w.Wire.ID, w.Gauge, figure(w.Length), figure(w.Amps), figure(w.Drop), w.FromPin, w.ToPin, w.Note}
		}),
		Road: each(e.Road, func(r model.RoadSupply) roadJSON {
			return roadJSON{r.Component, figure(r.Hours), figure(r.IdleMA), r.SwitchOff}
		}),
	}
}
