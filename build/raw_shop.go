package build

// The types of this file are shop.yaml as written.

type shopFile struct {
	Schema    int                     `yaml:"schema" example:"1" jsonschema_description:"number of the format; 1"`
	Currency  currency                `yaml:"currency" example:"EUR" jsonschema_description:"of every price, ISO 4217"`
	HourPrice float64                 `yaml:"hour_price,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"of the maker's own hour; 0: not counted"`
	Printers  map[string]printerFile  `yaml:"printers" jsonschema:"minItems=1" jsonschema_description:"by id"`
	Filaments map[string]filamentFile `yaml:"filaments" jsonschema:"minItems=1" jsonschema_description:"by id"`
	People    map[string]personFile   `yaml:"people" jsonschema:"minItems=1" jsonschema_description:"who works, by id"`
	Paper     *paperFile              `yaml:"paper,omitempty" jsonschema_description:"that templates are printed on"`
}

type paperFile struct {
	Size  *paperName    `yaml:"size,omitempty" example:"A4" jsonschema_description:"A4 or letter; letter where lengths are in feet and inches, else A4, unless said"`
	Short shopDimension `yaml:"bar_short,omitempty" example:"99.2 mm" jsonschema:"minimum=90,maximum=110" jsonschema_description:"what the 100 mm bar along the short side of a sheet measures"`
	Long  shopDimension `yaml:"bar_long,omitempty" example:"99.6 mm" jsonschema:"minimum=90,maximum=110" jsonschema_description:"what the 100 mm bar along the long side of a sheet measures"`
	Thick shopDimension `yaml:"thick,omitempty" example:"0.1 mm" jsonschema:"exclusiveMinimum=0,maximum=2" jsonschema_description:"of one sheet; 0.1 mm unless said"`
}

type printerFile struct {
	Name        string           `yaml:"name,omitempty" example:"Heron"`
	Build       [3]shopDimension `yaml:"build" example:"[220 mm, 220 mm, 250 mm]" jsonschema:"exclusiveMinimum=0,maximum=10000" jsonschema_description:"build volume, x y z"`
	Margin      shopDimension    `yaml:"margin,omitempty" example:"5 mm" jsonschema:"minimum=0,maximum=500" jsonschema_description:"kept free at the platform's edge"`
	Nozzle      shopDimension    `yaml:"nozzle" example:"0.4 mm" jsonschema:"minimum=0.05,maximum=5"`
	Layer       shopDimension    `yaml:"layer" example:"0.2 mm" jsonschema:"minimum=0.02,maximum=3" jsonschema_description:"height of a layer"`
	Line        shopDimension    `yaml:"line" example:"0.44 mm" jsonschema:"minimum=0.05,maximum=10" jsonschema_description:"width of a line"`
	Speed       float64          `yaml:"speed_mm_s" example:"80" jsonschema:"exclusiveMinimum=0,maximum=2000" jsonschema_description:"along the line, mm/s"`
	Accel       float64          `yaml:"accel_mm_s2" example:"1500" jsonschema:"exclusiveMinimum=0,maximum=100000" jsonschema_description:"acceleration, mm/s²"`
	Flow        float64          `yaml:"flow_mm3_s" example:"11" jsonschema:"exclusiveMinimum=0,maximum=500" jsonschema_description:"most the hot end melts, mm³/s"`
	WarmUp      duration         `yaml:"warm_up,omitempty" example:"6 min"`
	Calibration *calibrationFile `yaml:"calibration,omitempty" jsonschema_description:"measured on test pieces; leave it out until then"`
}

type calibrationFile struct {
	Outer shopDimension `yaml:"outer" example:"0.06 ± 0.05 mm" jsonschema:"minimum=-5,maximum=5" jsonschema_description:"how much larger an outer diameter comes out than asked"`
	Bore  shopDimension `yaml:"bore" example:"-0.22 ± 0.06 mm" jsonschema:"minimum=-5,maximum=5" jsonschema_description:"how much larger a bore comes out than asked; below 0 where it comes out small"`
}

type filamentFile struct {
	Name     string       `yaml:"name,omitempty" example:"white PLA"`
	Material materialName `yaml:"material" example:"PLA"`
	Density  *float64     `yaml:"density_g_cm3,omitempty" jsonschema:"minimum=0.3,maximum=10" jsonschema_description:"the material's unless said"`
	Spool    mass         `yaml:"spool" example:"1 kg" jsonschema_description:"on a full spool"`
	Price    float64      `yaml:"price" example:"22" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"a spool"`
	OnHand   mass         `yaml:"on_hand,omitempty" example:"1.4 kg"`
}

type personFile struct {
	Name  string      `yaml:"name,omitempty" example:"the maker"`
	Hours []hoursFile `yaml:"hours" example:"[{days: [sat, sun], from: \"10:00\", to: \"18:00\"}]" jsonschema:"minItems=1" jsonschema_description:"open time, weekly"`
}

type hoursFile struct {
	Days []dayName `yaml:"days" example:"[sat, sun]" jsonschema:"minItems=1"`
	From clock     `yaml:"from" example:"\"10:00\""`
	To   clock     `yaml:"to" example:"\"18:00\""`
}
