package server

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"scalewright/build"
	"scalewright/job/recipe"
)

// shelf is the builds that are open, and those opened before.
type shelf struct {
	o Options

	mu     sync.Mutex
	desks  map[string]*desk
	recent []remembered
}

// remembered is a line of the file of builds opened before.
type remembered struct {
	Dir    string    `json:"dir"`
	Name   string    `json:"name"`
	Opened time.Time `json:"opened"`
}

const (
	mostRecent = 20
	mostDesks  = 6 // builds open at a time; the one not asked for the longest is put away
)

func newShelf(o Options) *shelf {
	s := &shelf{o: o, desks: map[string]*desk{}}
	if o.Remember != "" {
		if text, err := os.ReadFile(o.Remember); err == nil {
			_ = json.Unmarshal(text, &s.recent) // a list that is damaged is begun anew
		}
	}
	return s
}

// idOf names a folder: its name, for people, and a sum of its path.
func idOf(dir string) string {
	sum := sha256.Sum256([]byte(dir))
	name := strings.Trim(notInID.ReplaceAllString(strings.ToLower(filepath.Base(dir)), "-"), "-")
	return name[:min(len(name), 40)] + "-" + hex.EncodeToString(sum[:4])
}

var notInID = regexp.MustCompile(`[^a-z0-9]+`)

// list is what can be worked on.
func (s *shelf) list() Shelf {
	s.mu.Lock()
	defer s.mu.Unlock()
	out := Shelf{Folder: s.o.Folder, Recent: []OnFile{}, Demo: s.o.Demo != nil}
	for _, r := range s.recent {
		_, err := os.Stat(filepath.Join(r.Dir, build.BuildFile))
		out.Recent = append(out.Recent, OnFile{idOf(r.Dir), r.Name, r.Dir, r.Opened.UTC().Format(time.RFC3339), err != nil})
	}
	return out
}

// desk is an open build, or one opened before, opened again.
func (s *shelf) desk(id string) (*desk, error) {
	s.mu.Lock()
	d := s.desks[id]
	k := slices.IndexFunc(s.recent, func(r remembered) bool { return idOf(r.Dir) == id })
	dir := ""
	if k >= 0 {
		dir = s.recent[k].Dir
	}
	s.mu.Unlock()
	switch {
	case d != nil:
		return d, nil
	case dir == "":
		return nil, notFound("there is no build of that name here", "open it from the list of builds")
	}
	return s.openDir(dir)
}

// openDir opens a build's folder, wherever it is: the caller answers for that.
func (s *shelf) openDir(dir string) (*desk, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("open a build: %w", err)
	}
	id := idOf(dir)
	s.mu.Lock()
	defer s.mu.Unlock()
	if d := s.desks[id]; d != nil {
		return d, nil
	}
	if _, err := os.Stat(filepath.Join(dir, build.BuildFile)); err != nil {
		return nil, notFound("there is no build.yaml in "+dir, "start a new build, or open another folder")
	}
	s.makeRoom()
	d, err := openDesk(id, dir, s.o.Now, s.report)
	if err != nil {
		return nil, err
	}
	s.desks[id] = d
	s.remember(dir, d)
	return d, nil
}

// makeRoom puts the build away that was not asked for the longest, unless somebody
// listens to it. The caller holds mu.
func (s *shelf) makeRoom() {
	if len(s.desks) < mostDesks {
		return
	}
	var idle *desk
	for _, d := range s.desks {
		d.mu.Lock()
		free := len(d.listeners) == 0
		last := d.lastUse
		d.mu.Unlock()
		if free && (idle == nil || last.Before(idle.lastUse)) {
			idle = d
		}
	}
	if idle != nil {
		delete(s.desks, idle.id)
		idle.close()
	}
}

