package finding

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed text
var texts embed.FS

// English is the language in which every code has its words; another language
// may leave some to it.
const English = "en"

// Entry is what the catalogue holds of one code.
type Entry struct {
	Code     Code     `yaml:"-"`
	Stage    string   `yaml:"-"`
	Severity Severity `yaml:"-"`
	Grade    string   `yaml:"severity"`
	When     string   `yaml:"when"`    // when it occurs
	Says     string   `yaml:"says"`    // what, where, how much
	Do       string   `yaml:"do"`      // what to do
	Rule     string   `yaml:"rule"`    // the standard or practice behind it
	Example  string   `yaml:"example"` // a declaration that brings it
}

// Entries is the whole catalogue, sorted by stage and code.
func Entries() []Entry { return slices.Clone(load()[English].sorted) }

// About is what the catalogue holds of a code that a finding has.
func About(code Code) Entry { return *lookUp(code) }

type catalogue struct {
	byCode map[Code]*Entry
	sorted []Entry
}

// A catalogue that cannot be read is a bug of ours: it is built in.
var load = sync.OnceValue(func() map[string]catalogue { return readTexts(texts) })

// readTexts reads every language: a folder under text/, a file a stage.
func readTexts(from fs.FS) map[string]catalogue {
	all := map[string]catalogue{}
	languages, err := fs.ReadDir(from, "text")
	if err != nil {
		panic("finding: internal error: " + err.Error())
	}
	for _, language := range languages {
		all[language.Name()] = readLanguage(from, path.Join("text", language.Name()))
	}
	return all
}

func readLanguage(from fs.FS, dir string) catalogue {
	files, err := fs.ReadDir(from, dir)
	if err != nil {
		panic("finding: internal error: " + err.Error())
	}
	c := catalogue{byCode: map[Code]*Entry{}}
	for _, file := range files {
		c.read(from, dir, file.Name())
	}
	slices.SortStableFunc(c.sorted, func(a, b Entry) int {
		return strings.Compare(a.Stage+"\x00"+string(a.Code), b.Stage+"\x00"+string(b.Code))
	})
	for i := range c.sorted {
		c.byCode[c.sorted[i].Code] = &c.sorted[i]
	}
	return c
}

func (c *catalogue) read(from fs.FS, dir, name string) {
	text, err := fs.ReadFile(from, path.Join(dir, name))
	if err != nil {
		panic("finding: internal error: " + err.Error())
	}
	var entries map[Code]Entry
	if err := yaml.UnmarshalWithOptions(text, &entries, yaml.Strict()); err != nil {
		panic("finding: internal error: " + name + ": " + err.Error())
	}
	for code, e := range entries {
		grade := slices.Index(severityNames[:], e.Grade)
		if grade < 0 || e.Says == "" || c.byCode[code] != nil {
			panic(fmt.Sprintf("finding: internal error: %s: entry %s is incomplete or stands twice", name, code))
		}
		e.Code, e.Stage, e.Severity = code, strings.TrimSuffix(name, ".yaml"), Severity(grade)
		c.byCode[code] = &e
		c.sorted = append(c.sorted, e)
	}
}

// lookUp is the English entry, which every code has.
func lookUp(code Code) *Entry { return inLanguage(load(), English, code) }

// inLanguage is the entry in a language, or in English where that has none.
func inLanguage(all map[string]catalogue, language string, code Code) *Entry {
	if e := all[language].byCode[code]; e != nil {
		return e
	}
	e := all[English].byCode[code]
	if e == nil {
		panic("finding: internal error: no text for " + string(code))
	}
	return e
}

var slot = regexp.MustCompile(`\{([a-z][a-z0-9-]*)\}`)

// Slots are the arguments that the texts of the entry ask for. Part and
// station come from the finding itself.
func (e *Entry) Slots() []string {
	var names []string
	for _, m := range slot.FindAllStringSubmatch(e.Says+e.Do, -1) {
		if m[1] != "part" && m[1] != "station" {
			names = append(names, m[1])
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// mustTake panics unless args are just what the texts ask for.
func (e *Entry) mustTake(args Args) {
	slots := e.Slots()
	for _, name := range slots {
		if args[name] == nil {
			panic(fmt.Sprintf("finding: internal error: %s wants {%s}", e.Code, name))
		}
	}
	for name := range args {
		if !slices.Contains(slots, name) {
			panic(fmt.Sprintf("finding: internal error: the text of %s has no {%s}", e.Code, name))
		}
	}
}
