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
	dropShare  = 0.03  // of the rail that a wire may lose: recommended
	inBody     = 40.0  // °C of copper in a closed body
	efficiency = 0.85  // of a bank's conversion: two sellers' pages, 80 to 85 %
	keepsOnMA  = 100.0 // under which a bank may switch off
	steps      = 765.0 // channel steps of a white pixel
	noWay      = 1000.0
	playShare  = 0.25 // of an hour that shows with an end run: a guess
	soundShare = 0.2  // of the amplifier's most that speech and effects draw: 10 to 25 %, common practice
)
