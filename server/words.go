package server

import (
	"time"

	"scalewright/book"
)

// dayWords is a date in words.
func dayWords(date string) string { return book.Day(date) }

// shortDay is a date as a reading has it: 19 Jan.
func shortDay(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 Jan")
}
