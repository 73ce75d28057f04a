package drawing

import "math"

// Seat asks for a place of a label in one of several rows, with a leader to what
// it speaks of.
type Seat struct {
	Tip   Point     // the place it speaks of
	Tips  []Point   // others that do as well, each a little less
	W, H  float64   // of the words' box, or of a ball
	Rows  []float64 // y of the box's middle
	Reach float64   // mm that the box may lie to either side; 0: 60
	Gap   float64   // mm to other words; 0: 1
	Ball  bool      // the leader ends on a circle round the middle
	Most  float64   // what it may cost, mm of leader; 0: anything
}

// Seated is where a label went, and its leader from the tip to the words.
type Seated struct {
	Box    Rect
	Leader []Point
	Left   bool    // the words begin at the leader's end; else they end there
	Cost   float64 // mm of leader, and of what it runs across

	tangles int // leaders that it crosses
}

// Costs in mm of leader: a knee, a dimension line crossed, another leader
// crossed. Common sense of the drawing board; they decide beauty, not truth.
const (
	kneeCost    = 6.0
	crossCost   = 5.0
	tangleCost  = 60.0
	longCost    = 100.0 // a straight leader that costs more may be better with a knee
	besideCost  = 25.0  // another leader so near that both look like one line
	besideGap   = 1.0   // mm
	tipCost     = 1.5   // for each place before it in the list of tips
	slantCost   = 0.35  // a mm aside, besides the leader's own length
	seatStep    = 2.0   // mm between the places tried
	seatReach   = 60.0
	kneeReach   = 120.0 // mm a level first stretch may run
	kneeStep    = 3.0
	leaderToBox = 0.9
	tipSteps    = 6 // to either side that are tried of tips after the first: they serve leaders nearly straight down
)

// Seat finds the place with the cheapest leader, and takes it.
func (r *Room) Seat(s Seat) (Seated, bool) {
	best, ok := r.Find(s)
	if ok {
		r.Sit(best)
	}
	return best, ok
}

// Sit takes a place that was found.
func (r *Room) Sit(s Seated) {
	r.Words(s.Box)
	r.Leader(s.Leader...)
}

// Find finds the place with the cheapest leader. Leaders run straight, or level
// first and straight from a knee, where something is in the way.
//
// Laws: the box lies in the area over nothing that was taken; the leader runs
// through no words and over no bar but the one it begins on.
func (r *Room) Find(s Seat) (Seated, bool) {
	if s.Reach == 0 {
		s.Reach = seatReach
	}
	if s.Gap == 0 {
		s.Gap = 1
	}
	best, cost := Seated{}, math.Inf(1)
	if s.Most > 0 {
		cost = s.Most
	}
	tips := append([]Point{s.Tip}, s.Tips...)
	for _, kneed := range [2]bool{false, true} {
		for n, tip := range tips {
			s.Tip = tip
			extra := tipCost * float64(n)
			for _, y := range s.Rows {
				steps := int(s.Reach / seatStep)
				if n > 0 {
					steps = min(steps, tipSteps)
				}
				for k := range 2*steps + 1 { // the nearest first: most others are dearer at a glance
					dx := float64((k+1)/2) * seatStep
					if k%2 == 1 {
						dx = -dx
					}
					for _, left := range s.sides() {
						if c, ok := r.seated(s, y, dx, left, kneed, cost-extra); ok {
							best, cost = c.Seated, c.cost+extra
						}
					}
				}
			}
		}
		if len(best.Leader) > 0 && best.tangles == 0 && cost < longCost {
			break // no knee does much better
		}
	}
	best.Cost = cost
	return best, len(best.Leader) > 0
}

func (s Seat) sides() []bool {
	if s.Ball {
		return []bool{true}
	}
	return []bool{true, false}
}

type seatTry struct {
	Seated

	cost float64
}

// seated tries one place; it must be cheaper than the best so far.
func (r *Room) seated(s Seat, y, dx float64, left, kneed bool, most float64) (seatTry, bool) {
	t := seatTry{Seated: Seated{Left: left}}
	end := Pt(s.Tip.X+dx, y)
	switch {
	case s.Ball:
		t.Box = Rect{end.X - s.W/2, y - s.H/2, s.W, s.H}
	case left:
		t.Box = Rect{end.X + leaderToBox, y - s.H/2, s.W, s.H}
	default:
		t.Box = Rect{end.X - leaderToBox - s.W, y - s.H/2, s.W, s.H}
	}
	aside := math.Abs(dx) * slantCost
	if s.Tip.Dist(end)+aside >= most || !r.Free(t.Box, s.Gap) {
		return t, false
	}
	if !kneed {
		way := []Point{s.Tip, s.toward(s.Tip, end)}
		t.cost, t.tangles = r.wayCost(way, t.Box)
		t.cost += aside
		t.Leader = way
		return t, t.cost < most
	}
	t.cost = most
	for k := -int(kneeReach / kneeStep); k <= int(kneeReach/kneeStep); k++ {
		knee := Pt(s.Tip.X+float64(k)*kneeStep, s.Tip.Y)
		if k == 0 || !r.holds(knee) || s.Tip.Dist(knee)+knee.Dist(end)+aside+kneeCost >= t.cost {
			continue
		}
		way := []Point{s.Tip, knee, s.toward(knee, end)}
		if c, tangles := r.wayCost(way, t.Box); c+aside+kneeCost < t.cost {
			t.cost, t.Leader, t.tangles = c+aside+kneeCost, way, tangles
		}
	}
	return t, t.cost < most
}

// holds reports whether a place lies in the area.
func (r *Room) holds(p Point) bool {
	return p.X > r.area.X && p.X < r.area.X+r.area.W && p.Y > r.area.Y && p.Y < r.area.Y+r.area.H
}

// toward stops a leader at a ball's rim.
func (s Seat) toward(from, end Point) Point {
	if d := from.Dist(end); s.Ball && d > s.W/2 {
		return end.Add(from.Sub(end).Mul(s.W / 2 / d))
	}
	return end
}

// wayCost is a leader's, +Inf where it may not run so, and how many others it
// crosses.
func (r *Room) wayCost(way []Point, box Rect) (cost float64, tangles int) {
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		if box.Inset(0.01).crossesSegment(a, b) || !r.clear(a, b, i == 1) {
			return math.Inf(1), 0
		}
		lines, leaders, beside := r.crossings(a, b)
		tangles += leaders
		cost += a.Dist(b) + crossCost*float64(lines) + tangleCost*float64(leaders) + besideCost*float64(beside)
	}
	return cost, tangles
}
