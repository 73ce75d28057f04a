package server

import (
	"encoding/base64"
	"math"
	"net/http"
	"strconv"
	"strings"

	"scalewright/drawing"
)

// sceneOf writes a drawing for the page. Groups that were opened and closed in a
// row become a tree; ids are made single.
func sceneOf(s *drawing.Scene) Scene {
	out := Scene{Width: hundredth(s.Width), Height: hundredth(s.Height), Title: s.Title, Desc: s.Desc}
	w := sceneWriter{used: map[string]bool{}}
	out.Items, _ = w.items(s.Items)
	return out
}

type sceneWriter struct{ used map[string]bool }

// items writes items up to the end of their group, and says how many it took.
func (w *sceneWriter) items(in []drawing.Item) (out []SceneItem, took int) {
	out = []SceneItem{}
	for i := 0; i < len(in); i++ {
		switch v := in[i].(type) {
		case drawing.Group:
			inside, n := w.items(in[i+1:])
			i += n
			out = append(out, w.group(v, inside))
		case drawing.GroupEnd:
			return out, i + 1
		case drawing.Drawn:
			if d := v.Path.Data(); d != "" {
				out = append(out, w.path(v, d))
			}
		case drawing.Text:
			if !v.Blank() {
				out = append(out, w.text(v))
			}
		case drawing.Image:
			out = append(out, SceneItem{
				Kind: "image", ID: w.single(v.ID), Title: v.Alt,
				X: hundredth(v.Box.X), Y: hundredth(v.Box.Y), W: hundredth(v.Box.W), H: hundredth(v.Box.H),
				Href: "data:" + http.DetectContentType(v.Data) + ";base64," + base64.StdEncoding.EncodeToString(v.Data),
			})
		case drawing.Link:
			out = append(out, SceneItem{
				Kind: "link", X: hundredth(v.Area.X), Y: hundredth(v.Area.Y), W: hundredth(v.Area.W), H: hundredth(v.Area.H),
				Href: linkTo(v),
			})
		}
	}
	return out, len(in)
}

func linkTo(k drawing.Link) string {
	if k.URL != "" {
		return k.URL
	}
	return "#" + k.To
}

func (w *sceneWriter) group(g drawing.Group, inside []SceneItem) SceneItem {
	out := SceneItem{Kind: "group", ID: w.single(g.ID), Class: g.Class, Title: g.Title, Items: inside}
	if g.Clip != nil {
		out.Clip = &Box{hundredth(g.Clip.X), hundredth(g.Clip.Y), hundredth(g.Clip.W), hundredth(g.Clip.H)}
	}
	if len(g.Data) > 0 {
		out.Data = map[string]string{}
		for _, d := range g.Data {
			out.Data[d[0]] = d[1]
		}
	}
	return out
}

func (w *sceneWriter) path(v drawing.Drawn, d string) SceneItem {
	out := SceneItem{Kind: "path", ID: w.single(v.ID), D: d}
	if v.Style.Fill != drawing.None {
		out.Fill, out.EvenOdd = string(v.Style.Fill), v.Style.EvenOdd
	}
	if st := v.Style.Stroke; st.Colour != drawing.None && st.Width > 0 {
		out.Stroke, out.Width, out.Dash = string(st.Colour), hundredth(st.Width), st.Dash
	}
	if o := v.Style.Opacity; o > 0 && o < 1 {
		out.Opacity = o
	}
	return out
}

func (w *sceneWriter) text(v drawing.Text) SceneItem {
	out := SceneItem{
		Kind: "text", ID: w.single(v.ID), Class: v.Class, X: hundredth(v.At.X), Y: hundredth(v.At.Y),
		Size: v.Size, Halo: v.Halo, Rotate: v.Rotate,
	}
	if v.Rotate != 0 {
		out.Drop = hundredth(v.BaseBelow())
	} else {
		out.Y = hundredth(v.At.Y + v.BaseBelow())
	}
	switch v.H {
	case drawing.Start:
		out.Anchor = "start"
	case drawing.Middle:
		out.Anchor = "middle"
	case drawing.End:
		out.Anchor = "end"
	}
	for _, r := range v.Runs() {
		out.Runs = append(out.Runs, TextRun{Text: r.Text, Colour: string(r.Colour), Bold: r.Face.IsBold(), Italic: r.Face.IsItalic()})
	}
	return out
}

// single is an id that no other item of the scene has, without spaces.
func (w *sceneWriter) single(id string) string {
	if id == "" {
		return ""
	}
	id = strings.Join(strings.Fields(id), "-")
	one := id
	for n := 2; w.used[one]; n++ {
		one = id + "-" + strconv.Itoa(n)
	}
	w.used[one] = true
	return one
}

// hundredth of a mm is finer than any screen shows.
func hundredth(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return math.Round(x*100) / 100
}
