package formats

import (
	"io"
	"strconv"
	"strings"

	"scalewright/solid"
)

// stlLine bounds a line of an ASCII file.
const stlLine = 1 << 16

// asciiSTL reads the grammar line by line:
//
//	solid NAME
//	  facet normal NX NY NZ
//	    outer loop
//	      vertex X Y Z      three times
//	    endloop
//	  endfacet
//	endsolid NAME
type asciiSTL struct {
	*textLines
	limits Limits
	mesh   solid.Mesh
}

func readASCII(r io.Reader, limits Limits) (solid.Mesh, error) {
	s := &asciiSTL{textLines: newTextLines(r, "STL", limits.Bytes, stlLine), limits: limits}
	if err := s.read(); err != nil {
		return solid.Mesh{}, err
	}
	return s.mesh, nil
}

// words returns the words of the next line that has any, in lower case; nil at
// the end of the file.
func (s *asciiSTL) words() ([]string, error) {
	for {
		line, ok, err := s.next()
		if !ok {
			return nil, err
		}
		if words := strings.Fields(strings.ToLower(string(line))); len(words) > 0 {
			return words, nil
		}
	}
}

func (s *asciiSTL) read() error {
	open := false
	for {
		words, err := s.words()
		switch {
		case err != nil:
			return err
		case words == nil && open:
			return s.fault("file ends without endsolid")
		case words == nil:
			return nil
		case !open && words[0] == "solid":
			open = true
		case open && words[0] == "endsolid":
			open = false
		case open && words[0] == "facet":
			if err := s.facet(); err != nil {
				return err
			}
		case open:
			return s.fault("found %q, want facet or endsolid", short(words[0]))
		default:
			return s.fault("found %q, want solid", short(words[0]))
		}
	}
}

func (s *asciiSTL) facet() error {
	if len(s.mesh.Triangles) >= s.limits.Triangles {
		return &LimitError{"STL", "triangles", int64(s.limits.Triangles)}
	}
	if err := s.want("outer", "loop"); err != nil {
		return err
	}
	first := int32(len(s.mesh.Vertices))
	for range 3 {
		if err := s.vertex(); err != nil {
			return err
		}
	}
	if err := s.want("endloop"); err != nil {
		return err
	}
	if err := s.want("endfacet"); err != nil {
		return err
	}
	s.mesh.Triangles = append(s.mesh.Triangles, [3]int32{first, first + 1, first + 2})
	return nil
}

func (s *asciiSTL) want(words ...string) error {
	got, err := s.words()
	if err != nil {
		return err
	}
	if got == nil {
		return s.fault("file ends, want %s", strings.Join(words, " "))
	}
	if len(got) < len(words) || strings.Join(got[:len(words)], " ") != strings.Join(words, " ") {
		return s.fault("found %q, want %s", short(got[0]), strings.Join(words, " "))
	}
	return nil
}

func (s *asciiSTL) vertex() error {
	words, err := s.words()
	if err != nil {
		return err
	}
	if len(words) != 4 || words[0] != "vertex" {
		return s.fault("want vertex and three numbers")
	}
	var p solid.Vec
	for k, w := range words[1:] {
		x, err := strconv.ParseFloat(w, 64)
		if err != nil || x-x != 0 {
			return s.fault("%q is not a finite number", short(w))
		}
		p[k] = x
	}
	s.mesh.Vertices = append(s.mesh.Vertices, p)
	return nil
}
