package drawing

// text writes one line of letters: first its surround, stroked in the sheet's
// colour, then the letters.
func (g *pdfWriter) text(v Text) {
	if v.blank() {
		return
	}
	sin, cos := sincosDeg(v.Rotate)
	// From the anchor back along the line and down across it.
	back, drop := v.back(), v.drop()
	at := v.At.Add(Pt(
		-float64(back*cos)-float64(drop*sin),
		-float64(back*sin)+float64(drop*cos),
	))
	for _, haloed := range [2]bool{true, false} {
		if haloed && v.Halo == 0 {
			continue
		}
		p := at
		for _, sp := range v.spans() {
			g.span(p, v, sp, haloed)
			w := Measure(sp.Text, sp.Face, v.Size)
			p = p.Add(Pt(float64(w*cos), float64(w*sin)))
		}
	}
}

// span writes a stretch of words from its start, or the surround of one.
func (g *pdfWriter) span(at Point, v Text, sp Span, halo bool) {
	str := shown(sp.Text, sp.Face)
	if str == "" {
		return
	}
	c := sp.Colour
	if c == None {
		c = Ink
	}
	g.raw("q " + upright(at.X, at.Y, v.Rotate))
	g.f.SetFont("lettering", sp.Face.style(), v.Size*ptPerMM)
	hex, _ := g.palette.Hex(c)
	rgb, _ := parseHex(hex)
	g.f.SetTextColor(rgb[0], rgb[1], rgb[2])
	if halo {
		// Text rendering mode 1: outline without fill (ISO 32000-1, 9.3.6).
		g.raw("1 Tr 1 j " + g.rgb(Sheet) + " RG " + num(2*v.Halo*ptPerMM) + " w")
	}
	g.f.Text(0, g.high, str)
	g.raw("Q")
}

// upright is the change of coordinates, within a page's millimetres y down, to
// points y up with the origin at the place, turned clockwise by deg: what the
// PDF library's own commands expect.
func upright(x, y, deg float64) string {
	sin, cos := sincosDeg(deg)
	const mm = 1 / ptPerMM
	var b []byte
	for _, v := range [4]float64{mm * cos, mm * sin, mm * sin, -mm * cos} {
		b = append(appendNum(b, v, 7), ' ')
	}
	b = append(appendNum(b, x, 3), ' ')
	b = append(appendNum(b, y, 3), " cm"...)
	return string(b)
}
