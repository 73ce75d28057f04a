package calendar

import (
	"math"

	"scalewright/model"
	"scalewright/unit"
)

// Durations are log-normal about what the plan counts on, which is their median.
// Their doubt has two parts: one that all work of a kind shares (whoever guesses
// gluing too short does so each time), and one of each task.
const (
	guessSpread  = 0.30 // standard deviation of the logarithm of a guess: a guess itself, until logged
	printSpreads = 0.10 // of printing minutes worked out from the layers: common practice
	loggedSpread = 0.03 // of a print that was timed before: common practice
	// Of prints that fail (handbooks of the trade say 5 to 10 in 100: common
	// practice), the middle.
	failing = 0.075
	// A print that failed so often is given up for another plan.
	mostFailures = 3
)

// spread is how far a task's minutes may be off.
type spread struct {
	kind   model.TaskKind // whose shared part it takes; empty: none
	shared float64        // standard deviation of the logarithm
	own    float64
	fails  float64 // chance that an attempt has to be made anew
}

func printSpread(p model.Print) spread {
	if p.Logged {
		return spread{own: loggedSpread, fails: failing}
	}
	return spread{own: printSpreads, fails: failing}
}

func (b *board) handSpread(t model.Task) spread {
	half := guessSpread / math.Sqrt2
	if !t.Guess {
		return spread{own: half}
	}
	return spread{kind: t.Kind, shared: b.pace[t.Kind].doubt(), own: half}
}

// pace is what the log says of how long work of a kind takes, against what was
// guessed: the mean of the logarithms of the ratios, and how many there are.
type pace struct {
	mean float64
	n    int
}

// paces compares what was logged with what was guessed.
func paces(in Input) map[model.TaskKind]pace {
	out := map[model.TaskKind]pace{}
	for _, t := range in.Tasks {
		took, ok := in.Took[t.ID]
		if !ok || took <= 0 || t.Bench <= 0 || !t.Guess {
			continue
		}
		p := out[t.Kind]
		p.mean = (p.mean*float64(p.n) + math.Log(float64(took)/float64(t.Bench))) / float64(p.n+1)
		p.n++
		out[t.Kind] = p
	}
	return out
}

// learned is the mean and variance of the shared part after n ratios: of a normal
// mean with a normal prior, both variances half of the guess's (Gelman and others,
// Bayesian Data Analysis, 3rd ed., 2013, equations 2.11 and 2.12).
func (p pace) learned() (mean, variance float64) {
	half := guessSpread * guessSpread / 2
	n := float64(p.n)
	return p.mean * n / (n + 1), half / (n + 1)
}

// of is the minutes to count on.
func (p pace) of(guess unit.Minutes) unit.Minutes {
	mean, _ := p.learned()
	return unit.Minutes(math.Round(float64(guess) * math.Exp(mean)))
}

func (p pace) doubt() float64 {
	_, variance := p.learned()
	return math.Sqrt(variance)
}
