package report

import (
	"bytes"
	"slices"
)

// Widths, in bytes, of the lines of results.json: a small object stands on one
// line, a long row of numbers fills lines.
const (
	lineMost = 180
	rowMost  = 100
)

// laidOut sets compact JSON out for people: a line for each member, but small
// objects on one line and rows of numbers many to a line.
func laidOut(compact []byte) []byte {
	var b bytes.Buffer
	layValue(&b, compact, "\n")
	b.WriteByte('\n')
	return b.Bytes()
}

// layValue writes one value; newline is a line's end and the indent after it.
func layValue(b *bytes.Buffer, v []byte, newline string) {
	if v[0] != '{' && v[0] != '[' || len(v) == 2 {
		b.Write(v)
		return
	}
	members := membersOf(v)
	plain := !slices.ContainsFunc(members, func(m member) bool { return m.value[0] == '{' || m.value[0] == '[' })
	apart := newline + "  "
	if plain && len(v) <= lineMost && v[0] == '{' {
		apart = ""
	}
	b.WriteByte(v[0])
	begun := b.Len()
	for i, m := range members {
		if i > 0 {
			b.WriteByte(',')
		}
		switch {
		case plain && v[0] == '[' && i > 0 && b.Len()-begun < rowMost, apart == "" && i > 0:
			b.WriteByte(' ')
		case plain && v[0] == '[' && len(v) <= rowMost:
		default:
			b.WriteString(apart)
			begun = b.Len()
		}
		b.Write(m.key)
		if len(m.key) > 0 {
			b.WriteByte(' ')
		}
		layValue(b, m.value, newline+"  ")
	}
	if apart != "" && !(plain && v[0] == '[' && len(v) <= rowMost) {
		b.WriteString(newline)
	}
	b.WriteByte(v[len(v)-1])
}

// member is an element of an array, or a field of an object with its key and
// colon.
type member struct{ key, value []byte }

// membersOf cuts a compact array or object apart.
func membersOf(v []byte) []member {
	var out []member
	object := v[0] == '{'
	for i := 1; i < len(v)-1; i++ {
		var m member
		if object {
			end := i + valueLen(v[i:]) + 1 // the colon with it
			m.key, i = v[i:end], end
		}
		n := valueLen(v[i:])
		m.value = v[i : i+n]
		out = append(out, m)
		i += n // now at the comma or the end
	}
	return out
}

// valueLen is the length of the value that v begins with.
func valueLen(v []byte) int {
	depth, quoted := 0, false
	for i := 0; i < len(v); i++ {
		switch c := v[i]; {
		case quoted && c == '\\':
			i++
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '{' || c == '[':
			depth++
		case c == '}' || c == ']':
			if depth == 0 {
				return i
			}
			depth--
		case depth == 0 && (c == ',' || c == ':'):
			return i
		}
	}
	return len(v)
}
