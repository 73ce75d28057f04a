package build

// The types of this file are what build.yaml says of openings and finish.

type openingFile struct {
	Part     string    `yaml:"part" example:"body"`
	At       dimension `yaml:"at" example:"90 ref" jsonschema_description:"station of its middle"`
	Clocking float64   `yaml:"clocking_deg,omitempty" example:"180" jsonschema:"minimum=-360,maximum=360" jsonschema_description:"anticlockwise seen from the far end"`
	Across   dimension `yaml:"across,omitempty" example:"16.2 mm" jsonschema:"exclusiveMinimum=0,maximum=2000" jsonschema_description:"of a round one: diameter"`
	Wide     dimension `yaml:"wide,omitempty" example:"90 mm" jsonschema:"exclusiveMinimum=0,maximum=5000" jsonschema_description:"of a four-sided one: round the body, along the arc"`
	High     dimension `yaml:"high,omitempty" example:"150 mm" jsonschema:"exclusiveMinimum=0,maximum=5000" jsonschema_description:"of a four-sided one: along the axis"`
	Panel    bool      `yaml:"panel,omitempty" jsonschema_description:"closed by a panel that comes off"`
}

type finishFile struct {
	Grade  *gradeName `yaml:"seen" example:"arm" jsonschema_description:"from where it is looked at: across a stage, at arm's length, close through a camera; none leaves it as printed"`
	Colour int        `yaml:"colour_coats,omitempty" example:"2" jsonschema:"minimum=0,maximum=20"`
	Clear  int        `yaml:"clear_coats,omitempty" example:"1" jsonschema:"minimum=0,maximum=20"`
}
