package server

import (
	"context"
	"math"
	"slices"
	"strings"

	"scalewright/drawing"
	"scalewright/lane"
	"scalewright/model"
	"scalewright/unit"
)

type lanesIn struct {
	OnBuild
	InUnits
	From     float64 `query:"from_mm" doc:"First station; the build's if from and to are left out."`
	To       float64 `query:"to_mm"`
	Width    float64 `query:"width_mm" minimum:"60" maximum:"4000" default:"300" doc:"Of the paper: pixels times 25.4/96."`
	Lanes    string  `query:"lanes" maxLength:"200" doc:"Lanes asked for, with commas; all if left out."`
	Open     string  `query:"open" maxLength:"200" doc:"Lanes that are open; the others come folded to one line."`
	Selected string  `query:"selected" maxLength:"120" doc:"A piece's id."`
}

func (in lanesIn) view(whole model.Span) lane.View {
	v := lane.View{Span: whole, Width: in.Width, System: in.system(), Selected: in.Selected}
	if in.To > in.From && !math.IsInf(in.To-in.From, 0) {
		v.Span = model.Span{From: unit.Length(in.From), To: unit.Length(in.To)}
	}
	return v
}

func listed(names, one string) bool { return slices.Contains(strings.Split(names, ","), one) }

func lanes(ctx context.Context, d *desk, in lanesIn) (LaneSheet, error) {
	out := LaneSheet{Pad: lane.Pad, Lanes: []Lane{}}
	for _, l := range lane.All() {
		if in.Lanes != "" && !listed(in.Lanes, l.ID) {
			continue
		}
		s, asOf, err := d.see(ctx, needs[l.ID])
		if err != nil {
			return out, err
		}
		if !s.has(needs[l.ID]) {
			continue // the first result of all is not that far
		}
		p := s.prepared()
		v := in.view(p.Span)
		v.Folded = l.ID != "elevation" && !listed(in.Open, l.ID)
		out.Lanes = append(out.Lanes, Lane{
			LaneHead: laneHead(l, p, v.System), AsOf: asOf, Folded: v.Folded, Scene: sceneOf(l.Draw(p, v)),
		})
		out.AsOf, out.Span, out.Scale = asOf, stretchOf(v.Span), v.Scale()
	}
	return out, nil
}

func stretchOf(s model.Span) Stretch { return Stretch{float64(s.From), float64(s.To)} }

type laneIn struct {
	OnBuild
	InUnits
	Lane string `path:"lane" maxLength:"40"`
}

func laneTable(ctx context.Context, d *desk, in laneIn) (LaneTable, error) {
	k := slices.IndexFunc(lane.All(), func(l lane.Lane) bool { return l.ID == in.Lane })
	if k < 0 {
		return LaneTable{}, notFound("there is no lane of that name", "the board lists them")
	}
	s, asOf, err := d.see(ctx, needs[in.Lane])
	if err != nil {
		return LaneTable{}, err
	}
	t := lane.All()[k].Table(s.prepared(), in.system())
	out := LaneTable{AsOf: asOf, Caption: t.Caption, Columns: []Column{}, Rows: t.Rows}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, Column{c.Head, c.Figure})
	}
	if out.Rows == nil {
		out.Rows = [][]string{}
	}
	return out, nil
}

type readingsIn struct {
	OnBuild
	InUnits
	Step float64 `query:"step_mm" minimum:"0.5" maximum:"100" default:"1"`
}

func readings(ctx context.Context, d *desk, in readingsIn) (LaneReadings, error) {
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return LaneReadings{}, err
	}
	out := s.readingsIn(in.system(), in.Step)
	out.AsOf = asOf
	return out, nil
}

type drawingIn struct {
	OnBuild
	InUnits
	Drawing string  `path:"drawing" enum:"standing,sizes,days,piece"`
	Piece   string  `query:"piece" maxLength:"120" doc:"Of the drawing piece: its id."`
	Width   float64 `query:"width_mm" minimum:"30" maximum:"2000" default:"180"`
	Height  float64 `query:"height_mm" minimum:"20" maximum:"2000" default:"180"`
}

func drawingOf(ctx context.Context, d *desk, in drawingIn) (Drawing, error) {
	u := in.system()
	if in.Drawing == "sizes" {
		return sizesDrawing(ctx, d, in)
	}
	s, asOf, err := d.see(ctx, throughAll)
	if err != nil {
		return Drawing{}, err
	}
	out := Drawing{AsOf: asOf}
	var scene *drawing.Scene
	switch in.Drawing {
	case "standing":
		scene, out.Scale = lane.Standing(s.result, in.Width, in.Height, u)
	case "days":
		scene = lane.Days(s.result, in.Width)
	case "piece":
		i := pieceAt(s.result, in.Piece)
		if i < 0 || i >= len(s.result.Carved) || s.result.Carved[i].Solid.Empty() {
			return out, notFound("there is no piece of that name", "the list of pieces has them")
		}
		scene, out.Scale = lane.PieceView(s.result, i, in.Width, in.Height, u)
	}
	if out.Scale > 0 {
		out.Says = lane.ScaleText(out.Scale)
	}
	out.Scene = sceneOf(scene)
	return out, nil
}
