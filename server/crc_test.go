package server_test

import (
	"encoding/binary"
	"hash/crc32"
)

// crcOf sets the check sum of a PNG's head right again (PNG, 5.5: CRC of type and
// data).
func crcOf(file []byte) {
	const head, long = 12, 4 + 13
	binary.BigEndian.PutUint32(file[head+long:], crc32.ChecksumIEEE(file[head:head+long]))
}
