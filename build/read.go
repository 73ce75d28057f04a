package build

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"scalewright/model"
	"scalewright/unit"
)

// ErrOutside is the error of a name that leads out of the build's folder, or to
// something that is no file.
var ErrOutside = errors.New("not a file of the build's folder")

// ReadFile reads a file of the folder, up to so many bytes. A name that leads out of
// it, by dots or by a link, is [ErrOutside].
func (f *Folder) ReadFile(name string, most int64) ([]byte, error) {
	file, err := f.root.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("read %s: %w: %w", name, ErrOutside, err)
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return nil, fmt.Errorf("read %s: %w", name, ErrOutside)
	}
	data, err := io.ReadAll(io.LimitReader(file, most))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return data, nil
}

// ResultFile is a file of out/.
type ResultFile struct {
	Name  string // in out/, with slashes
	Bytes int64
}

// Results lists what out/ holds of ours, by name, and whether it is marked stale.
func (f *Folder) Results() (files []ResultFile, stale bool, err error) {
	text, err := f.readText(path.Join(OutDir, ContentsFile))
	if err != nil || text == nil {
		return nil, false, err
	}
	list, ok := strings.CutPrefix(string(text), contentsHead)
	if !ok {
		return nil, false, nil
	}
	for name := range strings.Lines(list) {
		name = strings.TrimSpace(name)
		if info, err := f.root.Stat(path.Join(OutDir, name)); name != "" && err == nil && info.Mode().IsRegular() {
			files = append(files, ResultFile{name, info.Size()})
		}
	}
	slices.SortFunc(files, func(a, b ResultFile) int { return strings.Compare(a.Name, b.Name) })
	return files, f.has(path.Join(OutDir, StaleFile)), nil
}

// PutFile puts a whole file into a folder of the build, written beside its place,
// forced to disk, renamed. What lies there under that name is never overwritten, so
// that undo can go back to it: another text goes under the next free name, NAME-2 and
// so on. It returns the name.
func (f *Folder) PutFile(name string, data []byte) (string, error) {
	if !fs.ValidPath(name) || path.Dir(name) == "." {
		return "", fmt.Errorf("write %s: %w", name, ErrOutside)
	}
	file := name
	err := f.locked("storing "+path.Base(name), func() error {
		if err := f.root.MkdirAll(path.Dir(name), 0o777); err != nil {
			return fmt.Errorf("write %s: %w", name, err)
		}
		ext := path.Ext(name)
		for n := 2; f.has(file); n++ {
			if same, err := f.ReadFile(file, int64(len(data))); err == nil && bytes.Equal(same, data) {
				return nil
			}
			if n > mostVersions {
				return fmt.Errorf("write %s: there are %d of that name already", name, mostVersions)
			}
			file = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), n, ext)
		}
		return f.replace(file, data)
	})
	return file, err
}

// mostVersions of a file are kept side by side.
const mostVersions = 1000

// PutMarks stores the marks of a photograph beside it and returns the file's name, as
// reference.marks has it.
func (f *Folder) PutMarks(photo string, marks model.Marks) (string, error) {
	file := strings.TrimSuffix(photo, path.Ext(photo)) + "-marks.yaml"
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Marks of %s, picked on the page.\n# px is [right, down] in the upright photograph, mm is [X, Y] on the mat.\npitch_mm: %s\nmarks:\n", path.Base(photo), plain(marks.PitchMM))
	for _, m := range marks.Marks {
		fmt.Fprintf(&b, "  - {px: [%s, %s], mm: [%s, %s]}\n", plain(m.Pixel[0]), plain(m.Pixel[1]), plain(m.Mat[0]), plain(m.Mat[1]))
	}
	if _, doc, found := readMarks(file, b.Bytes()); len(found) > 0 {
		return "", unreadable(found, documents{file: doc})
	}
	return f.PutFile(file, b.Bytes())
}

// Step is a point of an outline as it is typed: the first begins it, each other ends
// a line, or an arc where Centre is given.
type Step struct {
	To     [2]float64 // station and radius; of a closed outline x and y
	Centre *[2]float64
}

// PutOutline stores an outline under outlines/ and returns the file's name, as
// reference.outline and parts have it.
func (f *Folder) PutOutline(name string, doubt float64, owner unit.Owner, closed bool, steps []Step) (string, error) {
	file := "outlines/" + name + ".yaml"
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Typed on the page; mm.\nschema: 1\ndoubt_mm: %s\n", plain(doubt))
	if owner == unit.OfShop {
		b.WriteString("of: shop\n")
	}
	if closed {
		b.WriteString("closed: true\n")
	}
	b.WriteString("path:\n")
	for _, s := range steps {
		fmt.Fprintf(&b, "  - {to: [%s, %s]", plain(s.To[0]), plain(s.To[1]))
		if s.Centre != nil {
			fmt.Fprintf(&b, ", centre: [%s, %s]", plain(s.Centre[0]), plain(s.Centre[1]))
		}
		b.WriteString("}\n")
	}
	if _, doc, found := readOutline(file, b.Bytes()); len(found) > 0 {
		return "", unreadable(found, documents{file: doc})
	}
	return f.PutFile(file, b.Bytes())
}

// plain writes a figure to a ten-thousandth.
func plain(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64)
}

// Steps are the points of an outline that was read, to be shown and typed again.
func Steps(o model.Outline) []Step {
	var out []Step
	for i, s := range o {
		if i == 0 {
			out = append(out, Step{To: [2]float64{s.From.Station, s.From.Radius}})
		}
		step := Step{To: [2]float64{s.To.Station, s.To.Radius}}
		if s.Kind == model.Arc {
			step.Centre = &[2]float64{s.Centre.Station, s.Centre.Radius}
		}
		out = append(out, step)
	}
	return out
}
