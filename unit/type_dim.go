package unit

// Dim is a dimension as written in a build file: a value in millimetres with
// its standard uncertainty, of the reference or of the shop. The zero value is
// a dimension that nobody wrote.
type Dim struct {
	MM    float64 // millimetres, of whichever object owns it
	U     float64 // standard uncertainty, millimetres; 0 where none was written
	Owner Owner
	Text  string // as written; empty when nobody wrote it
}

// Ref is a dimension of the reference, in mm.
func Ref(mm float64) Dim { return Dim{MM: mm, Owner: OfReference, Text: trim(mm, 4) + " ref"} }

// Shop is a dimension of the shop, in mm.
func Shop(mm float64) Dim { return Dim{MM: mm, Owner: OfShop, Text: trim(mm, 4) + " mm"} }

// Written reports whether the maker wrote this dimension at all.
func (d Dim) Written() bool { return d.Text != "" }

// At is the full-size length at an enlargement. Only model.Resolve calls it.
func (d Dim) At(ratio float64) Length {
	if d.Owner == OfReference {
		return Length(d.MM * ratio)
	}
	return Length(d.MM)
}

// String is the dimension as written.
func (d Dim) String() string { return d.Text }

// MarshalText writes the dimension as the maker did.
func (d Dim) MarshalText() ([]byte, error) { return []byte(d.Text), nil }

// UnmarshalText reads what [ParseDim] reads.
func (d *Dim) UnmarshalText(text []byte) error {
	parsed, err := ParseDim(string(text))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}
