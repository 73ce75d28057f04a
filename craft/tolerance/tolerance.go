package tolerance

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"scalewright/stock"
	"scalewright/unit"
)

// Limits are the least and the largest diameter of a nominal size and class,
// "H7" for a hole, "g6" for a shaft.
func Limits(nominal unit.Length, class string) (low, high unit.Length, err error) {
	letter := strings.TrimRight(class, "0123456789")
	grade, err := strconv.Atoi(class[len(letter):])
	if err != nil {
		return 0, 0, fmt.Errorf("read tolerance class %q: no grade", class)
	}
	width, ok := find("IT"+strconv.Itoa(grade), nominal)
	if !ok {
		return 0, 0, fmt.Errorf("no row for grade %d at %g mm", grade, nominal)
	}
	if letter == "H" {
		return nominal, nominal + width, nil // EI = 0
	}
	by, ok := find(letter, nominal)
	switch {
	case !ok || letter == "IT":
		return 0, 0, fmt.Errorf("no row for deviation %q at %g mm", letter, nominal)
	case by > 0: // k, p: the lower deviation, ei
		return nominal + by, nominal + by + width, nil
	}
	return nominal + by - width, nominal + by, nil // c to h: the upper one, es
}

// Width is the width of a grade at a size: the table's, or outside its sizes
// that of the formula ISO 286-1 builds it from, i = 0.45·∛D + 0.001·D µm with
// IT6 to IT13 at 10, 16, 25, 40, 64, 100, 160 and 250 times i. It is 0 for other
// grades. The formula takes D itself for the mean of its range and lies within
// 15 % of the table.
func Width(nominal unit.Length, grade int) unit.Length {
	if width, ok := find("IT"+strconv.Itoa(grade), nominal); ok {
		return width
	}
	times := [...]float64{6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160, 13: 250}
	if grade < 0 || grade >= len(times) || nominal <= 0 {
		return 0
	}
	d := float64(nominal)
	return unit.Length(times[grade] * (0.45*math.Cbrt(d) + 0.001*d) / 1000)
}

func find(symbol string, nominal unit.Length) (unit.Length, bool) {
	for _, row := range table {
		if row.Symbol == symbol && nominal > row.Over && nominal <= row.To {
			return row.By, true
		}
	}
	return 0, false
}

var table = stock.Tolerances()
