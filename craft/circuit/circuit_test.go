package circuit_test

import (
	"fmt"
	"slices"
	"testing"

	"scalewright/craft/circuit"
	"scalewright/model"
	"scalewright/stock"
)

func of(id, kind string) model.Component {
	k, ok := stock.FindComponent(kind)
	if !ok {
		panic(kind)
	}
	return model.Component{ID: id, Kind: k}
}

func ExampleWires() {
	all := []model.Component{of("brain", "controller-328"), of("go", "button-16"), of("glow", "strip-60"), of("plug", "adapter-5v3a")}
	for _, w := range circuit.Wires(all) {
		fmt.Println(w.ID, w.Carries)
	}
	// Output:
	// plug-brain power
	// plug-glow power
	// brain-glow data
	// go-brain switch
}

// Without a controller nothing is driven, without a supply nothing is fed, and no
// wire joins a component that is not there.
func TestNoWireWithoutBothEnds(t *testing.T) {
	all := []model.Component{of("go", "button-16"), of("voice", "speaker-57"), of("amp", "amplifier-mono")}
	if w := circuit.Wires(all); len(w) != 1 || w[0].ID != "amp-voice" {
		t.Errorf("wires %v", w)
	}
	if w := circuit.Wires(nil); len(w) != 0 {
		t.Errorf("nothing has wires %v", w)
	}
	if s, ok := circuit.Supply([]model.Component{of("road", "bank-10000"), of("plug", "adapter-5v3a")}); !ok || s.ID != "plug" {
		t.Errorf("supply %v", s)
	}
}

// Strips are one chain on one line, and no two amplifiers share a speaker.
func TestChains(t *testing.T) {
	all := []model.Component{
		of("amp-a", "amplifier-mono"), of("amp-b", "amplifier-mono"), of("brain", "controller-328"), of("glow", "strip-60"),
		of("shine", "strip-60"), of("voice-a", "speaker-57"), of("voice-b", "speaker-57"), of("voice-c", "speaker-57"),
	}
	var got []string
	for _, w := range circuit.Wires(all) {
		got = append(got, w.ID)
	}
	want := []string{"brain-glow", "glow-shine", "amp-a-voice-a", "amp-b-voice-b", "amp-b-voice-c"}
	if !slices.Equal(got, want) {
		t.Errorf("wires %v, want %v", got, want)
	}
}
