package effects

import (
	"math"

	"scalewright/craft/firmware"
	"scalewright/finding"
	"scalewright/model"
)

// swings are the times of one swing, s, unless a show says its own: common
// practice.
var swings = map[model.Pattern]float64{model.Breathe: 4, model.Flicker: 0.24, model.Run: 2}

// program is the shows in the controller's units.
func (w *work) program(out *model.Effects) finding.List {
	p := model.Program{Pixels: w.pixels, Idle: -1}
	for _, b := range w.buttons {
		p.Buttons = append(p.Buttons, b.ID)
	}
	found := w.tooMuch()
	taken := map[string]string{}
	for _, s := range w.Shows {
		show := units(s)
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
		found.Add(w.unheard(s)...)
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
	if len(w.Shows) > 0 && w.pixels > 0 && p.Idle < 0 {
		found.Add(finding.New("no-idle", w.strips[0].At, finding.Args{"strip": finding.Name(w.strips[0].ID)}))
	}
	found.Add(w.limit(&p, out)...)
	out.Program, out.Limit = p, p.Limit
	return found
}

// units are a show's figures as the controller has them.
func units(s model.Show) model.ProgramShow {
	frames := func(seconds float64) int {
		if seconds <= 0 {
			return 0
		}
		return max(1, int(math.Round(seconds*firmware.FramesPerSecond)))
	}
	swing := s.Period
	if swing <= 0 {
		swing = swings[s.Pattern]
	}
	return model.ProgramShow{
		ID: s.ID, Button: -1, Sound: s.Sound, Pattern: s.Pattern, Colour: s.Colour, Level: uint8(math.Round(255 * s.Level)),
		Lasts: frames(s.Lasts), Period: max(1, frames(swing)),
	}
}

// unheard is what of a show's sound goes nowhere, and light that flashes.
func (w *work) unheard(s model.Show) finding.List {
	var found finding.List
	switch {
	case s.Sound == 0:
	case w.player == nil:
		found.Add(finding.New("no-player", s.At, finding.Args{"show": finding.Name(s.ID)}))
	case s.Sound > firmware.MostSounds:
		found.Add(finding.New("sound-far", s.At, finding.Args{
			"show": finding.Name(s.ID), "sound": finding.Count(s.Sound), "most": finding.Count(firmware.MostSounds),
		}))
	case s.Button == "":
		found.Add(finding.New("idle-sounds", s.At, finding.Args{"show": finding.Name(s.ID)}))
	}
	if w.pixels > 0 && s.Period > 0 && s.Period < flash && (s.Pattern == model.Breathe || s.Pattern == model.Run) {
		found.Add(finding.New("light-flashes", s.At, finding.Args{
			"show": finding.Name(s.ID), "times": finding.Number(math.Round(10/s.Period) / 10),
		}))
	}
	return found
}

// limit sets the limiter: the steps that four fifths of the supply leave for the
// strips, when all else draws its most.
func (w *work) limit(p *model.Program, out *model.Effects) finding.List {
	room := out.Gives*inHand - w.others() - float64(w.pixels)
	p.Limit = int(math.Max(0, math.Min(float64(w.pixels)*steps, room/(whiteMA-1)*steps)))
	if out.Gives == 0 || w.pixels == 0 || p.Limit > 0 {
		return nil
	}
	return finding.List{finding.New("no-light-left", w.feeds.At, finding.Args{
		"supply": finding.Name(w.feeds.ID), "gives": finding.Number(out.Gives), "rest": finding.Number(math.Ceil(w.others())),
		"lacks": finding.Number(math.Ceil((w.others()+whiteMA*float64(w.pixels))/inHand - out.Gives)),
	})}
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
