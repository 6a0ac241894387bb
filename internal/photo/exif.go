package photo

import (
	"bytes"
	"encoding/binary"
)

// orientation returns the Exif orientation of a JPEG file, 1 where it states
// none (Exif 2.3, tag 0x0112, from memory). Phones write the picture as the
// sensor lies and say here how to hold it.
func orientation(data []byte) int {
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		marker, length := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + length
		if length < 2 || end > len(data) || marker == 0xda {
			return 1
		}
		if body, exif := bytes.CutPrefix(data[at+4:end], []byte("Exif\x00\x00")); marker == 0xe1 && exif {
			return stated(body)
		}
		at = end
	}
	return 1
}

// stated reads the orientation out of the first directory of a TIFF header.
func stated(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	first := uint64(order.Uint32(tiff[4:]))
	if first+2 > uint64(len(tiff)) {
		return 1
	}
	entries := tiff[first+2:]
	for range order.Uint16(tiff[first:]) {
		if len(entries) < 12 {
			return 1
		}
		if order.Uint16(entries) == 0x0112 {
			if turn := int(order.Uint16(entries[8:])); turn >= 1 && turn <= 8 {
				return turn
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}
