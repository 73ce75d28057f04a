package book

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"scalewright/job"
	"scalewright/model"
	"scalewright/stage/calendar"
	"scalewright/unit"
)

// ActWords say what somebody does.
func ActWords(r job.Result, a calendar.Act) string { return stepWords(r, a.Task, a.Step) }

// stepWords say what a step of the plan is.
func stepWords(r job.Result, t calendar.Task, s calendar.Step) string {
	piece := strings.TrimPrefix(t.Name, "print ")
	printer := printerName(r, t.Printer)
	switch s.Name {
	case calendar.StepLoad:
		return fmt.Sprintf("Start %s on %s", piece, printer)
	case calendar.StepRun:
		return fmt.Sprintf("%s prints %s", printer, piece)
	case calendar.StepClear:
		return fmt.Sprintf("Take %s off %s", piece, printer)
	case calendar.StepCure:
		if k := model.TaskKind(t.Kind); k == model.Prime || k == model.Paint || k == model.Fill {
			return "Drying: " + t.Name
		}
		return "Hardening: " + t.Name
	}
	return capital(t.Name)
}

func printerName(r job.Result, id string) string {
	if p, ok := r.Design.Shop.Printer(id); ok && p.Name != "" {
		return p.Name
	}
	return id
}

// pieceName is a piece's label once it is released, and its name.
func pieceName(r job.Result, p model.Piece) string {
	if l := label(r, p.ID.String()); l != "" {
		return l + ", " + p.Name
	}
	return p.Name
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// hours to a tenth below ten, else whole.
func hours(h float64) string {
	if h < 9.95 {
		return strings.TrimSuffix(strconv.FormatFloat(h, 'f', 1, 64), ".0")
	}
	return strconv.FormatFloat(h, 'f', 0, 64)
}

func mass(g unit.Mass) string {
	if g >= 1000 {
		return strconv.FormatFloat(g.Kilograms(), 'f', 1, 64) + " kg"
	}
	return strconv.FormatFloat(float64(g), 'f', 0, 64) + " g"
}

// Signs of currencies that have one of their own; others keep their code.
var signs = map[string]string{"EUR": "€", "USD": "$", "GBP": "£", "JPY": "¥", "INR": "₹"}

func money(x float64, currency string) string {
	figure := strconv.FormatFloat(x, 'f', 0, 64)
	switch sign := signs[currency]; {
	case sign == "":
		return strings.TrimSpace(figure + " " + currency)
	case currency == "EUR":
		return figure + " " + sign
	default:
		return sign + figure
	}
}

// day is a date in words; as written where it is none.
func day(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 January 2006")
}

// times is a chance as so many times in a hundred, never rounded up to sure.
func times(p float64) string {
	switch {
	case p >= 0.995:
		return "more than 99 times in 100"
	case p < 0.01:
		return "less than once in 100"
	}
	return fmt.Sprintf("%d times in 100", int(math.Floor(p*100+1e-9)))
}

func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%s %s", small(n), many)
}

// small writes numbers up to ten in words.
func small(n int) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// twice is a doubt as the book writes it: two standard uncertainties, which
// hold 95 times in 100.
func twice(u float64) unit.Length { return unit.Length(2 * u) }
