// Package electric has the formulae of low voltage wiring: wire gauges, voltage
// drop, resistors, energy. Volts, amperes, ohms, millimetres.
package electric

import "math"

// Copper at 20 °C: 1/58 Ω·mm²/m and 0.00393 a kelvin, IEC 60028.
const (
	resistivity = 1.0 / 58
	perKelvin   = 0.00393
)

// Diameter of an AWG gauge, mm: 0.127·92^((36-n)/39), ASTM B258.
func Diameter(gauge int) float64 { return 0.127 * math.Pow(92, float64(36-gauge)/39) }

// Area of the copper, mm².
func Area(gauge int) float64 { d := Diameter(gauge); return math.Pi * d * d / 4 }

// PerMetre is the resistance of a metre of one conductor, Ω, at a temperature in
// °C.
func PerMetre(gauge int, celsius float64) float64 {
	return resistivity / Area(gauge) * (1 + perKelvin*(celsius-20))
}

// Drop is what is lost on the way there and back, V: 2·L·I·R'. The length is in
// mm.
func Drop(gauge int, long, ampere, celsius float64) float64 {
	return 2 * long / 1000 * ampere * PerMetre(gauge, celsius)
}

// Resistor in series with so many LEDs, Ω: (V - n·Vf)/I.
func Resistor(supply float64, leds int, forward, ampere float64) float64 {
	return (supply - float64(leds)*forward) / ampere
}

// AmpereHours that a bank gives at a voltage: its energy, less what conversion
// takes.
func AmpereHours(wattHours, efficiency, volts float64) float64 { return wattHours * efficiency / volts }

// Pixel is what one WS2812B draws, A, at three values of 0 to 255: 1 mA and a
// sixteenth of a mA a step, as measured (disk91.com); at white 48.8 mA.
func Pixel(red, green, blue float64) float64 { return (1 + (red+green+blue)/16) / 1000 }

// Speaker is the effective current of a speaker, A, at a power in W: √(P/R). An
// amplifier that switches makes it larger than what its own supply gives.
func Speaker(watt, ohm float64) float64 { return math.Sqrt(watt / ohm) }
