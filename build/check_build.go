package build

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// checker turns the raw types into the nouns of the trade and reports names
// that nothing bears.
type checker struct {
	file   string
	closed bool // the outline read is a closed one
	found  finding.List
}

func (c *checker) at(path string) finding.Place { return finding.Place{File: c.file, Path: path} }

func (c *checker) report(path string, bad *mistake) {
	if bad != nil {
		c.found.Add(finding.New(bad.code, c.at(path), bad.args))
	}
}

func (c *checker) missing(path, where, do string) {
	c.found.Add(finding.New("missing-key", c.at(path), finding.Args{
		"key": finding.Name(lastKey(path)), "where": finding.Name(where), "hint": finding.Name(do),
	}))
}

// checkBuild makes a declaration of a build file. The shop's names are known
// only when the shop could be read.
func checkBuild(doc *document, raw buildFile, shop model.Shop, hasShop bool) (model.Declared, finding.List) {
	c := buildChecker{checker{file: BuildFile}, doc, raw, shop, hasShop}
	out := model.Declared{
		Name: raw.Name, Revision: raw.Revision, Invented: raw.Invented, Shop: shop,
		Reference: c.reference(), Enlarge: c.enlarge(), Core: c.core(),
		Parts: c.parts(), Joints: c.joints(), Cuts: c.cuts(), Openings: c.openings(),
		Finish: c.finish(), Site: c.site(), Stand: c.stand(), Components: c.components(), Shows: c.shows(),
	}
	out.Calendar = model.DeclaredCalendar{At: c.at("calendar"), Start: string(raw.Calendar.Start)}
	if raw.Calendar.Ready != nil {
		out.Calendar.Ready = string(*raw.Calendar.Ready)
	}
	for i, q := range raw.Quiet {
		out.Quiet = append(out.Quiet, model.Quiet{At: c.at(item("quiet", i)), Code: finding.Code(q.Code), Because: q.Because})
	}
	return out, c.found
}

type buildChecker struct {
	checker
	doc     *document
	raw     buildFile
	shop    model.Shop
	hasShop bool
}

func (c *buildChecker) reference() model.DeclaredReference {
	raw := c.raw.Reference
	out := model.DeclaredReference{
		At: c.at("reference"), Photo: string(raw.Photo), Marks: string(raw.Marks), Outline: string(raw.Outline), Grid: raw.Grid.Dim,
		Length: raw.Length.Dim, Around: raw.Around, Datum: "left",
	}
	if raw.Datum != nil {
		out.Datum = string(*raw.Datum)
	}
	out.Readings, out.True, out.Known = c.readings(), c.trued(), c.known()
	for _, name := range raw.More {
		out.More = append(out.More, string(name))
	}
	for i, h := range raw.Hidden {
		path := item("reference.hidden", i)
		c.forward(path, h.From.Dim, h.To.Dim)
		out.Hidden = append(out.Hidden, model.DeclaredHidden{
			At: c.at(path), From: h.From.Dim, To: h.To.Dim, Because: h.Because, Outline: string(h.Outline),
		})
	}
	for _, rest := range raw.Rests {
		out.Rests = append(out.Rests, model.DeclaredRest{At: rest.At.Dim, Below: rest.Below.Dim})
	}
	for i, m := range raw.Moved {
		path := item("reference.corrections", i)
		c.point(join(path, "from"), m.From)
		c.point(join(path, "to"), m.To)
		out.Corrections = append(out.Corrections, model.DeclaredCorrection{
			At: c.at(path), Correction: model.Correction{Arc: m.What == correctedArc, From: point(m.From), To: point(m.To), DoubtMM: m.Doubt},
		})
	}
	for _, id := range slices.Sorted(maps.Keys(raw.Features)) {
		f := raw.Features[id]
		out.Features = append(out.Features, model.DeclaredFeature{
			ID: id, At: c.at(join("reference.features", id)), Kind: model.FeatureKind(f.Is), From: f.From, To: f.To,
		})
	}
	for _, b := range raw.Brushes {
		out.Brushes = append(out.Brushes, model.DeclaredBrush{In: b.Is == paintedObject, WidthMM: b.Wide, Path: b.Path})
	}
	return out
}

// enlarge asks for one of ratio and length.
func (c *buildChecker) enlarge() model.DeclaredEnlarge {
	raw := c.raw.Enlarge
	out := model.DeclaredEnlarge{At: c.at("enlarge")}
	if raw.Ratio != nil {
		out.Ratio = *raw.Ratio
	}
	if raw.Length != nil {
		out.Length = raw.Length.Dim
	}
	if raw.Ratio != nil && raw.Length != nil {
		c.found.Add(finding.New("both-given", c.at("enlarge.length"), finding.Args{"one": finding.Name("ratio"), "other": finding.Name("length")}).
			WithNote("first-here", c.at("enlarge.ratio"), nil))
	}
	return out
}

func (c *buildChecker) core() *model.DeclaredCore {
	raw := c.raw.Core
	if raw == nil {
		return nil
	}
	c.forward("core", raw.From.Dim, raw.To.Dim)
	out := &model.DeclaredCore{At: c.at("core"), Stock: string(raw.Stock), From: raw.From.Dim, To: raw.To.Dim, Hold: model.Bored}
	if raw.Hold != nil {
		out.Hold = model.CoreHold(*raw.Hold)
	}
	return out
}

