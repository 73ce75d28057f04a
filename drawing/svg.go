package drawing

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// SVGOptions say how a Scene is written as SVG. The zero value is black on
// white, sized in millimetres, lettered as on paper.
type SVGOptions struct {
	Palette Palette
	// Variables writes each named ink as a CSS custom property of its name,
	// var(--ink), with the palette's value to fall back on: then the page
	// turns from day to night without a new drawing.
	Variables bool
	// Family is the CSS font-family; empty is PaperFamily.
	Family string
	// IDPrefix keeps the ids of two drawings on one page apart.
	IDPrefix string
	// Fluid leaves out width and height, so that the page sizes the drawing.
	Fluid bool
}

// Font families for SVG: paper's own, and the page's, whose letters are
// narrower, so that what was measured in the former fits.
const (
	PaperFamily  = "'DejaVu Sans Condensed','DejaVu Sans',sans-serif"
	ScreenFamily = "'Fira Sans Condensed','DejaVu Sans Condensed',sans-serif"
)

// svgWriter holds what is needed along the way.
type svgWriter struct {
	w    *bufio.Writer
	o    SVGOptions
	used map[string]bool // ids, to keep them single; never ranged over
	deep int
}

// SVG writes the scene as one svg element with a viewBox in millimetres. Text
// stays text, groups and ids stay. An id used twice gets a number behind it.
func SVG(w io.Writer, s *Scene, o SVGOptions) error {
	if err := s.check(); err != nil {
		return err
	}
	if o.Palette == (Palette{}) {
		o.Palette = Print
	}
	if o.Family == "" {
		o.Family = PaperFamily
	}
	g := &svgWriter{w: bufio.NewWriter(w), o: o, used: map[string]bool{}}
	g.root(s)
	for _, it := range s.Items {
		switch v := it.(type) {
		case Group:
			g.group(v)
		case GroupEnd:
			g.deep--
			g.line("</g>")
		case Drawn:
			g.drawn(v)
		case Text:
			g.text(v)
		case Image:
			g.image(v)
		case Link:
			g.link(v)
		}
	}
	g.deep = 0
	g.line("</svg>")
	if err := g.w.Flush(); err != nil {
		return fmt.Errorf("write SVG: %w", err)
	}
	return nil
}

func (g *svgWriter) root(s *Scene) {
	size := ""
	if !g.o.Fluid {
		size = attr("width", num(s.Width)+"mm") + attr("height", num(s.Height)+"mm")
	}
	g.line(`<svg xmlns="http://www.w3.org/2000/svg"` + size +
		attr("viewBox", "0 0 "+num(s.Width)+" "+num(s.Height)) + ` role="img"` +
		attr("font-family", g.o.Family) +
		// What was measured without kerning is set without.
		` font-stretch="condensed" style="font-kerning:none" fill="none" stroke-linejoin="round">`)
	g.deep = 1
	g.titles(s.Title, s.Desc)
}

// line writes one line, indented by the depth of groups.
func (g *svgWriter) line(t string) {
	for range g.deep {
		g.w.WriteByte(' ')
	}
	g.w.WriteString(t)
	g.w.WriteByte('\n')
}

func (g *svgWriter) titles(title, desc string) {
	if title != "" {
		g.line("<title>" + xmlText(title) + "</title>")
	}
	if desc != "" {
		g.line("<desc>" + xmlText(desc) + "</desc>")
	}
}

func (g *svgWriter) group(v Group) {
	role := v.Role
	if role == "" && v.Title != "" {
		role = "group"
	}
	var t strings.Builder
	clip := ""
	if v.Clip != nil {
		name := g.single("clip")
		g.line("<clipPath" + attr("id", name) + `><path d="` + pathData(Box(*v.Clip)) + `"/></clipPath>`)
		clip = attr("clip-path", "url(#"+name+")")
	}
	t.WriteString("<g" + g.id(v.ID) + attr("class", v.Class) + attr("role", role) + attr("aria-label", v.Title) + clip)
	for _, d := range v.Data {
		t.WriteString(attr("data-"+d[0], d[1]))
	}
	g.line(t.String() + ">")
	g.deep++
	g.titles(v.Title, "")
}

func (g *svgWriter) drawn(v Drawn) {
	if len(v.Path.segs) == 0 {
		return
	}
	t := "<path" + g.id(v.ID) + ` d="` + pathData(v.Path) + `"`
	if v.Style.Fill != None {
		t += g.colour("fill", v.Style.Fill)
		if v.Style.EvenOdd {
			t += ` fill-rule="evenodd"`
		}
	}
	if st := v.Style.Stroke; st.Colour != None && st.Width > 0 {
		t += g.colour("stroke", st.Colour) + attr("stroke-width", num(st.Width))
		if len(st.Dash) > 0 {
			ds := make([]string, len(st.Dash))
			for i, d := range st.Dash {
				ds[i] = num(d)
			}
			t += attr("stroke-dasharray", strings.Join(ds, " "))
		}
	}
	if o := v.Style.Opacity; o > 0 && o < 1 {
		t += attr("opacity", num(o))
	}
	g.line(t + "/>")
}