// remember puts a build at the top of the list. The caller holds mu.
func (s *shelf) remember(dir string, d *desk) {
	name := d.loaded.Declared.Name
	if name == "" {
		name = filepath.Base(dir)
	}
	s.recent = slices.DeleteFunc(s.recent, func(r remembered) bool { return r.Dir == dir })
	s.recent = append(s.recent, remembered{dir, name, s.o.Now()})
	slices.SortStableFunc(s.recent, func(a, b remembered) int { return cmp.Compare(b.Opened.UnixNano(), a.Opened.UnixNano()) })
	s.recent = s.recent[:min(len(s.recent), mostRecent)]
	if s.o.Remember == "" {
		return
	}
	text, err := json.MarshalIndent(s.recent, "", " ")
	if err == nil {
		err = writeWhole(s.o.Remember, text)
	}
	if err != nil {
		s.report(err) // the list is a convenience
	}
}

// writeWhole puts a file in its place at once.
func writeWhole(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return err
	}
	beside, err := os.CreateTemp(filepath.Dir(name), ".recent-*.new")
	if err != nil {
		return err
	}
	_, err = beside.Write(text)
	if err = errors.Join(err, beside.Sync(), beside.Close()); err == nil {
		err = os.Rename(beside.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(beside.Name()))
	}
	return nil
}

// folderName is one plain name: letters, figures and a few signs, none first that
// hides or climbs.
var folderName = regexp.MustCompile(`^[\pL\pN][\pL\pN _.-]{0,79}$`)

// open starts, copies or opens a build inside the shelf's folder.
func (s *shelf) open(o Opening) (*desk, error) {
	folder := o.Folder
	if folder == "" {
		folder = s.freeName(o)
	}
	if !folderName.MatchString(folder) || !filepath.IsLocal(folder) || strings.HasSuffix(folder, ".") {
		return nil, badRequest(fmt.Sprintf("%q is no name for a folder", folder), "take letters, figures, spaces and hyphens")
	}
	if err := os.MkdirAll(s.o.Folder, 0o777); err != nil {
		return nil, fmt.Errorf("make the folder of builds: %w", err)
	}
	root, err := os.OpenRoot(s.o.Folder)
	if err != nil {
		return nil, fmt.Errorf("open the folder of builds: %w", err)
	}
	defer root.Close()
	if _, err := root.Stat(folder); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, badRequest(fmt.Sprintf("%q leads out of the folder of builds", folder), "take another name")
	}
	dir := filepath.Join(s.o.Folder, folder)
	switch o.Kind {
	case "new":
		name := o.Name
		if name == "" {
			name = folder
		}
		err = build.New(dir, name)
	case "demo":
		if s.o.Demo == nil {
			return nil, notFound("the demo is not part of this program", "start a new build")
		}
		err = build.Copy(dir, s.o.Demo)
	}
	if errors.Is(err, build.ErrNotEmpty) {
		return nil, &Problem{Status: 409, What: fmt.Sprintf("the folder %q is there already", folder), Do: "take another name, or open it"}
	}
	if err != nil {
		return nil, err
	}
	return s.openDir(dir)
}

// freeName is a folder's name that is not taken yet.
func (s *shelf) freeName(o Opening) string {
	base := "new build"
	if o.Kind == "demo" {
		base = "Foyer rocket"
	}
	if o.Name != "" {
		base = strings.Trim(notInName.ReplaceAllString(o.Name, " "), " .")
	}
	name := base
	for n := 2; n < 1000; n++ {
		if _, err := os.Lstat(filepath.Join(s.o.Folder, name)); errors.Is(err, fs.ErrNotExist) {
			break
		}
		name = fmt.Sprintf("%s %d", base, n)
	}
	return name
}

var notInName = regexp.MustCompile(`[^\pL\pN _.-]+`)

func (s *shelf) report(err error) {
	if s.o.Log == nil {
		return
	}
	if bug, ok := errors.AsType[*recipe.Bug](err); ok {
		s.o.Log.Printf("%v\n%s", err, bug.Stack)
		return
	}
	s.o.Log.Print(err)
}

func (s *shelf) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, d := range s.desks {
		d.close()
	}
	clear(s.desks)
}
