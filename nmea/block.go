package nmea

import (
	"bytes"

	gonmea "github.com/adrianmo/go-nmea"
)

// maxLine is the longest line that is looked into. A sentence has 82
// characters by the standard; devices exceed that, but not by this much.
const maxLine = 64 << 10

// block is what parseBlock makes of a stretch of whole lines: the account of
// the lines and the samples by their place. It is used again for later blocks,
// so that a log is read without an allocation a line.
type block struct {
	counts  Counts // BySentence stays empty, see entries
	entries map[uint64]*entry
	recent  [64]*entry        // a short cut to entries
	long    map[string]*entry // addresses of more than eight characters
	stamps  []stamp

	// A stretch of rubbish may go on over the border of two blocks.
	leadEmpty    int64 // empty lines before the first other one
	firstRubbish bool  // that other one is rubbish
	lastRubbish  bool

	badTags     int64  // TAG blocks that could not be read
	firstTag    string // the first of them
	firstBad    string // the first line with a wrong checksum
	refusedText string // the first field that was refused
	simulated   int64  // sentences of a simulator
	estimated   int64  // positions that were reckoned, typed in or otherwise not measured
	unitClash   int64  // sentences whose units contradict each other

	line  sentence
	plain []byte // a line without its NULs
	rare  *gonmea.SentenceParser
}

// stamp is when the logger received a line.
type stamp struct {
	at    int64   // bytes from the start of the block, then of the stream
	time  float64 // Unix seconds on the logger's clock; NaN where only the group has it
	group uint64  // of TAG blocks that the line belongs to, 0 for none
	used  bool    // the sentence gave a sample or time
}

// sentence is the one being read.
type sentence struct {
	body   []byte  // between start mark and star
	commas []int32 // where the commas are in body
	at     uint32  // of its start mark, from the block's start
	stamp  float64 // NaN where there is none
	group  uint64  // of TAG blocks, 0 for none
	entry  *entry
	dry    bool // only look whether it reads well
	got    bool // at least one sample or time
	bad    int  // fields that were refused
}

func (b *block) reset() {
	if len(b.entries)+len(b.long) > 500 {
		b.entries, b.long, b.recent = nil, nil, [64]*entry{}
	}
	for _, e := range b.entries {
		e.clear()
	}
	for _, e := range b.long {
		e.clear()
	}
	if b.entries == nil {
		b.entries = map[uint64]*entry{}
	}
	*b = block{entries: b.entries, recent: b.recent, long: b.long, stamps: b.stamps[:0],
		line: sentence{commas: b.line.commas[:0]}, plain: b.plain[:0], rare: b.rare}
}

// parseBlock reads a stretch of whole lines into b. Its outcome depends on
// data alone.
func parseBlock(data []byte, b *block) {
	b.reset()
	b.counts.Bytes = int64(len(data))
	for i := 0; i < len(data); {
		if c := data[i]; c == '$' || c == '!' {
			if next, ok := b.fast(data, i); ok {
				i = next
				continue
			}
		}
		end, next, _ := lineEnd(data, i)
		b.wholeLine(data[i:end], i)
		i = next
	}
}

// lineEnd finds where the line at i ends and where the next one begins. A
// line ends with LF, CR or CRs and LF. It isn't known yet, and complete is
// false, where the data stop before or within the line's end.
func lineEnd(data []byte, i int) (end, next int, complete bool) {
	for end = i; end < len(data) && data[end] != '\n' && data[end] != '\r'; end++ {
	}
	for next = end; next < len(data) && data[next] == '\r'; next++ {
	}
	if next == len(data) {
		return end, next, false
	}
	if data[next] == '\n' {
		next++
	}
	return end, next, true
}

// lastLineEnd gives the length of the whole lines at the start of data, 0 if
// there is none.
func lastLineEnd(data []byte) int {
	if i := bytes.LastIndexByte(data, '\n'); i >= 0 {
		return i + 1
	}
	for i := len(data) - 1; i > 0; i-- {
		if data[i-1] == '\r' && data[i] != '\r' {
			return i
		}
	}
	return 0
}

// ordinary is the length within which fast looks for a sentence's star.
const ordinary = 256

// fast reads the ordinary line: a sentence from its first character on, a
// right checksum, the line's end. Everything else is left to wholeLine.
func (b *block) fast(data []byte, i int) (next int, ok bool) {
	body := data[i+1 : min(i+1+ordinary, len(data))]
	n := bytes.IndexByte(body, '*')
	j := i + 1 + n // the star
	if n < 0 || j+3 >= len(data) || data[j+3] != '\r' && data[j+3] != '\n' {
		return 0, false
	}
	sum, commas, clean := scan(body[:n], b.line.commas[:0])
	b.line.commas = commas
	hi, ok1 := hexDigit(data[j+1])
	lo, ok2 := hexDigit(data[j+2])
	if !clean || !ok1 || !ok2 || hi<<4|lo != sum || !isAddress(body[:n]) {
		return 0, false
	}
	next = j + 4
	if data[j+3] == '\r' {
		_, next, _ = lineEnd(data, j+3)
	}
	b.line.stamp, b.line.group = nan, 0
	b.take(data[i:j], i, false)
	return next, true
}

