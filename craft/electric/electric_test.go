package electric_test

import (
	"math"
	"testing"

	"scalewright/craft/electric"
)

// Ω/km of the Handbook of Electronic Tables and Formulas as a wiring page prints
// them.
func TestGauges(t *testing.T) {
	for gauge, want := range map[int]float64{10: 3.28, 14: 8.29, 18: 21.0, 20: 33.5, 22: 53.2, 24: 84.2, 26: 133, 28: 212, 30: 338} {
		if got := 1000 * electric.PerMetre(gauge, 20); math.Abs(got-want) > 0.01*want {
			t.Errorf("AWG %d: %v Ω/km, want %v", gauge, got, want)
		}
	}
	// ASTM B258 by definition: gauge 36 is 0.0050 in, gauge 0000 is 0.4600 in.
	if d := electric.Diameter(36); math.Abs(d-0.127) > 1e-12 {
		t.Errorf("AWG 36 is %v mm", d)
	}
	if d := electric.Diameter(-3); math.Abs(d-0.46*25.4) > 1e-9 {
		t.Errorf("AWG 0000 is %v mm", d)
	}
}

func TestDrop(t *testing.T) {
	for _, c := range []struct {
		gauge              int
		metres, amps, want float64
	}{{22, 2, 1, 0.2119}, {18, 1.5, 3.6, 0.2262}, {24, 1, 0.5, 0.0842}} {
		if got := electric.Drop(c.gauge, 1000*c.metres, c.amps, 20); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("AWG %d: %v V, want %v", c.gauge, got, c.want)
		}
	}
}

// Red 2.0 V, blue and white 3.2 V at 20 mA: a supplier's table of LEDs.
func TestResistor(t *testing.T) {
	for _, c := range []struct {
		supply, forward, want float64
		leds                  int
	}{{5, 2.0, 150, 1}, {12, 3.2, 120, 3}, {5, 3.2, 90, 1}} {
		if got := electric.Resistor(c.supply, c.leds, c.forward, 0.020); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v V, %d LEDs: %v Ω, want %v", c.supply, c.leds, got, c.want)
		}
	}
}

// 10 000 mAh at 3.7 V are 37 Wh: 31.45 Wh after 85 %, 6.29 Ah at 5 V, 12.6 h at
// half an ampere.
func TestBank(t *testing.T) {
	ah := electric.AmpereHours(37, 0.85, 5)
	if math.Abs(ah-6.29) > 1e-9 || math.Abs(ah/0.5-12.58) > 1e-9 {
		t.Errorf("%v Ah", ah)
	}
}

// 48.8 mA at white (disk91.com); a module maker measured 33.5 and 52.5 mA of two
// lots (pjrc.com), so it lies between.
func TestPixel(t *testing.T) {
	if got := electric.Pixel(255, 255, 255); math.Abs(got-0.0488) > 1e-4 {
		t.Errorf("white draws %v A", got)
	}
}

// PAM8302A (data sheet DS36436): 2.5 W into 4 Ω at 5 V, efficiency to 88 %. So
// 0.57 A from the supply, and more than that through the speaker.
func TestSpeaker(t *testing.T) {
	got := electric.Speaker(2.5, 4)
	if math.Abs(got*got*4-2.5) > 1e-12 || got < 2.5/(0.88*5) {
		t.Errorf("%v A", got)
	}
}

// 22 AWG at 50 °C: 53.2 Ω/km of the table at 20 °C and 0.393 % a kelvin.
func TestWarmCopper(t *testing.T) {
	if got, want := 1000*electric.PerMetre(22, 50), 53.2*(1+0.00393*30); math.Abs(got-want) > 0.005*want {
		t.Errorf("%v Ω/km, want %v", got, want)
	}
}