func (c *buildChecker) parts() []model.DeclaredPart {
	var out []model.DeclaredPart
	for _, id := range slices.Sorted(maps.Keys(c.raw.Parts)) {
		raw := c.raw.Parts[id]
		path := join("parts", id)
		c.forward(path, raw.From.Dim, raw.To.Dim)
		c.knownPrinters(path, raw)
		part := model.DeclaredPart{
			ID: id, At: c.at(path), From: raw.From.Dim, To: raw.To.Dim, Wall: raw.Wall.Dim,
			Printers: raw.Printers, Filament: raw.Filament, Settled: raw.Settled, Axis: c.axis(path, raw.Axis),
		}
		for _, end := range raw.Open {
			part.Open = append(part.Open, string(end))
		}
		c.form(path, raw, &part)
		out = append(out, part)
	}
	c.copiesAreFree(out)
	sortParts(out, c.raw)
	return out
}

// sortParts sorts by where a part begins, then by id. Dimensions of different
// owners compare only with a ratio; a length in its place gives one near enough
// to sort by.
func sortParts(parts []model.DeclaredPart, raw buildFile) {
	ratio := 1.0
	switch {
	case raw.Enlarge.Ratio != nil:
		ratio = *raw.Enlarge.Ratio
	case raw.Enlarge.Length != nil && raw.Reference.Length.MM > 0:
		ratio = raw.Enlarge.Length.MM / raw.Reference.Length.MM
	}
	slices.SortFunc(parts, func(a, b model.DeclaredPart) int {
		from := cmp.Compare(a.From.At(ratio), b.From.At(ratio))
		if a.From.Owner == b.From.Owner {
			from = cmp.Compare(a.From.MM, b.From.MM)
		}
		return cmp.Or(from, cmp.Compare(a.ID, b.ID))
	})
}

func (c *buildChecker) knownPrinters(path string, raw partFile) {
	if !c.hasShop {
		return
	}
	var printers, filaments []string
	for _, p := range c.shop.Printers {
		printers = append(printers, p.ID)
	}
	for _, f := range c.shop.Filaments {
		filaments = append(filaments, f.ID)
	}
	for i, name := range raw.Printers {
		c.report(item(join(path, "printers"), i), choose(name, "printer of the shop", printers))
	}
	if raw.Filament != "" {
		c.report(join(path, "filament"), choose(raw.Filament, "filament of the shop", filaments))
	}
}

func (c *buildChecker) axis(path string, raw *axisFile) *model.DeclaredAxis {
	if raw == nil {
		return nil
	}
	path = join(path, "axis")
	out := &model.DeclaredAxis{At: c.at(path), Clocking: radians(raw.Clocking)}
	for i, at := range raw.At {
		out.Position[i] = at.Dim
	}
	t := raw.Towards
	length := math.Hypot(math.Hypot(t[0], t[1]), t[2])
	if length == 0 || math.IsInf(length, 0) {
		c.found.Add(finding.New("no-direction", c.at(join(path, "towards")), nil))
		return out
	}
	for i := range t {
		out.Direction[i] = t[i] / length
	}
	return out
}

func (c *buildChecker) joints() []model.DeclaredJoint {
	var out []model.DeclaredJoint
	for _, id := range slices.Sorted(maps.Keys(c.raw.Joints)) {
		raw := c.raw.Joints[id]
		path := join("joints", id)
		for i, part := range raw.Between {
			c.knownPart(item(join(path, "between"), i), part)
		}
		if raw.Between[0] != "" && raw.Between[0] == raw.Between[1] {
			c.found.Add(finding.New("joins-itself", c.at(join(path, "between")), finding.Args{"id": finding.Name(raw.Between[0])}))
		}
		out = append(out, model.DeclaredJoint{
			ID: id, At: c.at(path), Between: raw.Between, Kind: raw.Kind.kind(), Glue: raw.Glue, Removable: raw.Removable,
		})
	}
	return out
}

func (c *buildChecker) cuts() []model.DeclaredCut {
	var out []model.DeclaredCut
	for _, id := range slices.Sorted(maps.Keys(c.raw.Cuts)) {
		raw := c.raw.Cuts[id]
		path := join("cuts", id)
		c.knownPart(join(path, "part"), raw.Part)
		out = append(out, model.DeclaredCut{ID: id, At: c.at(path), Part: raw.Part, Station: raw.At.Dim, Kind: raw.Kind.kind()})
	}
	return out
}

func (c *buildChecker) knownPart(path, name string) {
	if name != "" {
		c.report(path, choose(name, "part", slices.Sorted(maps.Keys(c.raw.Parts))))
	}
}

// forward refuses a stretch that ends before it begins, where one owner makes
// the two comparable.
func (c *checker) forward(path string, from, to unit.Dim) {
	if from.Written() && to.Written() && from.Owner == to.Owner && from.MM >= to.MM {
		c.found.Add(finding.New("runs-back", c.at(join(path, "to")), finding.Args{"from": finding.Name(from.Text), "to": finding.Name(to.Text)}))
	}
}
