package effects

import (
	"fmt"
	"slices"

	"scalewright/model"
	"scalewright/stock"
)

// Resistors in the lines of logic, Ω: at the first pixel so that the line does not
// ring (wiring advice has 300 to 500), and in each trigger so that a short of the
// player's takes no more than a pin gives.
const (
	dataOhm, dataOhmMost = 330, 470
	triggerOhm           = 1000
)

// ends are what a wire is soldered to, and what to put there.
func (w *work) ends(wire model.Wire) (from, to, note string) {
	a, _ := w.component(wire.From)
	b, _ := w.component(wire.To)
	switch {
	case wire.Carries == model.Power && b.Kind.Role == stock.Strip:
		return "+5 V, GND", "+5 V, GND", "1000 µF, 6.3 V or more, across the strip's input; ground first, off last"
	case wire.Carries == model.Power && a.Kind.Role == stock.Bank && wire.From != w.feeds.ID:
		return "USB", "the inlet, in the adapter's place", "never both at once"
	case wire.Carries == model.Power:
		return "+5 V, GND", "+5 V, GND", "one ground for all"
	case a.Kind.Role == stock.Strip:
		return "DOUT, GND", "DIN, GND", "on the arrow's side"
	case b.Kind.Role == stock.Strip:
		return "D6, GND", "DIN, GND", fmt.Sprintf("%d to %d Ω at the first pixel", dataOhm, dataOhmMost)
	case a.Kind.Role == stock.Button:
		return "both contacts", fmt.Sprintf("D%d, GND", 8+w.buttonAt(a.ID)), "closes to ground; the pull-up is inside"
	case a.Kind.Role == stock.Controller:
		return "A0 to A3, GND", "triggers 1 to 4, GND", fmt.Sprintf("%d kΩ in each line; only pulled low", triggerOhm/1000)
	case a.Kind.Role == stock.Player:
		return "sound out, GND", "in, GND", "twisted, away from the strip's lead"
	}
	return "out +, out −", "both tags", "never ground a speaker lead"
}

func (w *work) buttonAt(id string) int {
	return slices.IndexFunc(w.buttons, func(b model.Component) bool { return b.ID == id })
}

// colours of a wire's insulation: red and black for power as everywhere, black for
// every ground, the rest so that no two kinds look alike.
func colours(wire model.Wire) string {
	switch wire.Carries {
	case model.Power:
		return "red, black"
	case model.Switch:
		return "yellow, black"
	case model.Sound:
		return "blue, white"
	case model.Data:
		if wire.Conductors > 2 {
			return "4 × grey, black"
		}
	}
	return "green, black"
}
