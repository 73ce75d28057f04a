package unit

import (
	"cmp"
	"math"
	"slices"
)

// Source is one variable that several values may share: a photograph's scale,
// a printer's offset. U is its signed contribution to the value it stands in
// (sensitivity times standard uncertainty), so that contributions of the same
// name add up before they are squared.
type Source struct {
	Name string  `json:"name"`
	U    float64 `json:"u"`
}

// Value is an estimate X with its combined standard uncertainty U and the
// shared part of U by source, sorted by name. What Sources do not account for
// is independent. The zero value is exactly zero.
type Value struct {
	X       float64  `json:"x"`
	U       float64  `json:"u"`
	Sources []Source `json:"sources,omitempty"`
}

// Exact is a value without doubt.
func Exact(x float64) Value { return Value{X: x} }

// Estimate is x with independent doubt u and the given shared sources.
func Estimate(x, u float64, sources ...Source) Value {
	v := Value{X: x, Sources: merge(sources, nil)}
	v.U = math.Sqrt(u*u + sumSquares(v.Sources))
	return v
}

// Independent is the part of U that no source accounts for.
func (v Value) Independent() float64 {
	return math.Sqrt(max(0, v.U*v.U-sumSquares(v.Sources)))
}

// Add is v + w. Sources of the same name add with their signs (JCGM 100:2008,
// 5.2.2, fully correlated); the independent parts add in squares.
func (v Value) Add(w Value) Value {
	a, b := v.Independent(), w.Independent()
	return Estimate(v.X+w.X, math.Sqrt(a*a+b*b), merge(v.Sources, w.Sources)...)
}

// Sub is v - w.
func (v Value) Sub(w Value) Value { return v.Add(w.Scale(-1)) }

// Scale is k times v.
func (v Value) Scale(k float64) Value {
	out := Value{X: k * v.X, U: math.Abs(k) * v.U}
	for _, s := range v.Sources {
		out.Sources = append(out.Sources, Source{s.Name, k * s.U})
	}
	return out
}

func merge(a, b []Source) []Source {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(p, q Source) int { return cmp.Compare(p.Name, q.Name) })
	var out []Source
	for _, s := range all {
		if n := len(out); n > 0 && out[n-1].Name == s.Name {
			out[n-1].U += s.U
			continue
		}
		out = append(out, s)
	}
	return out
}

func sumSquares(sources []Source) float64 {
	sum := 0.0
	for _, s := range sources {
		sum += float64(s.U * s.U)
	}
	return sum
}
