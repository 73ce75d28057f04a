package keep

import (
	"bytes"
	"testing"
)

func FuzzOpen(f *testing.F) {
	f.Add([]byte("data"), byte(1))
	f.Add([]byte(magic), byte(0))
	f.Fuzz(func(t *testing.T, data []byte, first byte) {
		key := [32]byte{first}
		if got, ok := open(key, data); ok && !bytes.Equal(seal(key, got), data) {
			t.Errorf("open took %q, which seal does not make", data)
		}
		if got, ok := open(key, seal(key, data)); !ok || !bytes.Equal(got, data) {
			t.Errorf("open(seal(%q)) = %q, %v", data, got, ok)
		}
	})
}
