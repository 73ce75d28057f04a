package effects

// Resistors that protect pins.
const (
	DataOhm    = dataOhm
	TriggerOhm = triggerOhm
)
