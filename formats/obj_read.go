package formats

import (
	"bytes"
	"io"
	"strconv"

	"scalewright/solid"
)

const (
	// objLine bounds a line, and a line with all that continues it: room for
	// the corners of the largest polygon.
	objLine = 1 << 20
	// maxCorners bounds a polygon, whose triangulation may take time that grows
	// with the square.
	maxCorners = 1 << 14
)

// ReadOBJ reads the polygons of an OBJ file. Groups, materials, texture vertices,
// normals, lines and points are skipped; the order of the corners says where
// outside is. A file with free-form curves or surfaces is refused, since what it
// shows would be missing.
//
// Polygons are divided into triangles in the plane that shows most of them; a
// corner named twice in a row counts once. Vertices are those the file numbers, in
// its order; where that leaves an edge without its opposite, as in files that give
// each patch of a texture its own vertices, they are welded by exact coordinates.
//
// The format is that of Wavefront's Advanced Visualizer manual, appendix B1.
func ReadOBJ(r io.Reader, limits Limits) (solid.Mesh, error) {
	limits = limits.orDefault()
	o := &objReader{textLines: newTextLines(r, "OBJ", limits.Bytes, objLine), limits: limits}
	if err := o.read(); err != nil {
		return solid.Mesh{}, err
	}
	if _, err := o.mesh.Opposites(); err != nil {
		return o.mesh.Weld(), nil
	}
	return o.mesh, nil
}

type objReader struct {
	*textLines
	limits  Limits
	mesh    solid.Mesh
	joined  []byte  // of a line that goes on
	corners []int32 // of the polygon being read
	cut     polygonCutter
}

// objSkipped are the statements that carry no surface: names, looks, the points
// and lines, and vertices of other kinds.
var objSkipped = map[string]bool{
	"vt": true, "vn": true, "vp": true, "p": true, "l": true,
	"g": true, "s": true, "mg": true, "o": true,
	"bevel": true, "c_interp": true, "d_interp": true, "lod": true,
	"maplib": true, "usemap": true, "usemtl": true, "mtllib": true,
	"shadow_obj": true, "trace_obj": true,
}

// objRefused are the statements whose loss would leave a hole or another shape.
var objRefused = map[string]string{
	"curv": "a free-form curve", "curv2": "a free-form curve", "surf": "a free-form surface",
	"cstype": "a free-form shape", "bzp": "a free-form surface", "bsp": "a free-form surface",
	"cdc": "a free-form curve", "cdp": "a free-form surface",
	"call": "another file", "csh": "a command",
}

func (o *objReader) read() error {
	for first := true; ; first = false {
		line, ok, err := o.statement()
		if !ok {
			return err
		}
		if first {
			line = bytes.TrimPrefix(line, []byte("\ufeff"))
		}
		word, rest := cutWord(line)
		switch string(word) {
		case "":
		case "v":
			err = o.vertex(rest)
		case "f", "fo":
			err = o.face(rest)
		default:
			if what, ok := objRefused[string(word)]; ok {
				err = o.fault("%s holds %s, which is not read: export polygons", short(string(word)), what)
			} else if !objSkipped[string(word)] {
				err = o.fault("%q is no statement of the format", short(string(word)))
			}
		}
		if err != nil {
			return err
		}
	}
}

// statement returns the next line without its comment, joined to those that
// continue it after a backslash. A comment ends with its line.
func (o *objReader) statement() ([]byte, bool, error) {
	o.joined = o.joined[:0]
	for {
		line, ok, err := o.next()
		if err != nil || !ok && len(o.joined) == 0 {
			return nil, false, err
		}
		if !ok {
			return o.joined, true, nil // a backslash at the end of the file
		}
		line, _, comment := bytes.Cut(line, []byte("#"))
		line = bytes.TrimRight(line, " \t\r")
		begun, continues := bytes.CutSuffix(line, []byte("\\"))
		if comment {
			begun, continues = line, false
		}
		if !continues && len(o.joined) == 0 {
			return line, true, nil
		}
		if len(o.joined)+len(begun)+1 > objLine {
			return nil, false, o.tooLong()
		}
		o.joined = append(append(o.joined, begun...), ' ')
		if !continues {
			return o.joined, true, nil
		}
	}
}

