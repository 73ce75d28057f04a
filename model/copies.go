package model

import "fmt"

// Copies are the ids that a declared part gets at full size: its own, or one for
// each of several clockings.
func (p DeclaredPart) Copies() []string {
	if len(p.Clockings) < 2 {
		return []string{p.ID}
	}
	var ids []string
	for i := range p.Clockings {
		ids = append(ids, fmt.Sprintf("%s-%d", p.ID, i+1))
	}
	return ids
}
