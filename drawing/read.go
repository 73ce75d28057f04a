package drawing

// Data is the path as the d attribute of an SVG path, in mm to a thousandth: for
// writers of a scene that are not in this package.
func (t *Path) Data() string { return pathData(t) }

// Runs is the line of letters in its stretches of one face and colour each, as
// they are set: without letters that no font has.
func (t Text) Runs() []Span {
	var out []Span
	for _, sp := range t.spans() {
		sp.Text = clean(sp.Text)
		if sp.Colour == None {
			sp.Colour = Ink
		}
		out = append(out, sp)
	}
	return out
}

// BaseBelow is how far the baseline lies below At, before the line is turned.
func (t Text) BaseBelow() float64 { return t.drop() }

// Blank reports whether nothing of the line is seen.
func (t Text) Blank() bool { return t.blank() }

// IsBold reports whether the face is a bold one.
func (f Face) IsBold() bool { return f.bold() }

// IsItalic reports whether the face is an italic one.
func (f Face) IsItalic() bool { return f.italic() }
