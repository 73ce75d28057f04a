package solid

import (
	"math"
	"slices"
)

// Transform is an affine map p → M·p + T. The zero value maps everything to the
// origin; start from [Identity] or one of the makers.
type Transform struct {
	M [3][3]float64 // rows
	T Vec
}

// Identity returns the transform that moves nothing.
func Identity() Transform {
	return Transform{M: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
}

// Translation returns the transform that moves by v.
func Translation(v Vec) Transform {
	t := Identity()
	t.T = v
	return t
}

// Scaling returns the transform that enlarges by f about the origin.
func Scaling(f float64) Transform {
	return Transform{M: [3][3]float64{{f, 0, 0}, {0, f, 0}, {0, 0, f}}}
}

// Rotation returns the rotation about an axis through the origin, by radians,
// anticlockwise seen with the axis pointing at the eye. For whole quarters see
// [QuarterTurns], which is exact. A zero axis rotates nothing.
func Rotation(axis Vec, angle float64) Transform {
	u := axis.Unit()
	if u == (Vec{}) {
		return Identity()
	}
	// Rodrigues' formula.
	sin, cos := math.Sincos(angle)
	t := Identity()
	cross := [3][3]float64{{0, -u[2], u[1]}, {u[2], 0, -u[0]}, {-u[1], u[0], 0}}
	for i := range 3 {
		for j := range 3 {
			t.M[i][j] = float64(float64(u[i]*u[j])*(1-cos)) + float64(cross[i][j]*sin)
		}
		t.M[i][i] += cos
	}
	return t
}

// QuarterTurns returns the exact rotation by a whole number of right angles
// about axis 0 (x), 1 (y) or 2 (z).
func QuarterTurns(axis, quarters int) Transform {
	i, j := (axis+1)%3, (axis+2)%3
	cos := [4]float64{1, 0, -1, 0}[((quarters%4)+4)%4]
	sin := [4]float64{0, 1, 0, -1}[((quarters%4)+4)%4]
	t := Identity()
	t.M[i][i], t.M[i][j] = cos, -sin
	t.M[j][i], t.M[j][j] = sin, cos
	return t
}

// Reflection returns the mirror image in a plane. A plane without direction
// reflects nothing.
func Reflection(p Plane) Transform {
	t := Identity()
	l2 := p.Normal.Dot(p.Normal)
	if l2 == 0 {
		return t
	}
	for i := range 3 {
		for j := range 3 {
			t.M[i][j] -= 2 * float64(p.Normal[i]*p.Normal[j]) / l2
		}
		t.T[i] = 2 * float64(p.Offset*p.Normal[i]) / l2
	}
	return t
}

// Apply returns the image of a point.
func (t Transform) Apply(p Vec) Vec { return t.Turn(p).Add(t.T) }

// Turn returns the image of a direction.
func (t Transform) Turn(p Vec) Vec {
	// + 0 turns −0 into 0, which files would print with its sign.
	return Vec{Vec(t.M[0]).Dot(p) + 0, Vec(t.M[1]).Dot(p) + 0, Vec(t.M[2]).Dot(p) + 0}
}

// Then returns the transform that does t first and u after it.
func (t Transform) Then(u Transform) Transform {
	out := Transform{T: u.Apply(t.T)}
	for i := range 3 {
		for j := range 3 {
			out.M[i][j] = Vec(u.M[i]).Dot(Vec{t.M[0][j], t.M[1][j], t.M[2][j]})
		}
	}
	return out
}

// Det returns the determinant: 1 for a motion, −1 for a mirror image.
func (t Transform) Det() float64 {
	return Vec(t.M[0]).Dot(Vec(t.M[1]).Cross(Vec(t.M[2])))
}

// Inverse returns the transform that undoes t, and false where there is none.
func (t Transform) Inverse() (Transform, bool) {
	d := t.Det()
	if d == 0 || d-d != 0 {
		return Transform{}, false
	}
	var out Transform
	for j := range 3 {
		col := Vec(t.M[(j+1)%3]).Cross(Vec(t.M[(j+2)%3])) // row of cofactors
		for i := range 3 {
			out.M[i][j] = col[i] / d
		}
	}
	out.T = out.Turn(t.T).Scale(-1)
	return out, true
}

// Transform returns the image of the solid. Where t mirrors, triangles are
// turned round so that outside stays outside.
func (m Mesh) Transform(t Transform) Mesh {
	out := Mesh{Vertices: make([]Vec, len(m.Vertices)), Triangles: slices.Clone(m.Triangles)}
	for i, p := range m.Vertices {
		out.Vertices[i] = t.Apply(p)
	}
	if t.Det() < 0 {
		for i, tri := range out.Triangles {
			out.Triangles[i] = [3]int32{tri[0], tri[2], tri[1]}
		}
	}
	return out
}

// Translate returns the solid moved by v.
func (m Mesh) Translate(v Vec) Mesh { return m.Transform(Translation(v)) }
