package build

import (
	"bytes"
	"math"
	"strconv"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// item is the path of an item of a list.
func item(path string, i int) string { return join(path, strconv.Itoa(i)) }

// An arc's centre may be typed to a hundredth or so; past this, mm, it belongs
// to another arc.
const mostOffCentre = 0.1

// readOutline reads an outline file: form only. Whether the outline crosses
// itself or runs back is for the stages to say.
func readOutline(file string, text []byte) (model.DeclaredOutline, *document, finding.List) {
	doc, found := readYAML(file, text)
	raw, more := decode[outlineFile](doc)
	found.Add(more...)
	if len(found) > 0 {
		return model.DeclaredOutline{}, doc, found
	}
	c := checker{file: file}
	out := model.DeclaredOutline{DoubtMM: raw.Doubt, Owner: unit.OfReference, Closed: raw.Closed}
	if raw.Of != nil {
		out.Owner = raw.Of.owner()
	}
	c.closed = raw.Closed
	out.Path = c.path("path", raw.Path)
	for i, hole := range raw.Holes {
		if !raw.Closed {
			c.found.Add(finding.New("holes-of-open", c.at(item("holes", i)), nil))
			break
		}
		out.Holes = append(out.Holes, c.path(item("holes", i), hole))
	}
	return out, doc, c.found
}

// path is the segments between the points; a closed one ends where it begins.
func (c *checker) path(where string, steps []stepFile) model.Outline {
	var out model.Outline
	for i, step := range steps {
		path := item(where, i)
		c.point(join(path, "to"), step.To)
		if i == 0 {
			if step.Centre != nil {
				c.found.Add(finding.New("arc-begins-nowhere", c.at(join(path, "centre")), nil))
			}
			continue
		}
		out = append(out, c.segment(path, steps[i-1].To, step))
	}
	if c.closed && len(steps) > 0 && steps[0].To != steps[len(steps)-1].To {
		out = append(out, c.segment(where, steps[len(steps)-1].To, stepFile{To: steps[0].To}))
	}
	return out
}

// mostMM bounds a station or radius of an outline: the longest dimension a
// build may name.
const mostMM = 100_000

func (c *checker) point(path string, p pointFile) {
	for i, x := range p {
		if math.Abs(x) > mostMM || i == 1 && x < 0 && !c.closed {
			c.found.Add(finding.New("bad-point", c.at(item(path, i)), finding.Args{"x": finding.Name(strconv.FormatFloat(x, 'g', -1, 64))}))
		}
	}
}

// segment is a line, or an arc whose centre is moved on the chord's bisector so
// that both ends lie on it exactly.
func (c *checker) segment(path string, from pointFile, step stepFile) model.Segment {
	s := model.Segment{Kind: model.Line, From: point(from), To: point(step.To)}
	if step.Centre == nil {
		return s
	}
	s.Kind, s.Centre = model.Arc, point(*step.Centre)
	chord := math.Hypot(s.To.Station-s.From.Station, s.To.Radius-s.From.Radius)
	a := math.Hypot(s.From.Station-s.Centre.Station, s.From.Radius-s.Centre.Radius)
	b := math.Hypot(s.To.Station-s.Centre.Station, s.To.Radius-s.Centre.Radius)
	if chord == 0 || !(math.Abs(a-b) <= mostOffCentre) {
		c.found.Add(finding.New("off-centre", c.at(join(path, "centre")), finding.Args{"from": finding.Fine(a), "to": finding.Fine(b)}))
		return s
	}
	ux, uy := (s.To.Station-s.From.Station)/chord, (s.To.Radius-s.From.Radius)/chord
	mx, my := (s.From.Station+s.To.Station)/2, (s.From.Radius+s.To.Radius)/2
	along := float64((s.Centre.Station-mx)*ux) + float64((s.Centre.Radius-my)*uy)
	s.Centre.Station -= float64(along * ux)
	s.Centre.Radius -= float64(along * uy)
	s.R = math.Hypot(s.From.Station-s.Centre.Station, s.From.Radius-s.Centre.Radius)
	return s
}

func point(p pointFile) model.Point { return model.Point{Station: p[0], Radius: p[1]} }

// ReadMarks reads the marks of a photograph, YAML or JSON:
// {pitch_mm, marks: [{px: [x, y], mm: [X, Y]}]}, pixels in the upright image.
// The error is an [Unreadable] when the text is at fault.
func ReadMarks(file string, text []byte) (model.Marks, error) {
	marks, doc, found := readMarks(file, text)
	if len(found) > 0 {
		return model.Marks{}, unreadable(found, map[string]*document{file: doc})
	}
	return marks, nil
}

func readMarks(file string, text []byte) (model.Marks, *document, finding.List) {
	doc, found := readYAML(file, withoutTabs(text))
	raw, more := decode[marksFile](doc)
	found.Add(more...)
	out := model.Marks{PitchMM: raw.Pitch}
	for _, m := range raw.Marks {
		out.Marks = append(out.Marks, model.Mark{Pixel: m.Pixel, Mat: m.Mat})
	}
	return out, doc, found
}

// withoutTabs lets JSON be read as YAML, which allows no tab to indent. JSON
// holds no tab inside a string, so a blank in its place changes nothing.
func withoutTabs(text []byte) []byte {
	if bytes.HasPrefix(bytes.TrimSpace(text), []byte("{")) {
		return bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	return text
}
