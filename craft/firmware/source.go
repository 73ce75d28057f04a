package firmware

import (
	_ "embed"
	"strings"
	"text/template"

	"scalewright/model"
)

//go:embed controller.c.tmpl
var controllerC string

var controller = template.Must(template.New("controller").Parse(controllerC))

// patternNames are the patterns as the program calls them.
var patternNames = map[model.Pattern]string{
	model.Steady: "STEADY_LIGHT", model.Breathe: "BREATHE", model.Flicker: "FLICKER", model.Run: "RUN",
}

type showC struct {
	ID            string
	Button, Sound int
	Pattern       string
	Colour        [3]uint8
	Level         uint8
	Lasts, Period int
}

// Source is the program in C (gnu99).
func Source(name string, p model.Program) string {
	data := struct {
		Name                string
		Pixels, ButtonCount int
		ButtonMask          int
		Limit, Idle         int
		Shows               []showC
	}{Name: clean(name), Pixels: p.Pixels, ButtonCount: len(p.Buttons), ButtonMask: 1<<len(p.Buttons) - 1, Limit: p.Limit, Idle: p.Idle}
	for _, s := range p.Shows {
		data.Shows = append(data.Shows, showC{
			ID: clean(s.ID), Button: s.Button, Sound: s.Sound, Pattern: patternNames[s.Pattern], Colour: s.Colour,
			Level: s.Level, Lasts: s.Lasts, Period: max(1, s.Period),
		})
	}
	var b strings.Builder
	if err := controller.Execute(&b, data); err != nil {
		panic("firmware: internal error: " + err.Error())
	}
	return b.String()
}

// clean keeps a name from ending the comment that it stands in.
func clean(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == '*' || r == '/' || r == '\\' || r == '?' {
			return ' '
		}
		return r
	}, name)
}

// Makefile builds the program and loads it.
const Makefile = `# Builds the controller's program and loads it. Take the programmer and the port
# that fit your board; the fuses are for a bare ATmega328P at 16 MHz.
MCU = atmega328p
PORT = /dev/ttyUSB0
BAUD = 57600

all: controller.hex

controller.elf: controller.c
	avr-gcc -std=gnu99 -Os -Wall -Wextra -Werror -mmcu=$(MCU) -DF_CPU=16000000UL -o $@ $<

controller.hex: controller.elf
	avr-objcopy -O ihex -R .eeprom $< $@

# Over the bootloader of a small 8-bit board; BAUD is 115200 on some.
load: controller.hex
	avrdude -p $(MCU) -c arduino -P $(PORT) -b $(BAUD) -U flash:w:$<:i

# With a programmer on the ISP pins: crystal, brown-out at 4.3 V.
fuses:
	avrdude -p $(MCU) -c usbasp -U lfuse:w:0xff:m -U hfuse:w:0xd9:m -U efuse:w:0xfc:m

.PHONY: all load fuses
`
