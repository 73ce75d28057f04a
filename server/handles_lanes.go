package server

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"scalewright/build"
	"scalewright/job"
	"scalewright/model"
	"scalewright/stock"
	"scalewright/unit"
)

// values are the declared texts of build.yaml by their path.
type values map[string]string

func valuesOf(l build.Loaded) values {
	out := values{}
	for _, v := range l.Values() {
		if v.At.File == build.BuildFile {
			out[v.At.Path] = v.Text
		}
	}
	return out
}

// has reports whether a section, or a value of it, is declared.
func (v values) has(path string) bool {
	for p := range v {
		if p == path || strings.HasPrefix(p, path+".") {
			return true
		}
	}
	return false
}

// lanesOf says where a declared length is edited, and by which marks it is found.
func lanesOf(h *Handle, r job.Result) {
	keys := strings.Split(h.At.Path, ".")
	h.Lanes, h.Marks = []string{"elevation"}, []string{}
	switch keys[0] {
	case "parts":
		if h.Kind == "wall" {
			h.Lanes = append(h.Lanes, "walls")
		} else {
			h.Lanes = append(h.Lanes, "pieces")
		}
	case "cuts":
		h.Lanes = append(h.Lanes, "pieces")
	case "core":
		h.Lanes, h.Marks = append(h.Lanes, "core"), []string{"core", "core-length", "post"}
	case "openings":
		for _, c := range r.Design.Components {
			if c.Opening == keys[1] {
				h.Lanes, h.Marks = append(h.Lanes, "lights"), append(h.Marks, "component-"+c.ID)
			}
		}
	}
}

// byLane are the values that belong to a lane and are no length along the build:
// kinds of joints, the stand, coats, the reference's length, components' places.
func (h handleMaker) byLane(v values) []Handle {
	var out []Handle
	for _, more := range [][]Handle{h.ofJoints(v), h.ofStand(v), h.ofFinish(v), h.ofReading(v), h.ofComponents(v)} {
		out = append(out, more...)
	}
	return out
}

func handleAt(path, kind, name, text string, station unit.Length, lane string, marks ...string) Handle {
	return Handle{
		ID: "handle-" + strings.ReplaceAll(path, ".", "-"), Kind: kind, Name: name, Text: text, Says: text, Owner: "shop",
		Station: hundredth(float64(station)), At: Place{build.BuildFile, path}, Snaps: []float64{}, Lanes: []string{lane}, Marks: append([]string{}, marks...),
	}
}

// asFound is what a kind of joint says that the program chose.
const asFound = "as the program finds"

// ofJoints are the kinds of joint at declared joints, at parts that meet and at kept
// cuts; what is not declared yet is written with the parts it lies between.
func (h handleMaker) ofJoints(v values) []Handle {
	var kinds []string
	for _, j := range stock.Joints() {
		if j.Can(stock.AtSeam) || j.Can(stock.AtBoth) {
			kinds = append(kinds, j.Word)
		}
	}
	one := func(id, path, name string, station unit.Length, with ...Change) Handle {
		kind := v[path]
		out := handleAt(path, "choice", "joint "+name, kind, station, "fits", "fit-"+id)
		out.Options, out.With = kinds, with
		if kind == "" {
			out.Says = asFound
		}
		return out
	}
	var out []Handle
	for _, face := range h.r.Design.Interfaces {
		section := "joints." + face.ID
		if strings.HasPrefix(face.At.Path, "joints.") {
			section = face.At.Path
		}
		var with []Change
		if !v.has(section) {
			with = []Change{{Op: "put", At: Place{build.BuildFile, section + ".between"}, Text: "[" + face.Below + ", " + face.Above + "]"}}
		}
		out = append(out, one(face.ID, section+".kind", face.Below+" and "+face.Above, face.Station, with...))
	}
	for _, c := range h.r.Design.Cuts {
		k := slices.IndexFunc(h.r.Design.Parts, func(p model.Part) bool { return p.ID == c.Part })
		if k >= 0 && h.r.Design.Parts[k].OnBody() {
			out = append(out, one(c.ID, "cuts."+c.ID+".kind", c.ID, c.Station))
		}
	}
	return out
}

