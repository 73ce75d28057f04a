package weigh_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"scalewright/model"
	"scalewright/stage/weigh"
)

func of(ratio float64, safe string, cost float64, blocked string) model.Candidate {
	return model.Candidate{Proposal: model.Proposal{Ratio: ratio}, Safe: safe, Cost: cost, Pieces: int(2 * ratio), Blocked: blocked}
}

func ExampleRun() {
	all, _, _ := weigh.Run(context.Background(), []model.Candidate{
		of(7, "2026-12-30", 90, ""), of(5, "2026-12-18", 40, ""), of(8, "2026-12-01", 10, "piece-too-large"), of(6, "2026-12-20", 30, ""),
	})
	for _, c := range all {
		fmt.Println(strings.TrimSpace(fmt.Sprint(c.Ratio, " ", c.Best, " ", c.Blocked)))
	}
	// Output:
	// 5 [soonest fewest pieces]
	// 6 [cheapest]
	// 7 [largest]
	// 8 [] piece-too-large
}

// Equals are not praised, and nothing is ranked first that cannot be made.
func TestEqualsAreNotPraised(t *testing.T) {
	all, _, _ := weigh.Run(context.Background(), []model.Candidate{of(5, "2026-12-18", 40, ""), of(5, "2026-12-18", 40, "")})
	if len(all[0].Best)+len(all[1].Best) > 0 {
		t.Errorf("%v", all)
	}
	if all, _, err := weigh.Run(context.Background(), nil); err != nil || len(all) != 0 {
		t.Errorf("%v, %v", all, err)
	}
}
