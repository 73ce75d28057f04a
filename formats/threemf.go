package formats

import (
	"fmt"

	"scalewright/solid"
)

// Model is the content of a 3MF file.
type Model struct {
	Metadata []Metadata
	Objects  []Object
	Items    []Item // what is to be made; objects in no item are only parts of others
}

// Metadata is a named text. The 3MF core names Title, Designer, Description,
// Copyright, LicenseTerms, Rating, CreationDate, ModificationDate and
// Application; others need a namespace and are left out on reading.
type Metadata struct{ Name, Value string }

// Object is a solid, or an assembly of objects before it in the list; not both.
type Object struct {
	Name       string
	Type       ObjectType // of a mesh; an assembly is what its components are
	PartNumber string
	Mesh       solid.Mesh
	Components []Component
}

// ObjectType says what the mesh of an object is for (3MF core 1.3, chapter 4).
type ObjectType string

// The types of an object. Only a solid must be closed, and a support is closed
// where it is solid.
const (
	Solid        ObjectType = "" // written "model"
	SolidSupport ObjectType = "solidsupport"
	Support      ObjectType = "support"
	Surface      ObjectType = "surface"
	OtherObject  ObjectType = "other"
)

func (t ObjectType) mustBeClosed() bool { return t == Solid || t == SolidSupport }

// Component is an object of an assembly, in its place.
type Component struct {
	Object    int // index into Model.Objects, lower than the assembly's own
	Transform solid.Transform
}

// Item is an object to be made, in its place.
type Item struct {
	Object     int // index into Model.Objects
	PartNumber string
	Transform  solid.Transform
}

const (
	coreNamespace = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	modelRelation = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
	modelPath     = "3D/3dmodel.model"
	relationsPath = "_rels/.rels"
	typesPath     = "[Content_Types].xml"
)

// Mesh returns the solids that the items of the model are, each in its place, as
// one mesh. Supports, surfaces and what else is no part of the shape are left out.
// Assemblies of assemblies may multiply without end: limits.Triangles holds.
func (m Model) Mesh(limits Limits) (solid.Mesh, error) {
	limits = limits.orDefault()
	total := 0
	counts := make([]int, len(m.Objects)) // triangles of each object
	for i, o := range m.Objects {
		if o.Type == Solid {
			counts[i] = len(o.Mesh.Triangles)
		}
		for _, c := range o.Components {
			if c.Object < 0 || c.Object >= i {
				return solid.Mesh{}, fmt.Errorf("3MF: object %d has a component that is not before it", i)
			}
			// Kept just above the limit, so that no sum overflows.
			counts[i] = min(counts[i]+counts[c.Object], limits.Triangles+1)
		}
	}
	for _, it := range m.Items {
		if it.Object < 0 || it.Object >= len(m.Objects) {
			return solid.Mesh{}, fmt.Errorf("3MF: an item names object %d of %d", it.Object, len(m.Objects))
		}
		if total += counts[it.Object]; total > limits.Triangles {
			return solid.Mesh{}, &LimitError{"3MF", "triangles", int64(limits.Triangles)}
		}
	}
	var parts []solid.Mesh
	var place func(object int, t solid.Transform)
	place = func(object int, t solid.Transform) {
		if counts[object] == 0 {
			return // nothing below, however many assemblies deep
		}
		o := m.Objects[object]
		if !o.Mesh.Empty() {
			parts = append(parts, o.Mesh.Transform(t))
		}
		for _, c := range o.Components {
			place(c.Object, c.Transform.Then(t))
		}
	}
	for _, it := range m.Items {
		place(it.Object, it.Transform)
	}
	return solid.Join(parts...), nil
}
