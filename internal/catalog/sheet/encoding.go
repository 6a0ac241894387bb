package sheet

import (
	"bytes"
	"slices"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decoded returns the text of a file without a mark before it. What is marked
// as UTF-16 is read as that, and what is no UTF-8 as Windows-1252: spreadsheets
// save both under the name of CSV.
func decoded(data []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		text, err := unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM).NewDecoder().Bytes(data)
		if err != nil || len(data)%2 != 0 || bytes.ContainsRune(text, utf8.RuneError) {
			return nil, &formError{1, "this is marked as UTF-16 and is none, or it arrived damaged"}
		}
		return text, nil
	case bytes.HasPrefix(data, []byte(byteOrderMark)):
		data = data[len(byteOrderMark):]
		if !utf8.Valid(data) {
			return nil, &formError{rowOf(data), "this is marked as UTF-8 and is none; save it again as “CSV UTF-8”"}
		}
		return data, nil
	case utf8.Valid(data):
		return data, nil
	}
	if bytes.ContainsAny(data, "\x00") || slices.ContainsFunc(data, unassigned) {
		return nil, &formError{rowOf(data), "this is no text; in the spreadsheet choose “CSV UTF-8” when saving"}
	}
	return charmap.Windows1252.NewDecoder().Bytes(data)
}

// unassigned reports whether a byte stands for nothing in Windows-1252.
func unassigned(b byte) bool {
	return b == 0x81 || b == 0x8d || b == 0x8f || b == 0x90 || b == 0x9d
}

// rowOf returns the line of the first byte that is not UTF-8.
func rowOf(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return 1 + bytes.Count(data[:i], []byte("\n"))
		}
		i += size
	}
	return 1
}
