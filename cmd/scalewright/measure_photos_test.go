package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Further photographs are taken after the measured one, each with its own marks;
// one that cannot help is named.
func TestMeasureSeveralPhotographs(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return file
	}
	picture := func(w, h int) []byte {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	one, two := write("square.png", picture(600, 400)), write("tilted.png", picture(500, 400))
	marks := write("marks.yaml", []byte("pitch_mm: 10\nmarks:\n"+
		"  - {px: [50, 350], mm: [0, 0]}\n  - {px: [550, 350], mm: [200, 0]}\n"+
		"  - {px: [50, 50], mm: [0, 120]}\n  - {px: [550, 50], mm: [200, 120]}\n"))
	for _, tt := range []struct {
		name string
		args []string
		exit int
		says string
	}{
		{"more marks than photographs", []string{"measure", one, "--marks", marks, "--marks", marks}, exitUnread, "more files of marks than photographs"},
		{"another camera", []string{"measure", one, two, "--marks", marks, "--marks", marks}, exitBlocked, "tilted.png: caution photo-other-camera"},
		{"no such file", []string{"measure", one, filepath.Join(dir, "none.png"), "--marks", marks}, exitUnread, "none.png"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var said bytes.Buffer
			if exit := run(t.Context(), tt.args, &said, &said); exit != tt.exit || !strings.Contains(said.String(), tt.says) {
				t.Errorf("exit %d, want %d and %q:\n%s", exit, tt.exit, tt.says, said.String())
			}
		})
	}
}
