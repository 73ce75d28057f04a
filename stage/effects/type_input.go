package effects

import (
	"scalewright/model"
)

// Input is what plays and where it lies.
type Input struct {
	Components []model.Component
	Shows      []model.Show
	Places     model.Places
	Site       *model.Site
}

const (
	inHand     = 0.8   // of what a supply gives that is planned with
	whiteMA    = 60.0  // a pixel's budget at white: wiring advice; lots differ from 33 to 53
	efficiency = 0.85  // of a bank's conversion: two sellers' pages, 80 to 85 %
	keepsOnMA  = 100.0 // under which a bank may switch off: seen at 60 and at 90
	// A load of 150 mA for 1 s in 10 keeps a bank on: makers' notes have 100 mA and
	// more for half a second to one in 5 to 20.
	keepOnMA   = 150.0 * 1 / 10
	steps      = 765.0 // channel steps of a white pixel
	playShare  = 0.25  // of an hour that shows with an end run: a guess
	soundShare = 0.2   // of the amplifier's most that speech and effects draw: 10 to 25 %, common practice
	switching  = 0.88  // efficiency of a class-D amplifier: PAM8302A data sheet

	railVolts = 5.0
	// railLeast is what a port for charging gives at least: USB BC 1.2, 4.75 to 5.25.
	railLeast = 4.75
	dropShare = 0.03 // of the rail that a wire should lose at most: recommended
	dropMost  = 0.05 // and may: leaves railLeast the 4.5 V that pixels and 16 MHz want
	soundDrop = 0.05 // of a speaker's voltage that its lead may lose: common practice
	inBody    = 40.0 // °C of copper in a closed body, at least
	warmer    = 15.0 // K that a closed body is over the air round it: a guess
	logicAmps = 0.02 // of a line of logic: the most that a pin of the ATmega328P is specified at
	thinnest  = 26   // AWG: thinner breaks in the hand, common practice

	fuseShare = 1.25 // of the largest current that a fuse is rated for at least: common practice
	// holds is what a fuse of IEC 60127 carries for an hour without opening, of its
	// rating: what a wire behind it must bear in free air.
	holds = 1.5

	noWay      = 1000.0 // mm, of a wire whose ends have no place
	slackShare = 0.15   // as the ways of place have it
	slackLoop  = 100.0

	// flash is the shortest swing, s, of all the light at once: more than three
	// flashes a second may start a fit (WCAG 2.1, criterion 2.3.1).
	flash = 1.0 / 3
)
