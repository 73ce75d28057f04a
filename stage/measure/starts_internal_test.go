package measure

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A poor fit gives way to another start's; a good one stays as it is.
func TestAnew(t *testing.T) {
	sc := sceneOf(t, rand.New(rand.NewPCG(65, 66)), body{{s: 0, r: 10}, {s: 40, r: 15}, {s: 110, r: 15}, {s: 120, r: 9}}, 0)
	v, good := solved(t, sc)
	if off := v.off(&good); off > 2*edgeNoise {
		t.Fatalf("the edge lies %.2f px off a good fit", off)
	}
	if same, ok := v.anew(good, true, sc.pose, settings{}, true); !ok || same.axis != good.axis {
		t.Error("a good fit was given up")
	}
	poor := good
	poor.form = good.form.clone()
	for i := range poor.form.joints {
		poor.form.joints[i].r += 1
	}
	poor.from = slopeGuessed
	if better, ok := v.anew(poor, true, sc.pose, settings{}, true); !ok || math.Abs(v.off(&better)-v.off(&good)) > edgeNoise {
		t.Errorf("a fit %.2f px off was kept, or given for one %.2f off", v.off(&poor), v.off(&better))
	}
	if found, ok := v.anew(solution{}, false, sc.pose, settings{}, true); !ok || v.off(&found) > 2*edgeNoise {
		t.Error("nothing came of another start")
	}
}
