package build

import (
	"fmt"

	"scalewright/finding"
	"scalewright/model"
)

// tailFile holds how many lines the log had when the last event was
// acknowledged, and the sum of its last one: checksums alone don't show that
// whole lines are gone from the end.
const tailFile = HistoryDir + "/log-tail"

// fullLog is the text of the log with its events and what is wrong with it, lost
// lines included. The tail is read first: a program that is just writing puts
// the log's line before it.
func (f *Folder) fullLog() (text []byte, events []model.Event, c chain, found finding.List, err error) {
	tail, err := f.readText(tailFile)
	if err != nil {
		return nil, nil, chain{}, nil, err
	}
	text, err = f.readText(LogFile)
	if err != nil {
		return nil, nil, chain{}, nil, err
	}
	events, c, found = readLog(text)
	if found.Blocked() || tail == nil {
		return text, events, c, found, nil
	}
	var lines int
	var sum string
	if _, err := fmt.Sscanf(string(tail), "%d %s", &lines, &sum); err != nil || lines <= 0 {
		return text, events, c, found, nil
	}
	if len(c.bodies) < lines || c.first(lines).sum != sum {
		found.Add(finding.New("log-cut", finding.Place{File: LogFile}, finding.Args{
			"lines": finding.Count(lines), "left": finding.Count(len(c.bodies)),
		}))
	}
	return text, events, c, found, nil
}

// writeTail records how far the log goes.
func (f *Folder) writeTail(lines int, sum string) error {
	return f.replace(tailFile, fmt.Appendf(nil, "%d %s\n", lines, sum))
}
