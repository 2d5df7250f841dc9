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
	recent  [256]*entry       // a short cut to entries
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

	lastDate [6]byte // the last one that was read, and its day
	lastDay  int32

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
	text   []byte  // from its start mark up to its star
	ends   []int32 // where in text its fields end, the address first
	blanks bool    // there may be blanks or control characters in text
	plain  []byte  // room for a text without blanks
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
		b.entries, b.long, b.recent = nil, nil, [256]*entry{}
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
	if cap(b.line.ends) < len(places{}) {
		b.line.ends = make([]int32, len(places{}))
	}
	*b = block{entries: b.entries, recent: b.recent, long: b.long, stamps: b.stamps[:0],
		line: sentence{ends: b.line.ends, plain: b.line.plain}, plain: b.plain[:0], rare: b.rare}
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

// fast reads the ordinary line: a sentence from its first character on, a
// right checksum, the line's end. Everything else is left to wholeLine.
func (b *block) fast(data []byte, i int) (next int, ok bool) {
	l := &b.line
	n, ok := l.find(data[i:])
	next = i + n
	if !ok || next >= len(data) || l.blanks && hasControls(l.text) {
		return 0, false
	}
	switch c := data[next]; {
	case c == '\n':
		next++
	case c == '\r':
		_, next, _ = lineEnd(data, next)
	default:
		return 0, false
	}
	e := b.known(l.code())
	if e == nil {
		if !isAddress(l.text[1:]) {
			return 0, false
		}
		e = b.entry(false)
	}
	l.stamp, l.group = nan, 0
	b.take(e, i)
	return next, true
}

// find makes the sentence at the start of text the one to be read, if its first
// star has the right checksum behind it, and gives the place behind that.
func (l *sentence) find(text []byte) (after int, ok bool) {
	ends := (*places)(l.ends[:len(places{})])
	star, n, sum, blanks := sweep(text, ends)
	if star == 0 || star+2 >= len(text) || hexDigits[text[star+1]]<<4|hexDigits[text[star+2]] != uint16(sum) {
		return 0, false
	}
	l.text, l.ends, l.blanks = text[:star], ends[:n+1], blanks
	return star + 3, true
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

// take reads one sentence, whose text and fields' ends are set, and notes its
// stamp. at is the place of its start mark.
func (b *block) take(e *entry, at int) {
	l := &b.line
	l.entry, l.at = e, uint32(at)
	l.dry, l.got, l.bad = false, false, 0
	b.counts.Lines++
	b.lastRubbish = false
	if e.reader.read == nil {
		b.notRead(e)
	} else {
		b.class(e)
	}
	if l.group != 0 || l.got && l.stamp == l.stamp {
		b.stamps = append(b.stamps, stamp{int64(at), l.stamp, l.group, l.got})
	}
}

// class reads the sentence's fields and counts it in its class.
func (b *block) class(e *entry) {
	l := &b.line
	if l.blanks {
		l.withoutBlanks()
	}
	if e.bare && !b.readsWell() {
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

// notRead counts a sentence that nothing needs. Without checksum its address may
// be cut short too.
func (b *block) notRead(e *entry) {
	if e.bare && (b.line.text[0] == '!' || b.line.last() == 0 || len(e.address) != 5 && e.talker != "P") {
		b.counts.Malformed++
		return
	}
	b.counts.Unneeded++
	e.unneeded++
}

// readsWell tells whether a sentence without checksum can be believed: all
// its fields are there and none is refused. One cut short is not.
func (b *block) readsWell() bool {
	l := &b.line
	if l.text[0] == '!' || l.last() < l.entry.reader.fields {
		return false
	}
	refusedText := b.refusedText
	l.dry = true
	l.entry.reader.read(b)
	ok := l.bad == 0
	b.refusedText = refusedText
	l.dry, l.got, l.bad = false, false, 0
	return ok
}

// last is the number of the last field, 0 where there is only the address.
func (l *sentence) last() int { return len(l.ends) - 1 }

// address is the text before the first comma.
func (l *sentence) address() []byte { return l.text[1:l.ends[0]] }

// code is the address as a number, 0 where it has more than eight characters.
func (l *sentence) code() uint64 {
	n := uint(l.ends[0] - 1)
	if n > 8 {
		return 0
	}
	return word(l.text, 1) & (1<<(8*n) - 1)
}

// bareCode is added to the code of an address without checksum. No letter has
// this bit.
const bareCode = 1 << 63

// near is where an entry is kept for known.
func (b *block) near(code uint64) **entry {
	return &b.recent[code*0x9e3779b97f4a7c15>>56]
}

// known gives the entry of a code if it was needed lately.
func (b *block) known(code uint64) *entry {
	if e := *b.near(code); e != nil && e.code == code {
		return e
	}
	return nil
}

// entry finds or makes the entry of the sentence's address.
func (b *block) entry(bare bool) *entry {
	code := b.line.code()
	if code == 0 {
		return b.longEntry(b.line.address(), bare)
	}
	if bare {
		code |= bareCode
	}
	if e := b.known(code); e != nil {
		return e
	}
	e := b.entries[code]
	if e == nil {
		e = newEntry(string(b.line.address()), bare)
		e.code = code
		b.entries[code] = e
	}
	*b.near(code) = e
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
