package build

// The types of this file are what build.yaml says was read off the reference.

type readingFile struct {
	Diameter refDimension `yaml:"diameter,omitempty" example:"42.02 ± 0.03 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"by caliper, at a station; its doubt is that of a caliper unless said"`
	At       refDimension `yaml:"at,omitempty" example:"80 ref" jsonschema:"minimum=0" jsonschema_description:"station of a diameter"`
	Length   refDimension `yaml:"length,omitempty" example:"168.1 ± 0.05 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"by caliper, between two faces: an end or a step each"`
	From     refDimension `yaml:"from,omitempty" example:"0 ref" jsonschema:"minimum=0" jsonschema_description:"station of the face that a length begins at"`
	To       refDimension `yaml:"to,omitempty" example:"168 ref" jsonschema:"minimum=0" jsonschema_description:"station of the face that it ends at"`
}
