package build

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"scalewright/finding"
	"scalewright/model"
)

// Loaded is all that a build folder says, read and checked for form.
type Loaded struct {
	Declared model.Declared
	Revision int
	Files    map[string][]byte                // each named file as it is: photographs, marks, outlines
	Marks    model.Marks                      // of the reference's photograph; empty without one
	Outlines map[string]model.DeclaredOutline // by file name
	Events   []model.Event                    // the log, in order
	Kept     []model.Kept                     // what made/ holds of released pieces, in the order of their release
	Findings finding.List                     // notes worth showing; a mistake would be an error
	docs     documents
}

// Locate is the line and column of a place: of the key, of the nearest key
// above it, or of the file.
func (l Loaded) Locate(at finding.Place) finding.Position { return l.docs.Locate(at) }

// mostFile bounds a photograph; a larger one would not fit beside its decoded
// pixels.
const mostFile = 256 << 20 // bytes

// Load reads the build. The error is an [Unreadable] when texts are at fault,
// and then holds every mistake; any other error is the disk's.
func (f *Folder) Load() (Loaded, error) {
	t, err := f.readTexts()
	if err != nil {
		return Loaded{}, err
	}
	return f.load(t)
}

// load reads the build as these texts declare it.
func (f *Folder) load(texts texts) (Loaded, error) {
	l := loader{folder: f, docs: documents{}, out: Loaded{Files: map[string][]byte{}, Outlines: map[string]model.DeclaredOutline{}}}
	l.declaration(texts)
	if err := l.namedFiles(); err != nil {
		return Loaded{}, err
	}
	if err := l.log(); err != nil {
		return Loaded{}, err
	}
	if err := l.kept(); err != nil {
		return Loaded{}, err
	}
	if l.found.Blocked() {
		return Loaded{}, unreadable(l.found, l.docs)
	}
	l.out.Findings, l.out.docs = l.docs.sorted(l.found), l.docs
	return l.out, nil
}

// texts are build.yaml and shop.yaml; nil where the file is not there.
type texts struct{ build, shop []byte }

// readTexts reads both files as of one moment: an edit may replace both.
func (f *Folder) readTexts() (texts, error) {
	for range 100 {
		build, err := f.readText(BuildFile)
		if err != nil {
			return texts{}, err
		}
		shop, err := f.readText(ShopFile)
		if err != nil {
			return texts{}, err
		}
		again, err := f.readText(BuildFile)
		if err != nil {
			return texts{}, err
		}
		if bytes.Equal(build, again) {
			return texts{build, shop}, nil
		}
	}
	return texts{}, errors.New("read build.yaml: another program keeps changing it")
}

// readText reads a file; nil when it is not there.
func (f *Folder) readText(name string) ([]byte, error) {
	text, err := f.root.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if text == nil {
		text = []byte{}
	}
	return text, nil
}

type loader struct {
	folder *Folder
	docs   documents
	found  finding.List
	raw    buildFile
	out    Loaded
}

// declaration reads build.yaml and shop.yaml.
func (l *loader) declaration(t texts) {
	var declared model.Declared
	declared, l.raw, l.found = readDeclaration(t, l.docs)
	l.out.Declared, l.out.Revision = declared, declared.Revision
}

// readDeclaration reads the two texts and fills docs.
func readDeclaration(t texts, docs documents) (model.Declared, buildFile, finding.List) {
	var found finding.List
	shop, hasShop := model.Shop{}, false
	if t.shop == nil {
		found.Add(finding.New("missing-shop", finding.Place{File: ShopFile}, nil))
	} else {
		doc, bad := readYAML(ShopFile, t.shop)
		docs[ShopFile] = doc
		raw, more := decode[shopFile](doc)
		found.Add(append(bad, more...)...)
		hasShop = raw.Schema != 0
		shop, more = checkShop(raw)
		found.Add(more...)
	}
	if t.build == nil {
		found.Add(finding.New("missing-build", finding.Place{File: BuildFile}, nil))
		return model.Declared{}, buildFile{}, found
	}
	doc, bad := readYAML(BuildFile, t.build)
	docs[BuildFile] = doc
	raw, more := decode[buildFile](doc)
	found.Add(append(bad, more...)...)
	if raw.Schema == 0 {
		return model.Declared{}, raw, found // the rest would be nonsense
	}
	declared, more := checkBuild(doc, raw, shop, hasShop)
	found.Add(more...)
	found.Add(oneOf(doc, raw)...)
	return declared, raw, found
}

