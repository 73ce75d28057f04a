package lane_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/unit"
)

// Leaders go round the fins: no place of a leader lies on what stands out of the
// body below the axis, but for the leader of that piece. Places are taken back to
// the build and looked for in the triangles of the solids, which the solver never
// sees.
func TestLeadersGoRoundTheFins(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	for _, wide := range []float64{240, 300, 350} {
		v := lane.View{Span: p.Span, Width: wide}
		for name, s := range map[string]*drawing.Scene{"elevation": lane.Elevation(p, v), "arrangement": lane.Arrangement(p, v)} {
			axis, leaders := 0.0, map[string][]drawing.Segment{}
			var group []drawing.Group
			for _, it := range s.Items {
				switch it := it.(type) {
				case drawing.Group:
					group = append(group, it)
				case drawing.GroupEnd:
					group = group[:len(group)-1]
				case drawing.Drawn:
					if len(it.Style.Stroke.Dash) == 4 && it.Style.Stroke.Colour == drawing.Ink {
						axis = it.Path.Bounds().Y
					}
					if n := len(group); n > 0 && it.Style.Fill == drawing.None && (group[n-1].Class == "label" || group[n-1].Class == "leader") {
						leaders[group[n-1].Title] = append(leaders[group[n-1].Title], it.Path.Segments()...)
					}
				}
			}
			if axis == 0 || len(leaders) < 6 {
				t.Fatalf("%s: axis at %v, %d leaders", name, axis, len(leaders))
			}
			for title, segments := range leaders {
				if i := pieceNamed(p, title); i >= 0 && p.Division.Pieces[i].Own {
					continue
				}
				for _, l := range segments {
					for k := range 60 {
						q := l.A.Add(l.B.Sub(l.A).Mul(float64(k) / 59))
						station, height := float64(v.Station(q.X)), (axis-q.Y)/v.Scale()
						if fin := standsOut(p, station, height); fin != "" {
							t.Errorf("%s, %v mm wide: the leader of %s crosses %s at %.0f mm", name, wide, title, fin, station)
							break
						}
					}
				}
			}
		}
	}
}

func pieceNamed(p *lane.Prepared, name string) int {
	for i, piece := range p.Division.Pieces {
		if piece.Name == name {
			return i
		}
	}
	return -1
}

// standsOut names what of the build stands out of the body at a place below the
// axis; a hair inside its edge counts, a hair outside does not.
func standsOut(p *lane.Prepared, station, height float64) string {
	const hair = 3.0 // mm of the build: a line's width and the raster's half millimetre
	if height >= 0 || -height < p.Design.Outline.RadiusAt(station)+hair {
		return ""
	}
	side := func(a, b, c [2]float64) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
	for i, c := range p.Carved {
		if !p.Division.Pieces[i].Own {
			continue
		}
		inside := true // all places about it lie in the silhouette
		for _, d := range [...][2]float64{{hair, 0}, {-hair, 0}, {0, hair}, {0, -hair}} {
			q, found := [2]float64{station + d[0], height + d[1]}, false
			for _, tri := range c.Solid.Triangles {
				var at [3][2]float64
				for k, n := range tri {
					at[k] = [2]float64{c.Solid.Vertices[n][2], c.Solid.Vertices[n][0]}
				}
				x, y, z := side(at[0], at[1], q), side(at[1], at[2], q), side(at[2], at[0], q)
				if x > 0 && y > 0 && z > 0 || x < 0 && y < 0 && z < 0 {
					found = true
					break
				}
			}
			inside = inside && found
		}
		if inside {
			return p.Division.Pieces[i].Name
		}
	}
	return ""
}

// Stations in tables are in the asked units.
func TestTablesFollowTheUnits(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	for _, l := range lane.All() {
		for _, row := range l.Table(p, unit.FeetInches).Rows {
			for k, cell := range row[1:] {
				if strings.HasSuffix(cell, " mm") && strings.Contains(l.Table(p, unit.FeetInches).Columns[k+1].Head, "from") {
					t.Errorf("%s says %s in feet and inches", l.ID, cell)
				}
			}
		}
	}
}

// Leaders of labels never cross one another, at spans of 100 to 1400 mm on lanes as
// wide as a page of 900 to 1600 px leaves them; and the whole demo has a label for
// every component and its core. Crossings are counted from the drawn lines.
func TestLeadersDoNotCross(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	views(p, []float64{650, 900, 1250}, 130, func(v lane.View) {
		for _, l := range [...]string{"elevation", "lights"} {
			ways := labelLeaders(drawnLane(p, l, v))
			for name, a := range ways {
				for other, b := range ways {
					if name < other && legsCross(a, b) {
						t.Errorf("%s, %v to %v on %.0f mm: the leaders of %s and %s cross", l, v.Span.From, v.Span.To, v.Width, name, other)
					}
				}
			}
		}
	})
	for _, wide := range []float64{97, 190, 240, 300, 350} {
		for _, l := range [...]string{"elevation", "lights"} {
			got := len(labelLeaders(drawnLane(p, l, lane.View{Span: p.Span, Width: wide})))
			want := len(p.Places.Bays)
			if l == "elevation" {
				want += 2 // the core, and the stand's post in it
			}
			if wide > 100 && got != want || got < want-2 { // a telephone has room for most
				t.Errorf("%s on %v mm names %d of %d", l, wide, got, want)
			}
		}
	}
}

func drawnLane(p *lane.Prepared, id string, v lane.View) *drawing.Scene {
	for _, l := range lane.All() {
		if l.ID == id {
			return l.Draw(p, v)
		}
	}
	return nil
}

// labelLeaders are the lines of the labels' leaders, by what they name.
func labelLeaders(s *drawing.Scene) map[string][]drawing.Segment {
	out := map[string][]drawing.Segment{}
	name := ""
	for _, it := range s.Items {
		switch it := it.(type) {
		case drawing.Group:
			name = ""
			if it.Class == "label" {
				name = it.ID
			}
		case drawing.Drawn:
			if name != "" && it.Style.Fill == drawing.None {
				out[name] = append(out[name], it.Path.Segments()...)
			}
		}
	}
	return out
}

func legsCross(as, bs []drawing.Segment) bool {
	side := func(a, b, c drawing.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	for _, a := range as {
		for _, b := range bs {
			if side(a.A, a.B, b.A)*side(a.A, a.B, b.B) < 0 && side(b.A, b.B, a.A)*side(b.A, b.B, a.B) < 0 {
				return true
			}
		}
	}
	return false
}

// On a phone the elevation is 70 mm wide; what sits in it is named all the same.
func TestComponentsAreNamedOnAPhone(t *testing.T) {
	p := prepared(t, "foyer-rocket")
	for _, wide := range []float64{70, 100, 200} {
		named := map[string]bool{}
		for _, it := range lane.Elevation(p, lane.View{Span: p.Span, Width: wide}).Items {
			if g, ok := it.(drawing.Group); ok && g.Class == "label" {
				named[g.Title] = true
			}
		}
		for _, b := range p.Places.Bays {
			if !slices.ContainsFunc(slices.Collect(maps.Keys(named)), func(says string) bool { return says == b.Component || strings.HasPrefix(says, b.Component+",") }) {
				t.Errorf("%v mm wide: %s has no name", wide, b.Component)
			}
		}
	}
}
