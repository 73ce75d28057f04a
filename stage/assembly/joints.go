package assembly

import (
	"scalewright/finding"
	"scalewright/model"
	"scalewright/unit"
)

// joint unites the bodies of two things.
type joint struct {
	id      string // of the seam or mount; empty: none of those
	task    model.Task
	at      finding.Place
	keeps   int   // the thing that stays where it is
	comes   int   // the thing that comes to it
	hosts   []int // of a guest from the side: all that it sits on
	side    bool  // comes from the side
	slide   bool  // onto the core
	bonded  bool
	between bool // of two parts, so that it could be made removable
	station unit.Length
	ids     []string // of all mounts that it closes
	verb    string   // of a seam: what is done with the two
}

func (p *problem) seams() {
	for _, s := range p.Division.Seams {
		below, ok := p.index[s.Below]
		above, also := p.index[s.Above]
		if !ok || !also {
			continue
		}
		j := joint{
			id: s.ID, ids: []string{s.ID}, keeps: below, comes: above, bonded: !s.Removable, station: s.Station,
			between: s.Below.Part != s.Above.Part, at: p.part(s.Above.Part).At, task: joining(s.ID, s.Removable, s.Glue, glueMinutes),
		}
		j.verb = j.task.Name
		j.task.Name += p.things[below].name + " to " + p.things[above].name
		for _, f := range p.Design.Interfaces {
			if f.ID == s.ID {
				j.at = f.At
			}
		}
		p.joints = append(p.joints, j)
	}
}

// mounts are guests; one that is mounted to several hosts is glued in one go.
func (p *problem) mounts() {
	done := map[string]bool{}
	for _, m := range p.Design.Mounts {
		if done[m.Guest] {
			continue
		}
		done[m.Guest] = true
		guest := p.first(m.Guest)
		if guest < 0 {
			continue
		}
		j := joint{id: m.ID, at: m.At, comes: guest, between: true, side: len(p.things[guest].rows) == 0, bonded: !m.Removable}
		var named []string
		for _, also := range p.Design.Mounts {
			if also.Guest != m.Guest {
				continue
			}
			j.ids = append(j.ids, also.ID)
			j.bonded = j.bonded || !also.Removable
			j.hosts = append(j.hosts, p.under(also.Host, m.Guest)...)
			named = append(named, also.Host)
		}
		if len(j.hosts) == 0 {
			continue
		}
		j.keeps = j.hosts[0]
		low, high := p.reachOf(m.Guest)
		j.station = unit.Length((low + high) / 2)
		j.task = joining(m.ID, !j.bonded, m.Glue, guestMinutes)
		words, hands := p.fastened(j)
		j.task.Bench += hands
		j.task.Name += m.Guest + " to " + string(finding.Names(named...)) + words
		p.joints = append(p.joints, j)
	}
}

// under are the pieces of a host that a guest sits on: those it lies beside, or
// where none does, the first.
func (p *problem) under(host, guest string) []int {
	low, high := p.reachOf(guest)
	var out []int
	for i, t := range p.things {
		if t.piece == nil || t.part != host || t.piece.ID.Kind != model.Shell && t.piece.ID.Kind != model.Slice {
			continue
		}
		if at := p.Shapes[i].Span; float64(at.From) < high && float64(at.To) > low {
			out = append(out, i)
		}
	}
	if k := p.first(host); len(out) == 0 && k >= 0 {
		out = append(out, k)
	}
	return out
}

// rank is the order in which a foreman would try: rings into their shells, the
// core, glued joints from the datum up, guests, then what comes apart again, and
// the stand last.
func (j joint) rank() int {
	switch {
	case j.task.Kind == model.Raise:
		return 6
	case !j.bonded:
		return 5
	case j.slide:
		return 2
	case j.id == "" && j.task.ID != model.FitCore:
		return 0
	case j.id == "":
		return 1
	case j.side:
		return 3
	}
	return 2
}
