package lane

import "scalewright/drawing"

// personWide is the figure's width as a share of its height, arms included.
const personWide = 0.30

// silhouette is a standing person, feet at the point, so many mm tall: a plain
// outline of our own, its heights by the share of stature usual in figure
// drawing (eight heads: shoulders at 0.82, crotch at 0.48, knees at 0.27).
func silhouette(s *drawing.Scene, feet drawing.Point, tall float64) {
	at := func(x, y float64) drawing.Point { return feet.Add(drawing.Pt(x*tall, -y*tall)) }
	t := &drawing.Path{}
	for _, side := range [...]float64{-1, 1} {
		q := func(x, y float64) drawing.Point { return at(side*x, y) }
		t.Move(q(0, 0.865)).
			Curve(q(0.02, 0.865), q(0.028, 0.86), q(0.03, 0.85)).
			Curve(q(0.034, 0.832), q(0.07, 0.828), q(0.1, 0.812)).
			Curve(q(0.122, 0.8), q(0.128, 0.765), q(0.13, 0.72)).
			Curve(q(0.134, 0.66), q(0.142, 0.6), q(0.146, 0.53)).
			Curve(q(0.15, 0.49), q(0.146, 0.435), q(0.134, 0.43)).
			Curve(q(0.122, 0.43), q(0.12, 0.47), q(0.119, 0.5)).
			Curve(q(0.115, 0.58), q(0.104, 0.64), q(0.097, 0.7)).
			Curve(q(0.09, 0.65), q(0.086, 0.62), q(0.089, 0.57)).
			Curve(q(0.1, 0.5), q(0.1, 0.44), q(0.092, 0.37)).
			Curve(q(0.084, 0.3), q(0.087, 0.25), q(0.08, 0.19)).
			Curve(q(0.074, 0.12), q(0.064, 0.07), q(0.064, 0.035)).
			Curve(q(0.066, 0.018), q(0.086, 0.012), q(0.085, 0)).
			Line(q(0.03, 0)).
			Curve(q(0.026, 0.03), q(0.03, 0.07), q(0.028, 0.12)).
			Curve(q(0.026, 0.2), q(0.02, 0.25), q(0.018, 0.3)).
			Curve(q(0.014, 0.38), q(0.01, 0.43), q(0, 0.475)).
			Close()
	}
	head := &drawing.Path{}
	head.Move(at(0, 1)).
		Curve(at(0.03, 1), at(0.044, 0.975), at(0.043, 0.945)).
		Curve(at(0.042, 0.905), at(0.024, 0.868), at(0, 0.868)).
		Curve(at(-0.024, 0.868), at(-0.042, 0.905), at(-0.043, 0.945)).
		Curve(at(-0.044, 0.975), at(-0.03, 1), at(0, 1)).
		Close()
	s.Begin(drawing.Group{ID: "person", Class: "person", Title: "a person, for size"})
	defer s.End()
	s.Path(t, drawing.Filled(drawing.Shade))
	s.Path(head, drawing.Filled(drawing.Shade))
}