func (g *svgWriter) text(v Text) {
	if v.blank() {
		return
	}
	x, y := num(v.At.X), num(v.At.Y)
	t := "<text" + g.id(v.ID) + attr("class", v.Class)
	if v.Rotate != 0 {
		t += attr("transform", "translate("+x+" "+y+") rotate("+num(v.Rotate)+")")
		x, y = "0", num(v.drop())
	} else {
		y = num(v.At.Y + v.drop())
	}
	t += attr("x", x) + attr("y", y) + attr("font-size", num(v.Size))
	switch v.H {
	case Middle:
		t += ` text-anchor="middle"`
	case End:
		t += ` text-anchor="end"`
	}
	if v.Halo > 0 {
		t += g.colour("stroke", Sheet) + attr("stroke-width", num(2*v.Halo)) + ` paint-order="stroke"`
	}
	spans := v.spans()
	if len(spans) == 1 {
		g.line(t + g.letters(spans[0]) + ">" + xmlText(spans[0].Text) + "</text>")
		return
	}
	var b strings.Builder
	for _, sp := range spans {
		b.WriteString("<tspan" + g.letters(sp) + ">" + xmlText(sp.Text) + "</tspan>")
	}
	g.line(t + ">" + b.String() + "</text>")
}

// letters is the face and colour of a stretch of words.
func (g *svgWriter) letters(sp Span) string {
	t := ""
	if sp.Face.bold() {
		t += ` font-weight="600"`
	}
	if sp.Face.italic() {
		t += ` font-style="italic"`
	}
	if sp.Colour == None {
		sp.Colour = Ink
	}
	return t + g.colour("fill", sp.Colour)
}

func (g *svgWriter) image(v Image) {
	kind, err := v.kind()
	if err != nil {
		return // check has refused it already
	}
	g.line("<image" + g.id(v.ID) + attr("x", num(v.Box.X)) + attr("y", num(v.Box.Y)) +
		attr("width", num(v.Box.W)) + attr("height", num(v.Box.H)) + ` preserveAspectRatio="none"` +
		attr("role", "img") + attr("aria-label", v.Alt) +
		` href="data:image/` + kind + ";base64," + base64.StdEncoding.EncodeToString(v.Data) + `"/>`)
}

func (g *svgWriter) link(v Link) {
	href := v.URL
	if href == "" {
		href = "#" + v.To
	}
	g.line("<a" + attr("href", href) + `><path d="` + pathData(Box(v.Area)) + `" fill="none" pointer-events="all"/></a>`)
}

// colour writes a paint attribute.
func (g *svgWriter) colour(name string, c Colour) string {
	hex, _ := g.o.Palette.Hex(c)
	if g.o.Variables && !strings.HasPrefix(string(c), "#") {
		hex = "var(--" + string(c) + ", " + hex + ")"
	}
	return attr(name, hex)
}

// id writes an id attribute: without spaces, which HTML forbids in ids, and
// single on the page.
func (g *svgWriter) id(id string) string {
	if id == "" {
		return ""
	}
	return attr("id", g.single(id))
}

// single is an id that nothing else on the page has.
func (g *svgWriter) single(id string) string {
	id = g.o.IDPrefix + strings.Join(strings.Fields(clean(id)), "-")
	one := id
	for n := 2; g.used[one]; n++ {
		one = id + "-" + strconv.Itoa(n)
	}
	g.used[one] = true
	return one
}

// attr writes an attribute, or nothing where its value is empty.
func attr(name, value string) string {
	if value == "" {
		return ""
	}
	return " " + name + `="` + xmlText(value) + `"`
}

var xmlEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func xmlText(s string) string { return xmlEscapes.Replace(clean(s)) }

// pathData is the d attribute.
func pathData(p *Path) string {
	var b []byte
	for i := range p.segs {
		s := &p.segs[i]
		switch s.verb {
		case moveTo:
			b = append(b, 'M')
		case lineTo:
			b = append(b, 'L')
		case curveTo:
			b = append(b, 'C')
		case closePath:
			b = append(b, 'Z')
		}
		for j, q := range s.points() {
			if j > 0 {
				b = append(b, ' ')
			}
			b = appendNum(b, q.X, 3)
			b = append(b, ',')
			b = appendNum(b, q.Y, 3)
		}
	}
	return string(b)
}
