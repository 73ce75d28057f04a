package drawing

import (
	"errors"
	"fmt"
	"strings"
)

// check refuses what neither writer could set down: a sheet without size, a
// place that is no number, a colour without a name, groups that don't match.
func (s *Scene) check() error {
	if s == nil {
		return errors.New("drawing: no scene")
	}
	if !(s.Width > 0 && s.Height > 0) || !finite(s.Width) || !finite(s.Height) {
		return fmt.Errorf("drawing: sheet of %v by %v mm", s.Width, s.Height)
	}
	open := 0
	for i, it := range s.Items {
		var err error
		switch v := it.(type) {
		case Group:
			open++
			err = v.check()
		case GroupEnd:
			if open--; open < 0 {
				err = errors.New("group ends that was not opened")
			}
		case Drawn:
			err = v.check()
		case Text:
			err = v.check()
		case Image:
			err = v.check()
		case Link:
			err = v.check()
		default:
			err = fmt.Errorf("unknown item %T", it)
		}
		if err != nil {
			return fmt.Errorf("drawing: item %d: %w", i, err)
		}
	}
	if open != 0 {
		return fmt.Errorf("drawing: %d groups left open", open)
	}
	return nil
}

func (g Group) check() error {
	for _, d := range g.Data {
		if d[0] == "" || strings.Trim(d[0], "abcdefghijklmnopqrstuvwxyz-") != "" {
			return fmt.Errorf("no data name: %q", d[0])
		}
	}
	if g.Clip != nil {
		return g.Clip.check()
	}
	return nil
}

func (c Colour) check() error {
	if _, ok := Print.Hex(c); !ok && c != None {
		return fmt.Errorf("no colour %q", string(c))
	}
	return nil
}

func (r Rect) check() error {
	if !finite(r.X) || !finite(r.Y) || !finite(r.W) || !finite(r.H) || r.W < 0 || r.H < 0 {
		return fmt.Errorf("no such box: %v", r)
	}
	return nil
}

func (p Drawn) check() error {
	if p.Path == nil {
		return errors.New("no path")
	}
	for i := range p.Path.segs {
		for _, q := range p.Path.segs[i].points() {
			if !q.finite() {
				return fmt.Errorf("no such place: %v", q)
			}
		}
	}
	st := p.Style
	if !finite(st.Stroke.Width) || st.Stroke.Width < 0 {
		return fmt.Errorf("line %v mm wide", st.Stroke.Width)
	}
	sum := 0.0
	for _, d := range st.Stroke.Dash {
		if !finite(d) || d < 0 {
			return fmt.Errorf("dash of %v mm", d)
		}
		sum += d
	}
	if len(st.Stroke.Dash) > 0 && sum == 0 {
		return errors.New("dash of 0 mm")
	}
	if !(st.Opacity >= 0 && st.Opacity <= 1) {
		return fmt.Errorf("opacity %v", st.Opacity)
	}
	return errors.Join(st.Fill.check(), st.Stroke.Colour.check())
}

func (t Text) check() error {
	if !t.At.finite() || !finite(t.Rotate) {
		return fmt.Errorf("no such place: %v turned %v", t.At, t.Rotate)
	}
	if !finite(t.Size) || t.Size < 0 || !finite(t.Halo) || t.Halo < 0 {
		return fmt.Errorf("letters of %v mm with %v round them", t.Size, t.Halo)
	}
	for _, sp := range t.spans() {
		if sp.Face >= faceCount {
			return fmt.Errorf("no face %d", sp.Face)
		}
		if err := sp.Colour.check(); err != nil {
			return err
		}
	}
	return nil
}

func (m Image) check() error {
	if err := m.Box.check(); err != nil {
		return err
	}
	_, err := m.kind()
	return err
}

func (k Link) check() error {
	if k.URL != "" && !safeURL(k.URL) {
		return fmt.Errorf("link to %q: only http, https and mailto", k.URL)
	}
	return k.Area.check()
}

// safeURL keeps out links that run something, and characters that have no
// place in an address.
func safeURL(u string) bool {
	for _, r := range u {
		if r <= ' ' || r > '~' {
			return false
		}
	}
	l := strings.ToLower(u)
	return strings.HasPrefix(l, "http://") || strings.HasPrefix(l, "https://") || strings.HasPrefix(l, "mailto:")
}
