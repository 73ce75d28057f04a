package job

import (
	"testing"

	"scalewright/finding"
	"scalewright/model"
)

// What structure found of doors and lifts is one word a size; the worst counts.
func TestWayIn(t *testing.T) {
	found := func(code finding.Code) finding.Finding {
		return finding.Finding{Code: code, Args: finding.Args{"way": finding.Name("the lift")}}
	}
	site := &model.Site{Passages: []model.Passage{{Name: "the lift"}}}
	for name, c := range map[string]struct {
		site   *model.Site
		found  finding.List
		want   model.WayIn
		narrow string
	}{
		"no way declared": {nil, finding.List{found("way-narrow")}, model.WayUnknown, ""},
		"whole":           {site, finding.List{found("overhang")}, model.WayWhole, ""},
		"apart":           {site, finding.List{found("way-apart")}, model.WayApart, ""},
		"glued":           {site, finding.List{found("way-apart"), found("way-glued")}, model.WayNone, "the lift"},
	} {
		var r Result
		r.Design.Site, r.Findings = c.site, c.found
		if way, narrow := wayIn(r); way != c.want || narrow != c.narrow {
			t.Errorf("%s: wayIn = %q, %q, want %q, %q", name, way, narrow, c.want, c.narrow)
		}
	}
}
