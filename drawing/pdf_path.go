package drawing

// drawn writes a path with its paint.
func (g *pdfWriter) drawn(v Drawn) {
	st := v.Style
	stroked := st.Stroke.Colour != None && st.Stroke.Width > 0
	filled := st.Fill != None
	if len(v.Path.segs) == 0 || (!stroked && !filled) {
		return
	}
	g.raw("q")
	if st.Opacity > 0 && st.Opacity < 1 {
		g.f.SetAlpha(st.Opacity, "Normal")
	}
	op := "f"
	if filled {
		g.raw(g.rgb(st.Fill) + " rg")
	}
	if stroked {
		g.raw(g.rgb(st.Stroke.Colour) + " RG " + num(st.Stroke.Width) + " w" + dash(st.Stroke.Dash))
		op = "S"
		if filled {
			op = "B"
		}
	}
	if filled && st.EvenOdd {
		op += "*"
	}
	g.raw(string(pathCommands(v.Path)) + op)
	g.raw("Q")
}

func dash(ds []float64) string {
	if len(ds) == 0 {
		return ""
	}
	b := []byte(" [")
	for i, d := range ds {
		if i > 0 {
			b = append(b, ' ')
		}
		b = appendNum(b, d, 3)
	}
	return string(append(b, "] 0 d"...))
}

// rgb is the colour as three parts of one, of three digits.
func (g *pdfWriter) rgb(c Colour) string {
	hex, _ := g.palette.Hex(c)
	v, _ := parseHex(hex)
	var b []byte
	for i, x := range v {
		if i > 0 {
			b = append(b, ' ')
		}
		b = appendNum(b, float64(x)/255, 3)
	}
	return string(b)
}

// pathCommands writes the path with the operators of ISO 32000-1, 8.5.2.
func pathCommands(p *Path) []byte {
	var b []byte
	for i := range p.segs {
		s := &p.segs[i]
		for _, q := range s.points() {
			b = appendNum(b, q.X, 3)
			b = append(b, ' ')
			b = appendNum(b, q.Y, 3)
			b = append(b, ' ')
		}
		switch s.verb {
		case moveTo:
			b = append(b, "m\n"...)
		case lineTo:
			b = append(b, "l\n"...)
		case curveTo:
			b = append(b, "c\n"...)
		case closePath:
			b = append(b, "h\n"...)
		}
	}
	return b
}
