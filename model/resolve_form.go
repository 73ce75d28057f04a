package model

import (
	"math"
	"slices"

	"scalewright/stock"
	"scalewright/unit"
)

// resolveForm gives a part what is its own: an outline round its own axis, a
// plate, a mesh.
func resolveForm(part Part, p DeclaredPart, own DeclaredOutline, ratio float64) Part {
	k := growth(own.Owner, ratio)
	part.Own, part.Bore, part.Doubt = true, p.Bore.At(ratio), unit.Length(own.DoubtMM*k)
	switch p.Form {
	case Turned:
		part.Outline = own.Path.Scaled(k)
		part.Span = Span{}
		if len(part.Outline) > 0 {
			part.Span = Span{unit.Length(part.Outline.Start()), unit.Length(part.Outline.End())}
		}
	case Flat:
		part.Plate = Plate{Lie: p.Lie, Outer: own.Path.Scaled(k), Thick: p.Thick.At(ratio)}
		for _, hole := range own.Holes {
			part.Plate.Holes = append(part.Plate.Holes, hole.Scaled(k))
		}
		part.Span = part.Plate.span(p.From.At(ratio))
	case Imported:
		part.Import = Import{File: p.Model, Scale: growth(p.ModelUnit, ratio), Hollow: p.Wall.Written()}
	}
	return part
}

// growth is what a size is multiplied by.
func growth(owner unit.Owner, ratio float64) float64 {
	if owner == unit.OfShop {
		return 1
	}
	return ratio
}

// span is the stretch of stations that a plate takes.
func (p Plate) span(from unit.Length) Span {
	if p.Lie == Across {
		return Span{from, from + p.Thick}
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, q := range p.Outer.Polyline(plateSag) {
		least, most = min(least, q.Station), max(most, q.Station)
	}
	if least > most {
		return Span{}
	}
	return Span{unit.Length(least), unit.Length(most)}
}

// Chords stay this near an arc where only an extent is asked for, mm.
const plateSag = 0.01

// copies are a part at each of its clockings.
func copies(part Part, p DeclaredPart) []Part {
	if len(p.Clockings) == 0 {
		return []Part{part}
	}
	var out []Part
	for i, id := range p.Copies() {
		c := part
		c.ID = id
		c.Axis = part.Axis.Turned(p.Clockings[i])
		c.Printers = slices.Clone(part.Printers)
		out = append(out, c)
	}
	return out
}

// resolveMounts are the joints between parts that don't follow one another on
// the body. The part that is not of the body is the guest; of two such, the
// second.
func resolveMounts(d Declared, parts []Part) []Mount {
	onBody := map[string]bool{}
	for _, p := range parts {
		onBody[p.ID] = p.OnBody()
	}
	copiesOf := map[string][]string{}
	for _, p := range d.Parts {
		copiesOf[p.ID] = p.Copies()
	}
	var out []Mount
	for _, j := range d.Joints {
		hosts, guests := copiesOf[j.Between[0]], copiesOf[j.Between[1]]
		if len(hosts) == 0 || len(guests) == 0 || onBody[hosts[0]] && onBody[guests[0]] {
			continue
		}
		if !onBody[hosts[0]] && onBody[guests[0]] {
			hosts, guests = guests, hosts
		}
		for i, guest := range guests {
			m := Mount{ID: j.ID, At: j.At, Host: hosts[min(i, len(hosts)-1)], Guest: guest, Kind: j.Kind, Glue: j.Glue, Removable: j.Removable || j.Kind == Magnet}
			if len(guests) > 1 {
				m.ID = j.ID + guest[len(j.copied(guest)):]
			}
			out = append(out, m)
		}
	}
	return out
}

// copied is the name of the part that a guest is a copy of.
func (j DeclaredJoint) copied(guest string) string {
	for _, id := range j.Between {
		if len(id) < len(guest) && guest[:len(id)] == id && guest[len(id)] == '-' {
			return id
		}
	}
	return guest
}

func resolveOpenings(declared []DeclaredOpening, ratio float64) []Opening {
	var out []Opening
	for _, o := range declared {
		out = append(out, Opening{
			ID: o.ID, At: o.At, Part: o.Part, Station: o.Station.At(ratio), Clocking: o.Clocking,
			Across: o.Across.At(ratio), Wide: o.Wide.At(ratio), High: o.High.At(ratio), Panel: o.Panel,
		})
	}
	return out
}

func resolveStand(s *DeclaredStand) *Stand {
	if s == nil {
		return nil
	}
	post, _ := stock.FindPipe(s.Post)
	return &Stand{
		At: s.At, Across: s.Across.At(1), Square: s.Square, Thick: s.Thick.At(1), Density: s.Density,
		Ballast: s.Ballast, Post: post, Engage: s.Engage.At(1), Below: s.Below.At(1),
	}
}

// resolveComponents gives a component the place of the opening it sits in, where
// it has none of its own.
func resolveComponents(d Declared, full Design, ratio float64) []Component {
	var out []Component
	for _, k := range d.Components {
		kind, _ := stock.FindComponent(k.Kind)
		c := Component{
			ID: k.ID, At: k.At, Kind: kind, Part: k.Part, Opening: k.Opening, Pixels: k.Pixels, Service: k.Service,
			Length: unit.Length(k.Pixels) * kind.Pitch,
		}
		if k.Station.Written() {
			c.Station, c.Clocking, c.Placed = k.Station.At(ratio), k.Clocking, true
		}
		for _, o := range full.Openings {
			if o.ID == k.Opening {
				c.Part, c.Station, c.Clocking, c.Placed = o.Part, o.Station, o.Clocking, true
			}
		}
		out = append(out, c)
	}
	return out
}