// oneOf asks for what a build needs one way or another; a key that was written
// but not understood has its own finding already.
func oneOf(doc *document, raw buildFile) finding.List {
	c := checker{file: BuildFile}
	if n := doc.find("enlarge"); n != nil && n.kind == mappingNode && n.child("ratio") == nil && n.child("length") == nil {
		c.missing("enlarge.ratio", "enlarge", "write ratio: 6, or length: 1311 mm")
	}
	if n := doc.find("reference"); n != nil && n.kind == mappingNode && n.child("photo") == nil && n.child("outline") == nil && raw.needsBody() {
		c.missing("reference.photo", "reference", "write photo:, or outline:")
	}
	return c.found
}

// needsBody reports whether a part is a stretch of the body's outline.
func (raw buildFile) needsBody() bool {
	for _, p := range raw.Parts {
		if (p.Form == nil || *p.Form == "" || *p.Form == formName(model.Turned)) && p.Outline == "" && p.Axis == nil {
			return true
		}
	}
	return len(raw.Parts) == 0
}

// namedFiles reads the files that the declaration names.
func (l *loader) namedFiles() error {
	reference := l.raw.Reference
	if _, err := l.file(string(reference.Photo), "reference.photo"); err != nil {
		return err
	}
	for i, name := range reference.More {
		if _, err := l.file(string(name), item("reference.more_photos", i)); err != nil {
			return err
		}
	}
	if text, err := l.file(string(reference.Marks), "reference.marks"); err != nil {
		return err
	} else if text != nil {
		marks, doc, found := readMarks(string(reference.Marks), text)
		l.out.Marks, l.docs[string(reference.Marks)] = marks, doc
		l.found.Add(found...)
	}
	if err := l.outline(string(reference.Outline), "reference.outline"); err != nil {
		return err
	}
	for _, id := range slices.Sorted(maps.Keys(l.raw.Parts)) {
		part := l.raw.Parts[id]
		if err := l.outline(string(part.Outline), join(join("parts", id), "outline")); err != nil {
			return err
		}
		if _, err := l.file(string(part.Model), join(join("parts", id), "model")); err != nil {
			return err
		}
	}
	for i, h := range reference.Hidden {
		if err := l.outline(string(h.Outline), join(item("reference.hidden", i), "outline")); err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) outline(name, from string) error {
	if _, done := l.out.Outlines[name]; done {
		return nil
	}
	text, err := l.file(name, from)
	if err != nil || text == nil {
		return err
	}
	outline, doc, found := readOutline(name, text)
	l.out.Outlines[name], l.docs[name] = outline, doc
	l.found.Add(found...)
	return nil
}

// file reads a named file; one that is missing is a finding at the key that
// names it.
func (l *loader) file(name, from string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	at := finding.Place{File: BuildFile, Path: from}
	info, err := l.folder.root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		l.found.Add(finding.New("missing-file", at, finding.Args{"file": finding.Name(name), "hint": finding.Name(l.nearFile(name))}))
		return nil, nil
	case err != nil && strings.Contains(err.Error(), "escapes"): // os keeps this error to itself
		l.found.Add(finding.New("outside-folder", at, finding.Args{"file": finding.Name(name)}))
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("read %s: %w", name, err)
	case !info.Mode().IsRegular():
		l.found.Add(finding.New("not-a-file", at, finding.Args{"file": finding.Name(name)}))
		return nil, nil
	case info.Size() > mostFile:
		l.found.Add(finding.New("too-large", at, finding.Args{"file": finding.Name(name), "most": finding.Count(mostFile >> 20)}))
		return nil, nil
	}
	data, err := l.folder.root.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	l.out.Files[name] = data
	return data, nil
}

// nearFile looks for a mistyped name among the files that are there.
func (l *loader) nearFile(name string) string {
	dir, base := path.Split(name)
	entries, err := fs.ReadDir(l.folder.root.FS(), path.Clean("./"+dir))
	if err != nil {
		return "copy it there, or correct the name"
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if near := finding.Nearest(base, names); near != "" {
		return "did you mean " + dir + near + "?"
	}
	return "copy it there, or correct the name"
}