// isAddress tells whether a sentence's body starts with an address: three to
// fifteen letters and digits, the first one a letter, up to a comma or the
// body's end.
func isAddress(body []byte) bool {
	n := 0
	for n < len(body) && isAlnum(body[n]) {
		n++
	}
	return n >= 3 && n <= 15 && body[0] > '9' && (n == len(body) || body[n] == ',')
}

func isAlnum(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

// take reads one sentence and notes its stamp.
func (b *block) take(text []byte, at int, bare bool) {
	b.takeSentence(text, at, bare)
	if l := &b.line; l.group != 0 || l.got && l.stamp == l.stamp {
		b.stamps = append(b.stamps, stamp{int64(at), l.stamp, l.group, l.got})
	}
}

// takeSentence reads one sentence: text from its start mark up to (not including) the
// star, commas already found. bare says that it had no checksum.
func (b *block) takeSentence(text []byte, at int, bare bool) {
	l := &b.line
	l.body, l.at = text[1:], uint32(at)
	l.dry, l.got, l.bad = false, false, 0
	b.counts.Lines++
	b.lastRubbish = false
	if text[0] == '!' && bare {
		b.counts.Malformed++
		return
	}
	e := b.entry(l.address(), bare)
	l.entry = e
	if e.reader.read == nil && bare && (len(l.commas) == 0 || len(e.address) != 5 && e.talker != "P") {
		b.counts.Malformed++ // the address may be cut short too
		return
	}
	if e.reader.read == nil {
		b.counts.Unneeded++
		e.unneeded++
		return
	}
	if bare && !b.readsWell() {
		b.counts.Malformed++
		return
	}
	e.reader.read(b)
	e.refused += int64(l.bad)
	switch {
	case l.got:
		b.counts.Used++
		e.used++
	case l.bad > 0:
		b.counts.Malformed++
	default:
		b.counts.Unneeded++
		e.unneeded++
	}
}

// readsWell tells whether a sentence without checksum can be believed: all
// its fields are there and none is refused. One cut short is not.
func (b *block) readsWell() bool {
	l := &b.line
	if len(l.commas) < l.entry.reader.fields {
		return false
	}
	l.dry = true
	keep := *b
	l.entry.reader.read(b)
	ok := l.bad == 0
	b.simulated, b.estimated, b.unitClash, b.refusedText = keep.simulated, keep.estimated, keep.unitClash, keep.refusedText
	l.dry, l.got, l.bad = false, false, 0
	return ok
}

// address is the text before the first comma.
func (l *sentence) address() []byte {
	if len(l.commas) == 0 {
		return l.body
	}
	return l.body[:l.commas[0]]
}

// entry finds or makes the entry of an address.
func (b *block) entry(address []byte, bare bool) *entry {
	if len(address) > 8 {
		return b.longEntry(address, bare)
	}
	var key uint64
	for _, c := range address {
		key = key<<8 | uint64(c)
	}
	if bare {
		key |= 1 << 63
	}
	near := &b.recent[key*0x9e3779b97f4a7c15>>58]
	if *near != nil && (*near).code == key {
		return *near
	}
	e := b.entries[key]
	if e == nil {
		e = newEntry(string(address), bare)
		e.code = key
		b.entries[key] = e
	}
	*near = e
	return e
}

func (b *block) longEntry(address []byte, bare bool) *entry {
	if bare {
		address = append(address[:len(address):len(address)], '*')
	}
	e := b.long[string(address)]
	if e == nil {
		e = newEntry(string(bytes.TrimSuffix(address, []byte{'*'})), bare)
		if b.long == nil {
			b.long = map[string]*entry{}
		}
		b.long[e.key()] = e
	}
	return e
}

func newEntry(address string, bare bool) *entry {
	e := &entry{address: address, bare: bare, sentence: address}
	switch {
	case address[0] == 'P':
		e.talker, e.sentence = "P", address[1:]
		e.reader = makers[address]
	case len(address) == 5:
		e.talker, e.sentence = address[:2], address[2:]
		e.reader = readers[e.sentence]
	case len(address) == 3:
		e.reader = readers[address]
	}
	return e
}

// key tells entries apart: the address, with a star where without checksum.
func (e *entry) key() string {
	if e.bare {
		return e.address + "*"
	}
	return e.address
}
