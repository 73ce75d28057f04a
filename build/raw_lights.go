package build

// The types of this file are what build.yaml says of lights and sound.

type componentFile struct {
	Kind     componentName `yaml:"kind" example:"controller-328" jsonschema_description:"of the table of components"`
	Part     string        `yaml:"in,omitempty" example:"body" jsonschema_description:"part that holds it; left out for what stays outside"`
	Opening  string        `yaml:"opening,omitempty" example:"launch-hole" jsonschema_description:"hole that it sits in"`
	At       *dimension    `yaml:"at,omitempty" example:"95 ref" jsonschema_description:"station; the program looks for a place unless said"`
	Clocking float64       `yaml:"clocking_deg,omitempty" example:"180" jsonschema:"minimum=-360,maximum=360"`
	Pixels   int           `yaml:"pixels,omitempty" example:"16" jsonschema:"minimum=0,maximum=500" jsonschema_description:"of a strip"`
	Service  *serviceName  `yaml:"reached,omitempty" example:"service" jsonschema_description:"after closing: sealed for good, with tools for service, pressed by the public, outside; service unless said"`
}

type showFile struct {
	Button  string       `yaml:"button,omitempty" example:"launch" jsonschema_description:"component that starts it; left out for what runs when nothing else does"`
	Sound   int          `yaml:"sound,omitempty" example:"1" jsonschema:"minimum=0,maximum=4" jsonschema_description:"number of the sound, by trigger pin"`
	Light   *patternName `yaml:"light,omitempty" example:"breathe" jsonschema_description:"steady unless said"`
	Colour  colourName   `yaml:"colour,omitempty" example:"\"#ff8a2a\"" jsonschema_description:"red, green, blue"`
	Level   *float64     `yaml:"level,omitempty" example:"0.6" jsonschema:"minimum=0,maximum=1" jsonschema_description:"of full brightness; 1 unless said"`
	Seconds float64      `yaml:"seconds,omitempty" example:"12" jsonschema:"minimum=0,maximum=3600" jsonschema_description:"how long; until something else starts unless said"`
	Period  float64      `yaml:"period_s,omitempty" example:"4" jsonschema:"minimum=0,maximum=60" jsonschema_description:"of one swing of the light; unless said breathe 4, run 2, flicker 0.24"`
}
