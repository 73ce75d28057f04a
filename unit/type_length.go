package unit

// Length is a length at full size, in millimetres.
//
// Millimetre is exact. Inch and Foot are exact as numbers (25.4 and 304.8,
// international yard and pound agreement of 1959) but not as binary floats.
type Length float64

// Units of length: write 3 * unit.Millimetre.
const (
	Millimetre Length = 1
	Inch       Length = 25.4
	Foot       Length = 304.8
)

// Millimetres is the length in mm.
func (l Length) Millimetres() float64 { return float64(l) }

// Inches is the length in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Owner says whom a dimension belongs to.
type Owner uint8

const (
	// OfShop is a dimension of pipe, nozzle, wall or clearance: it stays.
	OfShop Owner = iota
	// OfReference is a dimension of the copied object: it grows.
	OfReference
)

func (o Owner) String() string {
	if o == OfReference {
		return "of the reference"
	}
	return "of the shop"
}

// Mass is in grams.
type Mass float64

// Kilograms is the mass in kg.
func (m Mass) Kilograms() float64 { return float64(m) / 1000 }

// Minutes is a whole number of minutes, the time unit of schedules.
type Minutes int

// Hours is the duration in hours.
func (m Minutes) Hours() float64 { return float64(m) / 60 }
