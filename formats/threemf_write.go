package formats

import (
	"archive/zip"
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"scalewright/solid"
)

const contentTypes = xml.Header +
	`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
	`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
	`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>` +
	"</Types>\n"

const relations = xml.Header +
	`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
	`<Relationship Id="model" Target="/` + modelPath + `" Type="` + modelRelation + `"/>` +
	"</Relationships>\n"

// noTime stands in every package: the first day a zip file can name. Without any
// time the month and day would be 0, which some readers refuse.
var noTime = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// Write3MF writes a model as a 3MF package in millimetres. Coordinates are
// written with the digits that give the same float64 back; a caller who expects
// readers of single precision passes solids that went through [Round32]. The
// same model gives the same bytes.
//
// An object that isn't a closed solid, or an index out of order, is an error and
// nothing is written.
func Write3MF(w io.Writer, m Model) error {
	if err := m.check(); err != nil {
		return fmt.Errorf("write 3MF: %w", err)
	}
	z := zip.NewWriter(w)
	for _, part := range []struct {
		path  string
		write func(*bufio.Writer)
	}{
		{typesPath, func(b *bufio.Writer) { b.WriteString(contentTypes) }},
		{relationsPath, func(b *bufio.Writer) { b.WriteString(relations) }},
		{modelPath, m.writeXML},
	} {
		f, err := z.CreateHeader(&zip.FileHeader{Name: part.path, Method: zip.Deflate, Modified: noTime})
		if err != nil {
			return fmt.Errorf("write 3MF %s: %w", part.path, err)
		}
		// bufio keeps the first error for Flush, so writes need no check.
		b := bufio.NewWriterSize(f, 1<<16)
		part.write(b)
		if err := b.Flush(); err != nil {
			return fmt.Errorf("write 3MF %s: %w", part.path, err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("write 3MF: %w", err)
	}
	return nil
}

func (m Model) check() error {
	for i, d := range m.Metadata {
		if d.Name == "" {
			return fmt.Errorf("metadata %d has no name", i)
		}
		if slices.ContainsFunc(m.Metadata[:i], func(e Metadata) bool { return e.Name == d.Name }) {
			return fmt.Errorf("metadata %q is there twice", d.Name)
		}
	}
	for i, o := range m.Objects {
		switch {
		case o.Mesh.Empty() == (len(o.Components) == 0):
			return fmt.Errorf("object %d (%s) must have either a mesh or components", i, o.Name)
		case o.Type != Solid && !slices.Contains([]ObjectType{SolidSupport, Support, Surface, OtherObject}, o.Type):
			return fmt.Errorf("object %d (%s): type %q is unknown", i, o.Name, o.Type)
		case !o.Mesh.Empty():
			if err := o.checkMesh(); err != nil {
				return fmt.Errorf("object %d (%s): %w", i, o.Name, err)
			}
		}
		for _, c := range o.Components {
			if c.Object < 0 || c.Object >= i {
				return fmt.Errorf("object %d (%s): component %d must come before it", i, o.Name, c.Object)
			}
			if err := checkTransform(c.Transform); err != nil {
				return fmt.Errorf("object %d (%s): %w", i, o.Name, err)
			}
		}
	}
	for i, it := range m.Items {
		if it.Object < 0 || it.Object >= len(m.Objects) {
			return fmt.Errorf("item %d: there is no object %d", i, it.Object)
		}
		if err := checkTransform(it.Transform); err != nil {
			return fmt.Errorf("item %d: %w", i, err)
		}
	}
	return nil
}

// checkMesh wants a closed solid where the type is one, else only numbers that
// can be written.
func (o Object) checkMesh() error {
	if o.Type.mustBeClosed() {
		return o.Mesh.Solid()
	}
	for _, f := range o.Mesh.Check() {
		if f.Kind == solid.IndexOutOfRange || f.Kind == solid.NotFinite {
			return &solid.NotSolidError{Faults: []solid.Fault{f}}
		}
	}
	return nil
}

func checkTransform(t solid.Transform) error {
	if _, ok := t.Inverse(); !ok {
		return fmt.Errorf("transform is not invertible (determinant %g)", t.Det())
	}
	if t.T.Sub(t.T) != (solid.Vec{}) {
		return fmt.Errorf("transform moves by %v", t.T)
	}
	return nil
}

func (m Model) writeXML(b *bufio.Writer) {
	fmt.Fprintf(b, "%s<model unit=\"millimeter\" xml:lang=\"en\" xmlns=\"%s\">\n", xml.Header, coreNamespace)
	for _, d := range m.Metadata {
		fmt.Fprintf(b, " <metadata name=\"%s\">%s</metadata>\n", escaped(d.Name), escaped(d.Value))
	}
	b.WriteString(" <resources>\n")
	for i, o := range m.Objects {
		kind := string(o.Type)
		if o.Type == Solid {
			kind = "model"
		}
		fmt.Fprintf(b, "  <object id=\"%d\" type=\"%s\"", i+1, kind)
		writeAttr(b, "name", o.Name)
		writeAttr(b, "partnumber", o.PartNumber)
		b.WriteString(">\n")
		if o.Mesh.Empty() {
			writeComponents(b, o.Components)
		} else {
			writeMesh(b, o.Mesh)
		}
		b.WriteString("  </object>\n")
	}
	b.WriteString(" </resources>\n <build>\n")
	for _, it := range m.Items {
		fmt.Fprintf(b, "  <item objectid=\"%d\"", it.Object+1)
		writeTransform(b, it.Transform)
		writeAttr(b, "partnumber", it.PartNumber)
		b.WriteString("/>\n")
	}
	b.WriteString(" </build>\n</model>\n")
}

func writeMesh(b *bufio.Writer, m solid.Mesh) {
	b.WriteString("   <mesh>\n    <vertices>\n")
	var buf []byte
	for _, p := range m.Vertices {
		buf = append(buf[:0], `     <vertex x="`...)
		buf = strconv.AppendFloat(buf, p[0], 'g', -1, 64)
		buf = append(buf, `" y="`...)
		buf = strconv.AppendFloat(buf, p[1], 'g', -1, 64)
		buf = append(buf, `" z="`...)
		buf = strconv.AppendFloat(buf, p[2], 'g', -1, 64)
		buf = append(buf, "\"/>\n"...)
		b.Write(buf)
	}
	b.WriteString("    </vertices>\n    <triangles>\n")
	for _, t := range m.Triangles {
		buf = append(buf[:0], `     <triangle v1="`...)
		buf = strconv.AppendInt(buf, int64(t[0]), 10)
		buf = append(buf, `" v2="`...)
		buf = strconv.AppendInt(buf, int64(t[1]), 10)
		buf = append(buf, `" v3="`...)
		buf = strconv.AppendInt(buf, int64(t[2]), 10)
		buf = append(buf, "\"/>\n"...)
		b.Write(buf)
	}
	b.WriteString("    </triangles>\n   </mesh>\n")
}

func writeComponents(b *bufio.Writer, list []Component) {
	b.WriteString("   <components>\n")
	for _, c := range list {
		fmt.Fprintf(b, "    <component objectid=\"%d\"", c.Object+1)
		writeTransform(b, c.Transform)
		b.WriteString("/>\n")
	}
	b.WriteString("   </components>\n")
}

// writeTransform writes the twelve numbers of the 3MF matrix, which multiplies
// row vectors: each row is the image of an axis, the last the translation.
func writeTransform(b *bufio.Writer, t solid.Transform) {
	if t == solid.Identity() {
		return
	}
	b.WriteString(` transform="`)
	for j := range 3 {
		for i := range 3 {
			b.WriteString(strconv.FormatFloat(t.M[i][j], 'g', -1, 64) + " ")
		}
	}
	for k, x := range t.T {
		if k > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(strconv.FormatFloat(x, 'g', -1, 64))
	}
	b.WriteByte('"')
}

func writeAttr(b *bufio.Writer, name, value string) {
	if value != "" {
		fmt.Fprintf(b, " %s=\"%s\"", name, escaped(value))
	}
}

func escaped(s string) string {
	var b bytes.Buffer
	// A bytes.Buffer never fails.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
