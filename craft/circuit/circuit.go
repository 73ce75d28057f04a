// Package circuit says which wires a build of lights and sound needs: a star by
// the roles of its components. A supply feeds controller, strips, player and
// amplifier; the controller drives the first strip's data and each strip the
// next one's, hears the buttons and triggers the player; the player's sound goes
// through the amplifiers, each to a speaker of its own: outputs are never joined. A power bank beside an adapter is another supply for the same inlet.
package circuit

import (
	"scalewright/model"
	"scalewright/stock"
)

// Of are the components of a role, in their order.
func Of(all []model.Component, role stock.Role) []model.Component {
	var out []model.Component
	for _, c := range all {
		if c.Kind.Role == role {
			out = append(out, c)
		}
	}
	return out
}

// Supply is what feeds the build day by day: an adapter before a bank; false when
// there is none.
func Supply(all []model.Component) (model.Component, bool) {
	for _, role := range [...]stock.Role{stock.Adapter, stock.Bank} {
		if s := Of(all, role); len(s) > 0 {
			return s[0], true
		}
	}
	return model.Component{}, false
}

// Wires are the wires between components, in a fixed order.
func Wires(all []model.Component) []model.Wire {
	var out []model.Wire
	join := func(from, to model.Component, carries model.Carries, conductors int) {
		out = append(out, model.Wire{ID: from.ID + "-" + to.ID, From: from.ID, To: to.ID, Carries: carries, Conductors: conductors})
	}
	controllers := Of(all, stock.Controller)
	if supply, ok := Supply(all); ok {
		for _, role := range [...]stock.Role{stock.Controller, stock.Strip, stock.Player, stock.Amplifier} {
			for _, c := range Of(all, role) {
				join(supply, c, model.Power, 2)
			}
		}
		if supply.Kind.Role == stock.Adapter && len(controllers) > 0 {
			for _, bank := range Of(all, stock.Bank) {
				join(bank, controllers[0], model.Power, 2)
			}
		}
	}
	for _, controller := range controllers[:min(1, len(controllers))] {
		from := controller
		for _, strip := range Of(all, stock.Strip) {
			join(from, strip, model.Data, 2)
			from = strip
		}
		for _, button := range Of(all, stock.Button) {
			join(button, controller, model.Switch, 2)
		}
		for _, player := range Of(all, stock.Player) {
			join(controller, player, model.Data, triggers+1)
		}
	}
	for _, player := range Of(all, stock.Player) {
		for _, amplifier := range Of(all, stock.Amplifier) {
			join(player, amplifier, model.Sound, 2)
		}
	}
	if amplifiers := Of(all, stock.Amplifier); len(amplifiers) > 0 {
		for i, speaker := range Of(all, stock.Speaker) {
			join(amplifiers[min(i, len(amplifiers)-1)], speaker, model.Sound, 2)
		}
	}
	return out
}

// triggers are the lines that start the player's sounds.
const triggers = 4
