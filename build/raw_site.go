package build

// The types of this file are what build.yaml says of where the build lives.

type siteFile struct {
	Place    string        `yaml:"place" example:"the foyer of a planetarium" jsonschema_description:"where it lives"`
	Coldest  *float64      `yaml:"coldest_c,omitempty" example:"16" jsonschema:"minimum=-50,maximum=80" jsonschema_description:"of the air, °C; 15 unless said"`
	Warmest  *float64      `yaml:"warmest_c,omitempty" example:"28" jsonschema:"minimum=-50,maximum=80" jsonschema_description:"of the air, °C; 30 unless said"`
	Sun      *sunName      `yaml:"sun,omitempty" example:"none" jsonschema_description:"none, through a window, in the open; none unless said"`
	Hours    *float64      `yaml:"hours_a_day,omitempty" example:"10" jsonschema:"minimum=0,maximum=24" jsonschema_description:"that it runs; 8 unless said"`
	Public   *reachName    `yaml:"public,omitempty" example:"touches" jsonschema_description:"touches it, reaches it, is kept off; touches unless said"`
	Tilt     float64       `yaml:"floor_tilt_deg,omitempty" example:"1" jsonschema:"minimum=0,maximum=20" jsonschema_description:"how far the floor is off level"`
	Bears    float64       `yaml:"floor_bears_kg_m2,omitempty" example:"400" jsonschema:"minimum=0,maximum=100000"`
	Passages []passageFile `yaml:"way,omitempty" jsonschema_description:"doors and lifts on the way in"`
}

type passageFile struct {
	Name string        `yaml:"name" example:"the lift"`
	Wide shopDimension `yaml:"wide" example:"900 mm" jsonschema:"exclusiveMinimum=0"`
	High shopDimension `yaml:"high" example:"2 m" jsonschema:"exclusiveMinimum=0"`
	Deep shopDimension `yaml:"deep,omitempty" example:"1400 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"of a lift's car"`
}

type standFile struct {
	Across  shopDimension `yaml:"across" example:"560 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"of the base plate"`
	Square  bool          `yaml:"square,omitempty" jsonschema_description:"the base is square; round unless said"`
	Thick   shopDimension `yaml:"thick" example:"30 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"of the base plate"`
	Density float64       `yaml:"density_g_cm3" example:"0.7" jsonschema:"exclusiveMinimum=0,maximum=20" jsonschema_description:"of the base: plywood 0.7, steel 7.85"`
	Ballast mass          `yaml:"ballast,omitempty" example:"10 kg" jsonschema_description:"fixed to the base"`
	Post    stockName     `yaml:"post" example:"pressure-63" jsonschema_description:"stock that stands on the base and reaches into the core"`
	Engage  shopDimension `yaml:"engage" example:"300 mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of post inside the core"`
	Below   shopDimension `yaml:"below" example:"120 mm" jsonschema:"minimum=0" jsonschema_description:"from the top of the base to station 0"`
}
