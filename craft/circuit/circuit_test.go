package circuit_test

import (
	"fmt"
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
