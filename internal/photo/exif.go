package photo

import (
	"bytes"
	"encoding/binary"
	"iter"
)

// orientation returns the Exif orientation of a JPEG file, 1 where it states
// none (Exif 2.3, tag 0x0112, from memory). Phones write the picture as the
// sensor lies and say here how to hold it.
func orientation(data []byte) int {
	for marker, body := range segments(data) {
		if body, exif := bytes.CutPrefix(body, []byte("Exif\x00\x00")); marker == 0xe1 && exif {
			return stated(body)
		}
	}
	return 1
}

// progressive reports whether a JPEG file may come in passes, each over the
// whole picture: unless it says before its first scan that it does not (ITU-T
// T.81, SOF0 and SOF1).
func progressive(data []byte) bool {
	for marker := range segments(data) {
		if marker == 0xc0 || marker == 0xc1 {
			return false
		}
	}
	return true
}

// segments yields the segments of a JPEG file before its first scan, by their
// markers. Between two there may be fill bytes.
func segments(data []byte) iter.Seq2[byte, []byte] {
	return func(yield func(byte, []byte) bool) {
		for at := 2; at+4 <= len(data) && data[at] == 0xff; {
			if data[at+1] == 0xff {
				at++
				continue
			}
			marker, length := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
			end := at + 2 + length
			if length < 2 || end > len(data) || marker == 0xda || !yield(marker, data[at+4:end]) {
				return
			}
			at = end
		}
	}
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
