package trial

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
)

// asUTF8 is a file's text as TOML wants it: without the mark that some editors put in
// front, and brought from UTF-16, which the mark tells, as some save it.
func asUTF8(data []byte) []byte {
	if text, marked := bytes.CutPrefix(data, []byte("\xff\xfe")); marked {
		return fromUTF16(text, binary.LittleEndian)
	}
	if text, marked := bytes.CutPrefix(data, []byte("\xfe\xff")); marked {
		return fromUTF16(text, binary.BigEndian)
	}
	return bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
}

func fromUTF16(text []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(text)/2)
	for i := range units {
		units[i] = order.Uint16(text[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}
