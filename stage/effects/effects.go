package effects

import (
	"context"
	"math"

	"scalewright/craft/circuit"
	"scalewright/craft/electric"
	"scalewright/craft/firmware"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// Run works out lights and sound; a build without components has none.
func Run(_ context.Context, in Input) (model.Effects, finding.List, error) {
	var out model.Effects
	if len(in.Components) == 0 {
		return out, nil, nil
	}
	w := work{Input: in}
	w.roles()
	found := w.lacking()
	w.supply(&out)
	found.Add(w.program(&out)...)
	w.draws(&out)
	if out.Gives > 0 && out.Most > out.Gives*inHand+1e-9 {
		found.Add(finding.New("supply-small", w.feeds.At, finding.Args{
			"supply": finding.Name(w.feeds.ID), "gives": finding.Number(out.Gives), "most": finding.Number(math.Ceil(out.Most)),
			"lacks": finding.Number(math.Ceil(out.Most/inHand - out.Gives)),
		}))
	}
	for _, wire := range circuit.Wires(in.Components) {
		run, f := w.wire(wire, out)
		out.Wires = append(out.Wires, run)
		found.Add(f...)
	}
	found.Add(w.road(&out)...)
	return out, found, nil
}

type work struct {
	Input
	controller *model.Component
	strips     []model.Component
	buttons    []model.Component
	player     *model.Component
	feeds      model.Component
	fed        bool
	pixels     int
}

func (w *work) roles() {
	first := func(role stock.Role) *model.Component {
		if all := circuit.Of(w.Components, role); len(all) > 0 {
			return &all[0]
		}
		return nil
	}
	w.controller, w.player = first(stock.Controller), first(stock.Player)
	w.strips, w.buttons = circuit.Of(w.Components, stock.Strip), circuit.Of(w.Components, stock.Button)
	for _, s := range w.strips {
		w.pixels += s.Pixels
	}
	w.feeds, w.fed = circuit.Supply(w.Components)
}

// lacking says what cannot work for want of another component.
func (w *work) lacking() finding.List {
	var found finding.List
	if !w.fed {
		found.Add(finding.New("no-supply", w.Components[0].At, nil))
	}
	if w.controller == nil && len(w.strips)+len(w.buttons) > 0 {
		found.Add(finding.New("no-controller", append(w.strips, w.buttons...)[0].At, nil))
	}
	if speakers := circuit.Of(w.Components, stock.Speaker); len(speakers) > 0 && len(circuit.Of(w.Components, stock.Amplifier)) == 0 {
		found.Add(finding.New("no-amplifier", speakers[0].At, finding.Args{"speaker": finding.Name(speakers[0].ID)}))
	}
	return found
}

func (w *work) supply(out *model.Effects) {
	if !w.fed {
		return
	}
	out.Supply, out.Gives = w.feeds.ID, w.feeds.Kind.Most
}

// others is what all but the strips draw at most, mA.
func (w *work) others() float64 {
	sum := 0.0
	for _, c := range w.Components {
		if c.Kind.Role != stock.Strip && c.Kind.Role != stock.Adapter && c.Kind.Role != stock.Bank {
			sum += c.Kind.Most
		}
	}
	return sum
}

// draws are the currents of components and shows.
func (w *work) draws(out *model.Effects) {
	idle := 0.0
	for _, c := range w.Components {
		if c.Kind.Role == stock.Adapter || c.Kind.Role == stock.Bank {
			continue
		}
		d := model.Current{Component: c.ID, Idle: c.Kind.Idle, Usual: c.Kind.Usual, Most: c.Kind.Most}
		if c.Kind.Role == stock.Strip {
			n := float64(c.Pixels)
			d.Idle, d.Usual = c.Kind.Idle*n, c.Kind.Usual*n
			d.Most = math.Min(whiteMA*n, n+w.limited(out)*n/math.Max(1, float64(w.pixels)))
		}
		idle += d.Idle
		out.Most += d.Most
		out.Draws = append(out.Draws, d)
	}
	for _, s := range out.Program.Shows {
		mean, most := w.light(out.Program, s)
		sound := 0.0
		if s.Sound > 0 {
			for _, a := range circuit.Of(w.Components, stock.Amplifier) {
				sound += a.Kind.Most
			}
		}
		rest := idle - float64(w.pixels)
		out.Shows = append(out.Shows, model.ShowDraw{Show: s.ID, Mean: rest + mean + soundShare*sound, Most: rest + most + sound})
	}
}

// limited is what the limiter lets the pixels draw over their dark current, mA:
// a step of a channel is an eighteenth of a white pixel's budget less its dark mA
// over 255 steps of three channels.
func (w *work) limited(out *model.Effects) float64 {
	return float64(out.Limit) / steps * (whiteMA - 1)
}

// light is what the strip draws while a show runs, mean and most over two of its
// periods, mA: the controller's own frames.
func (w *work) light(p model.Program, s model.ProgramShow) (mean, most float64) {
	only := p
	s.Button, s.Lasts = -1, 0
	only.Shows, only.Idle = []model.ProgramShow{s}, 0
	player := firmware.NewPlayer(only)
	frames := max(50, 2*s.Period)
	for range frames {
		sum := 0.0
		for _, px := range player.Next() {
			sum += 1000 * electric.Pixel(float64(px[0]), float64(px[1]), float64(px[2]))
		}
		mean += sum / float64(frames)
		most = math.Max(most, sum)
	}
	return mean, most
}

// program is the shows in the controller's units.
func (w *work) program(out *model.Effects) finding.List {
	p := model.Program{Pixels: w.pixels, Idle: -1}
	for _, b := range w.buttons {
		p.Buttons = append(p.Buttons, b.ID)
	}
	found := w.tooMuch()
	taken := map[string]string{}
	for _, s := range w.Shows {
		show := model.ProgramShow{
			ID: s.ID, Button: -1, Sound: s.Sound, Pattern: s.Pattern, Colour: s.Colour, Level: uint8(math.Round(255 * s.Level)),
			Lasts: int(math.Round(s.Lasts * firmware.FramesPerSecond)), Period: max(1, int(math.Round(s.Period*firmware.FramesPerSecond))),
		}
		for i, b := range p.Buttons {
			if b == s.Button {
				show.Button = i
			}
		}
		switch other, twice := taken[s.Button]; {
		case twice && s.Button == "":
			found.Add(finding.New("two-idle", s.At, finding.Args{"one": finding.Name(other), "other": finding.Name(s.ID)}))
		case twice:
			found.Add(finding.New("two-shows", s.At, finding.Args{"one": finding.Name(other), "other": finding.Name(s.ID), "button": finding.Name(s.Button)}))
		case s.Button != "" && show.Button < 0:
			found.Add(finding.New("no-button", s.At, finding.Args{"show": finding.Name(s.ID), "component": finding.Name(s.Button)}))
		}
		taken[s.Button] = s.ID
		if s.Sound > 0 && w.player == nil {
			found.Add(finding.New("no-player", s.At, finding.Args{"show": finding.Name(s.ID)}))
		}
		if s.Button == "" {
			p.Idle = len(p.Shows)
		}
		p.Shows = append(p.Shows, show)
	}
	for _, b := range w.buttons {
		if _, ok := taken[b.ID]; !ok && len(w.Shows) > 0 {
			found.Add(finding.New("button-idle", b.At, finding.Args{"button": finding.Name(b.ID)}))
		}
	}
	room := out.Gives*inHand - w.others() - float64(w.pixels)
	p.Limit = int(math.Max(0, math.Min(float64(w.pixels)*steps, room/(whiteMA-1)*steps)))
	if out.Gives > 0 && w.pixels > 0 && p.Limit == 0 {
		found.Add(finding.New("no-light-left", w.feeds.At, finding.Args{
			"supply": finding.Name(w.feeds.ID), "gives": finding.Number(out.Gives), "rest": finding.Number(math.Ceil(w.others())),
		}))
	}
	out.Program, out.Limit = p, p.Limit
	return found
}

// tooMuch is more than the program can drive.
func (w *work) tooMuch() finding.List {
	var found finding.List
	if w.pixels > firmware.MostPixels {
		found.Add(finding.New("pixels-many", w.strips[0].At, finding.Args{
			"pixels": finding.Count(w.pixels), "most": finding.Count(firmware.MostPixels), "rate": finding.Count(firmware.FramesPerSecond),
		}))
	}
	if len(w.buttons) > firmware.MostButtons {
		found.Add(finding.New("buttons-many", w.buttons[firmware.MostButtons].At, finding.Args{
			"buttons": finding.Count(len(w.buttons)), "most": finding.Count(firmware.MostButtons),
		}))
	}
	return found
}

// road is how long banks last at the shows' mix.
func (w *work) road(out *model.Effects) finding.List {
	idle, mix := 0.0, 0.0
	for _, d := range out.Draws {
		idle += d.Idle
	}
	mix = idle
	played, n := 0.0, 0
	for i, s := range out.Shows {
		if out.Program.Shows[i].Button < 0 {
			mix = s.Mean
			idle = s.Mean
			continue
		}
		played += s.Mean
		n++
	}
	if n > 0 {
		mix = (1-playShare)*mix + playShare*played/float64(n)
	}
	var found finding.List
	for _, b := range circuit.Of(w.Components, stock.Bank) {
		hours := 0.0
		if mix > 0 {
			hours = electric.AmpereHours(b.Kind.WattHours, efficiency, 5) / (mix / 1000)
		}
		r := model.RoadSupply{Component: b.ID, Hours: hours, IdleMA: idle, SwitchOff: idle < keepsOnMA}
		out.Road = append(out.Road, r)
		if r.SwitchOff {
			found.Add(finding.New("bank-sleeps", b.At, finding.Args{
				"bank": finding.Name(b.ID), "idle": finding.Number(math.Round(idle)), "least": finding.Number(keepsOnMA),
			}))
		}
		if w.Site != nil && w.feeds.ID == b.ID && hours < w.Site.Hours {
			found.Add(finding.New("bank-short", b.At, finding.Args{
				"bank": finding.Name(b.ID), "hours": finding.Number(math.Floor(hours*10) / 10), "asked": finding.Number(w.Site.Hours),
			}))
		}
	}
	return found
}
