package solid

// SimplifyOptions say how far [Kernel.Simplify] may go.
type SimplifyOptions struct {
	// MaxError is the farthest that any point of the new surface may lie from the
	// old one, and any point of the old one from the new (the two-sided Hausdorff
	// distance). 0 asks for the clean-up of flat ground alone, which keeps the
	// shape but for rounding.
	MaxError float64
}

// SimplifyReport says what [Kernel.Simplify] did.
type SimplifyReport struct {
	Before, After int // triangles
	// Flats is the number of flat regions that got fewer triangles, FlatsAfter the
	// number of triangles once they had.
	Flats, FlatsAfter int
	// Collapsed is the number of edges drawn together after that.
	Collapsed int
	// Bound is proven: the two surfaces are nowhere farther apart than this, in
	// either direction. It is at most MaxError, or the allowance for rounding
	// where that is more. The true distance is often half of it.
	Bound float64
}
