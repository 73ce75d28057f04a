package effects

import (
	"math"

	"scalewright/craft/circuit"
	"scalewright/craft/electric"
	"scalewright/craft/firmware"
	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

func (w *work) supply(out *model.Effects) {
	out.Celsius, out.Least = inBody, railLeast
	if w.Site != nil {
		out.Celsius = math.Max(inBody, w.Site.Warmest+warmer)
	}
	if w.fed {
		out.Supply, out.Gives = w.feeds.ID, w.feeds.Kind.Most
	}
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
func (w *work) draws(out *model.Effects) finding.List {
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
	var found finding.List
	for k, s := range out.Program.Shows {
		l := w.light(out.Program, s)
		sound := 0.0
		if s.Sound > 0 {
			for _, a := range circuit.Of(w.Components, stock.Amplifier) {
				sound += a.Kind.Most
			}
		}
		rest := idle - float64(w.pixels)
		out.Shows = append(out.Shows, model.ShowDraw{
			Show: s.ID, Mean: rest + l.mean + soundShare*sound, Most: rest + l.most + sound, Held: l.held,
		})
		if l.held < 1 && out.Limit > 0 {
			found.Add(w.held(w.Shows[k], l.held, out.Limit))
		}
	}
	if out.Gives > 0 && out.Most > out.Gives*inHand+1e-9 && !(w.pixels > 0 && out.Limit == 0) {
		found.Add(finding.New("supply-small", w.feeds.At, finding.Args{
			"supply": finding.Name(w.feeds.ID), "gives": finding.Number(out.Gives), "most": finding.Number(math.Ceil(out.Most)),
			"lacks": finding.Number(math.Ceil(out.Most/inHand - out.Gives)),
		}))
	}
	return found
}

// held says that a show is dimmer than asked for, and what would change that.
func (w *work) held(s model.Show, share float64, limit int) finding.Finding {
	lacks := (float64(limit)/share - float64(limit)) / steps * (whiteMA - 1) / inHand
	return finding.New("light-held", s.At, finding.Args{
		"show": finding.Name(s.ID), "percent": finding.Number(math.Round(100 * share)), "level": finding.Number(math.Floor(100*share*s.Level) / 100),
		"supply": finding.Name(w.feeds.ID), "lacks": finding.Number(math.Ceil(lacks)),
	})
}

// limited is what the limiter lets the pixels draw over their dark current, mA:
// a step of a channel is a white pixel's budget less its dark mA over 255 steps of
// three channels.
func (w *work) limited(out *model.Effects) float64 {
	return float64(out.Limit) / steps * (whiteMA - 1)
}

// shine is what the strips draw while a show runs, mA, and the share of its
// brightest frame that the limiter lets through.
type shine struct{ mean, most, held float64 }

// light looks at the controller's own frames over two swings.
func (w *work) light(p model.Program, s model.ProgramShow) shine {
	s.Button, s.Lasts = -1, 0
	only := p
	only.Shows, only.Idle = []model.ProgramShow{s}, 0
	free := only
	free.Limit = math.MaxInt32
	player, unheld := firmware.NewPlayer(only), firmware.NewPlayer(free)
	out := shine{held: 1}
	frames := max(firmware.FramesPerSecond, 2*s.Period)
	for range frames {
		sum, asked := 0.0, 0.0
		for _, px := range player.Next() {
			sum += 1000 * electric.Pixel(float64(px[0]), float64(px[1]), float64(px[2]))
		}
		for _, px := range unheld.Next() {
			asked += float64(px[0]) + float64(px[1]) + float64(px[2])
		}
		out.mean += sum / float64(frames)
		out.most = math.Max(out.most, sum)
		if asked > float64(p.Limit) {
			out.held = math.Min(out.held, float64(p.Limit)/asked)
		}
	}
	return out
}

// fuse is the rating for the supply's lead: the next over the largest current and
// a quarter. One over what the supply gives would never open; there the supply's
// own limit is what guards the wires.
func (w *work) fuse(out *model.Effects) {
	for _, f := range stock.Fuses() {
		if f.Amps >= fuseShare*out.Most/1000 {
			if f.Amps <= out.Gives/1000 {
				out.Fuse = f.Amps
			}
			return
		}
	}
}

// fault is the current that a wire of power must bear in free air, A.
func fault(all model.Effects) float64 {
	if all.Fuse > 0 {
		return holds * all.Fuse
	}
	return all.Gives / 1000
}