// cutWord returns the first word of a line and what follows it.
func cutWord(line []byte) (word, rest []byte) {
	line = bytes.TrimLeft(line, " \t\r\v\f")
	if end := bytes.IndexAny(line, " \t\r\v\f"); end >= 0 {
		return line[:end], line[end:]
	}
	return line, nil
}

// vertex reads three coordinates; what may follow is a weight or a colour.
func (o *objReader) vertex(rest []byte) error {
	// Three vertices a triangle is the most a mesh can use.
	if most := 3 * int64(o.limits.Triangles); int64(len(o.mesh.Vertices)) >= most {
		return &LimitError{"OBJ", "vertices", most}
	}
	var p solid.Vec
	for k := range p {
		var word []byte
		if word, rest = cutWord(rest); len(word) == 0 {
			return o.fault("a vertex wants three coordinates, this has %d", k)
		}
		x, err := strconv.ParseFloat(string(word), 64)
		if err != nil || x-x != 0 {
			return o.fault("%q is not a finite number", short(string(word)))
		}
		p[k] = x
	}
	o.mesh.Vertices = append(o.mesh.Vertices, p)
	return nil
}

func (o *objReader) face(rest []byte) error {
	o.corners = o.corners[:0]
	words := 0
	for {
		var word []byte
		if word, rest = cutWord(rest); len(word) == 0 {
			break
		}
		if words++; words > maxCorners {
			return &LimitError{"OBJ", "corners of one polygon", maxCorners}
		}
		v, err := o.corner(word)
		if err != nil {
			return err
		}
		if n := len(o.corners); n == 0 || o.corners[n-1] != v {
			o.corners = append(o.corners, v)
		}
	}
	if words < 3 {
		return o.fault("a face wants three corners or more, this has %d", words)
	}
	for n := len(o.corners); n > 1 && o.corners[n-1] == o.corners[0]; n-- {
		o.corners = o.corners[:n-1]
	}
	if len(o.corners) < 3 {
		return nil // an edge there and back: it bounds nothing, and its neighbours meet
	}
	if len(o.mesh.Triangles)+len(o.corners)-2 > o.limits.Triangles {
		return &LimitError{"OBJ", "triangles", int64(o.limits.Triangles)}
	}
	o.mesh.Triangles = o.cut.append(o.mesh.Triangles, o.mesh.Vertices, o.corners)
	return nil
}

// corner reads v, v/vt, v//vn or v/vt/vn; below zero counts back from the vertex
// read last. Only v is used, but the others must be numbers.
func (o *objReader) corner(word []byte) (int32, error) {
	v, more, _ := bytes.Cut(word, []byte("/"))
	i, err := strconv.ParseInt(string(v), 10, 64)
	if err != nil || i == 0 {
		return 0, o.fault("%q does not begin with the number of a vertex", short(string(word)))
	}
	n := int64(len(o.mesh.Vertices))
	if i > n || i < -n {
		return 0, o.fault("names vertex %d, and there are %d so far", i, n)
	}
	parts := 1
	for ; len(more) > 0; parts++ {
		var other []byte
		other, more, _ = bytes.Cut(more, []byte("/"))
		if len(other) == 0 && len(more) > 0 {
			continue // v//vn
		}
		if _, err := strconv.ParseInt(string(other), 10, 64); err != nil || parts == 3 {
			return 0, o.fault("%q is no corner: write v, v/vt, v//vn or v/vt/vn", short(string(word)))
		}
	}
	if i < 0 {
		return int32(n + i), nil
	}
	return int32(i - 1), nil
}
