package keep

import (
	"bytes"
	"crypto/sha256"
	"slices"
)

// An entry is a word that names the format, the checksum and the data. The
// checksum is over the key as well, so that a renamed file is not believed.
const magic = "kept 1\n\x00"

func seal(key [32]byte, data []byte) []byte {
	sum := checksum(key, data)
	return slices.Concat([]byte(magic), sum[:], data)
}

func open(key [32]byte, file []byte) ([]byte, bool) {
	rest, ok := bytes.CutPrefix(file, []byte(magic))
	if !ok || len(rest) < sha256.Size {
		return nil, false
	}
	data := rest[sha256.Size:]
	sum := checksum(key, data)
	return data, bytes.Equal(rest[:sha256.Size], sum[:])
}

func checksum(key [32]byte, data []byte) [sha256.Size]byte {
	h := sha256.New()
	h.Write(key[:])
	h.Write(data)
	return [sha256.Size]byte(h.Sum(nil))
}
