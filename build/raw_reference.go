package build

// The types of this file are what build.yaml says was read off the reference.

type readingFile struct {
	Diameter refDimension `yaml:"diameter,omitempty" example:"42.02 ± 0.03 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"by caliper, at a station; its doubt is that of a caliper unless said"`
	At       refDimension `yaml:"at,omitempty" example:"80 ref" jsonschema:"minimum=0" jsonschema_description:"station of a diameter"`
	Length   refDimension `yaml:"length,omitempty" example:"168.1 ± 0.05 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"by caliper, between two faces: an end or a step each"`
	From     refDimension `yaml:"from,omitempty" example:"0 ref" jsonschema:"minimum=0" jsonschema_description:"station of the face that a length begins at"`
	To       refDimension `yaml:"to,omitempty" example:"168 ref" jsonschema:"minimum=0" jsonschema_description:"station of the face that it ends at"`
}

type truedFile struct {
	Segments  []truthFile   `yaml:"segments,omitempty" jsonschema_description:"what is to be true of segments of the outline"`
	Symmetric bool          `yaml:"symmetric,omitempty" jsonschema_description:"both ends alike"`
	Crisp     refDimension  `yaml:"crisp,omitempty" example:"1.2 ref" jsonschema:"exclusiveMinimum=0,maximum=20" jsonschema_description:"edges softer than this, radius or chamfer, become crisp"`
	Edge      shopDimension `yaml:"edge,omitempty" example:"1 mm" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"what crisp edges get at full size; sharp unless said"`
	Chamfered bool          `yaml:"chamfered,omitempty" jsonschema_description:"that edge is a chamfer, not a radius"`
}

type truthFile struct {
	At     refDimension `yaml:"at" example:"98 ref" jsonschema:"minimum=0" jsonschema_description:"a station inside the segment"`
	Is     truthName    `yaml:"is" example:"parallel"`
	To     refDimension `yaml:"to,omitempty" example:"150 ref" jsonschema:"minimum=0" jsonschema_description:"of what is equal: a station inside the other segment"`
	Across refDimension `yaml:"across,omitempty" example:"42 ref" jsonschema:"exclusiveMinimum=0" jsonschema_description:"of what is parallel: its diameter; as measured unless said"`
}
