package stock

import (
	_ "embed"

	"scalewright/unit"
)

// Role says what a component does in a build of lights and sound.
type Role string

// Roles of components.
const (
	Controller Role = "controller"
	Strip      Role = "strip"
	Button     Role = "button"
	Player     Role = "player"
	Amplifier  Role = "amplifier"
	Speaker    Role = "speaker"
	Adapter    Role = "adapter"
	Bank       Role = "bank"
)

// Component is a bought thing: the room it takes and what it draws. Currents in
// mA at Volts; of a strip they are of one pixel.
type Component struct {
	ID        string
	Name      string
	Role      Role
	Size      [3]unit.Length // length, width, height without plugs
	Plug      unit.Length    // room for plugs at the ends of its length
	Hole      unit.Length    // it sits in; 0: in none
	Volts     float64
	Idle      float64
	Usual     float64
	Most      float64     // a supply: what it gives
	PerPixel  float64     // budget at full white
	Pitch     unit.Length // of pixels
	WattHours float64
	Ohm       float64   // of a speaker
	Grams     unit.Mass // of a strip, of one pixel's length; 0: outside the build
	Source    string
	Basis     string
}

//go:embed components.csv
var componentsCSV string

// Components are all components of the table, in its order.
func Components() []Component {
	var all []Component
	for _, r := range rows(componentsCSV) {
		all = append(all, Component{
			ID: r.text("id"), Name: r.text("name"), Role: Role(r.text("role")),
			Size: [3]unit.Length{r.length("length_mm"), r.length("width_mm"), r.length("height_mm")},
			Plug: r.length("plug_mm"), Hole: r.length("hole_mm"), Volts: r.number("volts"),
			Idle: r.number("idle_ma"), Usual: r.number("usual_ma"), Most: r.number("most_ma"),
			PerPixel: r.number("per_pixel_ma"), Pitch: r.length("pitch_mm"), WattHours: r.number("watt_hours"), Ohm: r.number("ohm"), Grams: unit.Mass(r.number("mass_g")),
			Source: r.text("source"), Basis: r.text("basis"),
		})
	}
	return all
}

// FindComponent is the component of an id.
func FindComponent(id string) (Component, bool) {
	for _, c := range Components() {
		if c.ID == id {
			return c, true
		}
	}
	return Component{}, false
}