// ofStand are the sizes of what it stands on, which keep it upright.
func (h handleMaker) ofStand(v values) []Handle {
	var out []Handle
	for _, k := range [...]struct{ key, name string }{
		{"across", "base across"}, {"thick", "base thick"}, {"ballast", "ballast"}, {"below", "base to station 0"}, {"engage", "post in the core"},
	} {
		if text, ok := v["stand."+k.key]; ok {
			out = append(out, handleAt("stand."+k.key, "size", k.name, text, 0, "weight", "centre-of-mass", "grip-"))
		}
	}
	return out
}

// mostCoats a build file takes.
const mostCoats = 20

func (h handleMaker) ofFinish(v values) []Handle {
	if !v.has("finish") {
		return nil
	}
	f := h.r.Design.Finish
	seen := handleAt("finish.seen", "choice", "seen from", string(f.Grade), 0, "finish", "zone-", "coat-")
	for _, g := range [...]model.Grade{model.Unfinished, model.StageGrade, model.ArmGrade, model.CloseGrade} {
		seen.Options = append(seen.Options, string(g))
	}
	out := []Handle{seen}
	for _, k := range [...]struct {
		key, name string
		n         int
	}{{"colour_coats", "coats of colour", f.Colour}, {"clear_coats", "coats of clear", f.Clear}} {
		one := handleAt("finish."+k.key, "count", k.name, strconv.Itoa(k.n), 0, "finish", "zone-", "coat-")
		one.Value, one.Most = float64(k.n), mostCoats
		out = append(out, one)
	}
	return out
}

// ofReading is the overall length by caliper, which the doubt hangs on.
func (h handleMaker) ofReading(v values) []Handle {
	text, ok := v["reference.length"]
	if !ok || len(h.r.Design.Outline) == 0 {
		return nil
	}
	out := handleAt("reference.length", "size", "length of the reference", text, unit.Length(h.r.Design.Outline.End()), "error", "doubt", "largest-error")
	out.Owner = "reference"
	return []Handle{out}
}

// mostPixels of a strip that a build file takes.
const mostPixels = 500

// ofComponents are the places of what lights and sounds, and the lamps of strips. One
// whose place was only found is written, with its clocking, where it is let go.
func (h handleMaker) ofComponents(v values) []Handle {
	if len(h.r.Design.Outline) == 0 {
		return nil // nothing lies along an axis
	}
	var out []Handle
	for _, c := range h.r.Design.Components {
		section := "components." + c.ID
		bay, in := h.r.Places.Bay(c.ID)
		if !in {
			continue
		}
		marks := []string{"component-" + c.ID, "lamps-" + c.ID}
		middle := bay.Centre[2]
		if c.Opening == "" {
			one := handleAt(section+".at", "station", "place of "+c.ID, v[section+".at"], middle, "lights", marks...)
			one.Part, one.Lanes = c.Part, append(one.Lanes, "elevation")
			h.along(&one, one.Name, middle)
			if c.Placed {
				dim, err := unit.ParseDim(one.Text)
				if err != nil {
					continue // check has said why
				}
				one.Owner = ownerOf(dim)
				h.along(&one, one.Name, c.Station)
			} else {
				one.Text = unit.Shop(one.Station).Text
				turn := math.Atan2(float64(bay.Centre[1]), float64(bay.Centre[0])) * 180 / math.Pi
				one.With = []Change{{Op: "put", At: Place{build.BuildFile, section + ".clocking_deg"}, Text: strconv.FormatFloat(math.Round(turn), 'f', -1, 64)}}
			}
			one.Value, one.Says = one.Station, h.u.Tenth(unit.Length(one.Station))
			out = append(out, one)
		}
		if c.Kind.Role == stock.Strip {
			one := handleAt(section+".pixels", "count", "lamps of "+c.ID, strconv.Itoa(c.Pixels), middle, "lights", marks...)
			one.Value, one.Least, one.Most = float64(c.Pixels), 1, mostPixels
			out = append(out, one)
		}
	}
	return out
}
