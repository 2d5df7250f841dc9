package trial

import (
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// positions gives the line of every key of a TOML document that parses, by
// path: "boat", "boat.length", "segment[0].from".
func positions(data []byte) map[string]int {
	f := finder{lines: map[string]int{}, counts: map[string]int{}}
	f.parser.Reset(data)
	table := ""
	for f.parser.NextExpression() {
		node := f.parser.Expression()
		switch node.Kind {
		case unstable.Table:
			table, _ = f.walk("", node.Key())
		case unstable.ArrayTable:
			table = f.element(node.Key())
		case unstable.KeyValue:
			f.keyValue(table, node)
		}
	}
	return f.lines
}

type finder struct {
	parser unstable.Parser
	lines  map[string]int
	counts map[string]int // of the array tables seen, by path
}

// walk notes the line of a dotted key and returns its path below parent, with
// the line of its last part. An array of tables on the way means its last
// element.
func (f *finder) walk(parent string, key unstable.Iterator) (path string, line int) {
	path = parent
	for key.Next() {
		path = join(path, string(key.Node().Data))
		if n := f.counts[path]; n > 0 && !key.IsLast() {
			path = indexed(path, n-1)
		}
		line = f.parser.Shape(key.Node().Raw).Start.Line
		f.note(path, line)
	}
	return path, line
}

// element notes the line of one more element of an array of tables.
func (f *finder) element(key unstable.Iterator) string {
	array, line := f.walk("", key)
	path := indexed(array, f.counts[array])
	f.counts[array]++
	f.note(path, line)
	return path
}

func (f *finder) keyValue(table string, node *unstable.Node) {
	path, line := f.walk(table, node.Key())
	f.value(path, line, node.Value())
}

// value notes what lies inside an inline table or an array of them. An element
// of an array is given the line of the array's key.
func (f *finder) value(path string, line int, node *unstable.Node) {
	children := node.Children()
	switch node.Kind {
	case unstable.InlineTable:
		for children.Next() {
			f.keyValue(path, children.Node())
		}
	case unstable.Array:
		for i := 0; children.Next(); i++ {
			f.note(indexed(path, i), line)
			f.value(indexed(path, i), line, children.Node())
		}
	}
}

func (f *finder) note(path string, line int) {
	if _, seen := f.lines[path]; !seen {
		f.lines[path] = line
	}
}

func indexed(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

func join(parent, key string) string {
	if parent == "" {
		return key
	}
	return parent + "." + key
}
