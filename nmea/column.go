package nmea

import (
	"cmp"
	"math"
	"slices"
)

// column is a series over the whole file. Until it is placed its samples are in
// chunks, one a block; then at and val hold them, and the channels of a pair share
// at. A quantity that none of them has is nil.
type column struct {
	kind   kind
	name   string
	chunks []chunk
	at     []float64 // Unix seconds
	val    [3][]float64
}

// chunk is a column's part in one block.
type chunk struct {
	base int64
	at   []uint32     // place in the stream, bytes from base
	val  [3][]float64 // nil where all are missing, one value where all are the same
}

func newChunk(ser *series, base int64) chunk {
	c := chunk{base: base, at: slices.Clone(ser.at)}
	for v := range quantities[ser.kind] {
		c.val[v] = packed(ser.val[v])
	}
	return c
}

// packed copies a chunk's values as its val has them.
func packed(x []float64) []float64 {
	switch first := x[0]; {
	case first == first && !slices.ContainsFunc(x, func(v float64) bool { return v != first }):
		return []float64{first}
	case first != first && !slices.ContainsFunc(x, func(v float64) bool { return v == v }):
		return nil
	}
	return slices.Clone(x)
}

// place is sample i's place in the stream.
func (c *chunk) place(i int) float64 { return float64(c.base + int64(c.at[i])) }

// value is sample i's value of quantity v.
func (c *chunk) value(v, i int) float64 {
	switch len(c.val[v]) {
	case 0:
		return nan
	case 1:
		return c.val[v][0]
	}
	return c.val[v][i]
}

// width is the number of quantities.
func (col *column) width() int { return len(quantities[col.kind]) }

// count is the number of samples that wait to be placed.
func (col *column) count() int {
	n := 0
	for i := range col.chunks {
		n += len(col.chunks[i].at)
	}
	return n
}

// places are where the samples stand in the stream, before they are placed.
func (col *column) places() []float64 {
	out := make([]float64, 0, col.count())
	for k := range col.chunks {
		c := &col.chunks[k]
		for i := range c.at {
			out = append(out, c.place(i))
		}
	}
	return out
}

// has tells whether any chunk has quantity v.
func (col *column) has(v int) bool {
	return slices.ContainsFunc(col.chunks, func(c chunk) bool { return c.val[v] != nil })
}

// place gives a column's samples their times. Those that come with a time of
// their own have it in times, event by event.
func (col *column) place(events []event, times []float64, c *clock) (lost int64) {
	w := c.walk()
	col.room(col.count())
	k, last := 0, math.Inf(-1)
	straight := true
	for i := range col.chunks {
		part := &col.chunks[i]
		for j := range part.at {
			at := part.place(j)
			for k < len(events) && float64(events[k].at) < at {
				k++
			}
			t := nan
			if k < len(events) && float64(events[k].at) == at {
				t = times[k]
			}
			if t != t {
				t = w.time(at)
			}
			if t != t {
				lost++
				continue
			}
			if t < last {
				if c.sorted && last-t > hole {
					straight = false
				} else {
					t = last // by a fraction of a second: late sentences
				}
			}
			last = t
			col.append(t, part, j)
		}
		*part = chunk{} // what was placed need not be held twice
	}
	col.chunks = nil
	if !straight {
		col.sort()
	}
	return lost
}

// room makes room for n placed samples.
func (col *column) room(n int) {
	col.at = make([]float64, 0, n)
	for v := range col.width() {
		if col.has(v) {
			col.val[v] = make([]float64, 0, n)
		}
	}
}

// append adds sample i of a chunk at time t.
func (col *column) append(t float64, c *chunk, i int) {
	col.at = append(col.at, t)
	for v := range col.width() {
		if col.val[v] != nil {
			col.val[v] = append(col.val[v], c.value(v, i))
		}
	}
}

// sort puts a column's samples in order of time.
func (col *column) sort() {
	order := make([]int, len(col.at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(col.at[a], col.at[b]) })
	pick := func(x []float64) []float64 {
		if x == nil {
			return nil
		}
		out := make([]float64, len(x))
		for i, k := range order {
			out[i] = x[k]
		}
		return out
	}
	col.at = pick(col.at)
	for v := range col.width() {
		col.val[v] = pick(col.val[v])
	}
}

// keep drops the placed samples whose times are not wanted.
func (col *column) keep(wanted func(t float64) bool) {
	n := 0
	for i, t := range col.at {
		if !wanted(t) {
			continue
		}
		col.at[n] = t
		for v := range col.width() {
			if col.val[v] != nil {
				col.val[v][n] = col.val[v][i]
			}
		}
		n++
	}
	col.at = col.at[:n]
	for v := range col.width() {
		if col.val[v] != nil {
			col.val[v] = col.val[v][:n]
		}
	}
}

// join adds the placed samples of another column of its kind, and keeps the order
// of time.
func (col *column) join(d *column) {
	straight := col.at[len(col.at)-1] <= d.at[0]
	for v := range col.width() {
		col.val[v] = joinValues(col.val[v], d.val[v], len(col.at), len(d.at))
	}
	col.at = append(col.at, d.at...)
	if !straight {
		col.sort()
	}
}

// joinValues joins n values and m, either of which may be missing.
func joinValues(a, b []float64, n, m int) []float64 {
	if a == nil && b == nil {
		return nil
	}
	return append(orMissing(a, n), orMissing(b, m)...)
}

func orMissing(x []float64, n int) []float64 {
	if x != nil {
		return x
	}
	x = make([]float64, n)
	for i := range x {
		x[i] = nan
	}
	return x
}

// split parts a column by the sentence that each sample came with, before it is
// placed.
func (col *column) split(events []event, second []bool) (a, b *column) {
	var ofSecond []bool
	k := 0
	for _, at := range col.places() {
		for k < len(events) && float64(events[k].at) < at {
			k++
		}
		ofSecond = append(ofSecond, k < len(events) && float64(events[k].at) == at && second[k])
	}
	return col.apart(ofSecond)
}

// apart parts the samples by whether they are marked.
func (col *column) apart(marked []bool) (a, b *column) {
	a, b = &column{kind: col.kind, name: col.name}, &column{kind: col.kind, name: joinName(col.name, "2")}
	for i := range col.chunks {
		c := &col.chunks[i]
		n := len(c.at)
		a.take(c.only(marked[:n], false))
		b.take(c.only(marked[:n], true))
		marked = marked[n:]
	}
	return a, b
}

func (col *column) take(c chunk) {
	if len(c.at) > 0 {
		col.chunks = append(col.chunks, c)
	}
}

// only gives the samples of a chunk that are marked so.
func (c *chunk) only(marks []bool, want bool) chunk {
	out := chunk{base: c.base}
	for i, m := range marks {
		if m != want {
			continue
		}
		out.at = append(out.at, c.at[i])
		for v := range c.val {
			if c.val[v] != nil {
				out.val[v] = append(out.val[v], c.value(v, i))
			}
		}
	}
	return out
}

func joinName(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}
