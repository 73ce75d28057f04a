package stock

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"scalewright/unit"
)

// row is one line of a table, by column name.
type row map[string]string

// rows reads a built-in table; one that cannot be read is a bug of ours.
func rows(text string) []row {
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("stock: internal error: " + err.Error())
	}
	var out []row
	for _, record := range records[1:] {
		r := row{}
		for i, name := range records[0] {
			r[name] = record[i]
		}
		out = append(out, r)
	}
	return out
}

func (r row) text(column string) string {
	value, ok := r[column]
	if !ok {
		panic("stock: internal error: no column " + column)
	}
	return value
}

func (r row) number(column string) float64 {
	x, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		panic(fmt.Sprintf("stock: internal error: %s %q", column, r[column]))
	}
	return x
}

func (r row) length(column string) unit.Length { return unit.Length(r.number(column)) }
