package build

import (
	"fmt"
	"strconv"
	"strings"

	"scalewright/finding"
	"scalewright/model"
	"scalewright/stock"
)

// AcceptCuts gives provisional cuts the ids they keep and writes them to
// build.yaml as one edit: what is done before a piece that they bound is
// released, or when the maker says yes to them. Each cut's ID is ignored; the
// ids given, c1, c2 … the next free that no cut, log line or made piece ever
// bore, come back in the order of the cuts.
func (f *Folder) AcceptCuts(seen int, cuts ...model.DeclaredCut) (ids []string, revision int, err error) {
	if len(cuts) == 0 {
		return nil, seen, nil
	}
	err = f.locked("accepting cuts", func() error {
		taken, err := f.takenCuts()
		if err != nil {
			return err
		}
		var changes []Change
		for _, c := range cuts {
			id := nextCut(taken)
			taken[id] = true
			ids = append(ids, id)
			changes = append(changes, cutChanges(id, c)...)
		}
		revision, err = f.edit(seen, "accept "+string(finding.Names(ids...)), changes)
		return err
	})
	if err != nil {
		return nil, 0, err
	}
	return ids, revision, nil
}

func cutChanges(id string, c model.DeclaredCut) []Change {
	at := finding.Place{File: BuildFile, Path: join("cuts", id)}
	out := []Change{{Add, at.Key("part"), c.Part}, {Add, at.Key("at"), Quote(c.Station.Text)}}
	if kind, ok := stock.FindJoint(string(c.Kind)); ok {
		out = append(out, Change{Add, at.Key("kind"), kind.Word})
	}
	return out
}

func nextCut(taken map[string]bool) string {
	for n := 1; ; n++ {
		if id := "c" + strconv.Itoa(n); !taken[id] {
			return id
		}
	}
}

// takenCuts are the ids of cuts now, and those in the ids of pieces ever
// released.
func (f *Folder) takenCuts() (map[string]bool, error) {
	t, err := f.readTexts()
	if err != nil {
		return nil, err
	}
	taken := map[string]bool{}
	doc, _ := readYAML(BuildFile, t.build)
	if cuts := doc.find("cuts"); cuts != nil {
		for _, e := range cuts.entries {
			taken[strings.ToLower(e.key)] = true
		}
	}
	events, err := f.soundLog()
	if err != nil {
		return nil, fmt.Errorf("accept cuts: %w", err)
	}
	for _, e := range events {
		for name := range strings.SplitSeq(e.Piece, ".") {
			taken[name] = true
		}
	}
	pieces, err := f.made()
	if err != nil {
		return nil, err
	}
	for _, k := range pieces {
		for name := range strings.SplitSeq(k.Piece, ".") {
			taken[name] = true
		}
	}
	return taken, nil
}
