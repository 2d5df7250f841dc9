package nmea

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/klauspost/compress/zstd"
)

var (
	goodRMC = strings.TrimSpace(line("GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A"))
	goodHDT = strings.TrimSpace(line("HEHDT,12.5,T"))
)

// TestFraming feeds what stands around sentences on real wires.
func TestFraming(t *testing.T) {
	rubbish := "\xb5\x62\x01\x07\x0a\x00\xff\x0d\x0a\x0a\x13\x80"
	for _, c := range []struct {
		name, text string
		want       Counts // Bytes and BySentence apart
	}{
		{"LF", goodRMC + "\n" + goodHDT + "\n", Counts{Lines: 2, Used: 2}},
		{"CRLF", goodRMC + "\r\n" + goodHDT + "\r\n", Counts{Lines: 2, Used: 2}},
		{"CR", goodRMC + "\r" + goodHDT + "\r", Counts{Lines: 2, Used: 2}},
		{"CRCRLF", goodRMC + "\r\r\n" + goodHDT + "\r\r\n", Counts{Lines: 2, Used: 2}},
		{"mixed, no end", goodRMC + "\r" + goodHDT + "\n" + goodHDT + "\r\n" + goodHDT, Counts{Lines: 4, Used: 4}},
		{"empty line", goodRMC + "\r\n\r\n" + goodHDT + "\n\n", Counts{Lines: 4, Used: 2, NotNMEA: 2}},
		{"nothing", "", Counts{}},
		{"comment", "# log of a day " + goodHDT + "\n" + goodRMC + "\n", Counts{Lines: 2, Used: 1, NotNMEA: 1}},
		{"boot text", "Booting v1.2 (costs $5!)\n" + goodRMC + "\n", Counts{Lines: 2, Used: 1, NotNMEA: 1}},
		{"byte order mark", "\xef\xbb\xbf" + goodRMC + "\n", Counts{Lines: 1, Used: 1}},
		{"words before", "2026-05-14 10:11:12.5 port2: " + goodRMC + "\n", Counts{Lines: 1, Used: 1}},
		{"a price before", "$5 and $ " + goodRMC + "\n", Counts{Lines: 1, Used: 1}},
		{"blanks around", "  " + goodRMC + " \t \n", Counts{Lines: 1, Used: 1}},
		{"junk behind", goodRMC + "ABC" + "\n", Counts{Lines: 1, Used: 1}},
		{"two on a line", goodRMC + goodHDT + "\n", Counts{Lines: 2, Used: 2}},
		{"two with junk", goodRMC + " ; " + goodHDT + " ; \n", Counts{Lines: 2, Used: 2}},
		{"lower-case checksum", "$IIVWR,024,L,018,N,,,,*5e\n", Counts{Lines: 1, Used: 1}},
		{"checksum without its zero", anyTime + "$GPHDT,10.0,T*4\n", Counts{Lines: 2, Used: 2}},
		{"wrong checksum", goodRMC[:len(goodRMC)-1] + "0\n", Counts{Lines: 1, BadChecksum: 1}},
		{"checksum missing", goodRMC[:len(goodRMC)-2] + "\n", Counts{Lines: 1, BadChecksum: 1}},
		{"NULs between", strings.ReplaceAll(goodRMC, ",", ",\x00") + "\x00\n\x00\x00" + goodHDT + "\n", Counts{Lines: 2, Used: 2}},
		{"NULs alone", goodRMC + "\n" + strings.Repeat("\x00", 5000) + "\n" + goodHDT + "\n", Counts{Lines: 3, Used: 2, NotNMEA: 1}},
		{"rubbish between", goodRMC + "\n" + rubbish + "\n" + goodHDT + "\n", Counts{Lines: 3, Used: 2, NotNMEA: 1}},
		{"a fix right behind rubbish", rubbish + goodRMC + "\r\n" + rubbish + goodHDT + "\r\n", Counts{Lines: 4, Used: 2, NotNMEA: 2}},
		{"cut off by the next", "$GPRMC,101112,A,4530.0,N,012" + goodRMC + "\n", Counts{Lines: 2, Used: 1, Malformed: 1}},
		{"cut off before the comma", "$GPRM" + goodRMC + "\n", Counts{Lines: 1, Used: 1}},
		{"cut off twice", "$HEHDT,1$HEHDT,12." + goodHDT + "\n", Counts{Lines: 3, Used: 1, Malformed: 2}},
		{"dollar in a text", line("GPTXT,01,01,02,costs $GPRMC,1 or so"), Counts{Lines: 1, Unneeded: 1}},
		{"star in a text", line("GPTXT,01,01,02,3*4=12"), Counts{Lines: 1, Unneeded: 1}},
		{"backslash in a text", line(`GPTXT,01,01,02,a\b`), Counts{Lines: 1, Unneeded: 1}},
		{"start alone", "$\n$GP\n$GPRMC\n", Counts{Lines: 3, Malformed: 3}},
		{"cut short, address and all", goodHDT + "\n$HEHD\n$HEH\n$PAS\n$HEHDTX,1\n", Counts{Lines: 5, Used: 1, Malformed: 4}},
		{"unneeded without checksum", "$GPGSV,3,1,11,03,03,111,00\n", Counts{Lines: 1, Unneeded: 1}},
		{"AIS", "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0*5C\n", Counts{Lines: 1, Unneeded: 1}},
		{"AIS with a wrong checksum", "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0*5D\n", Counts{Lines: 1, BadChecksum: 1}},
		{"AIS without one", "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0\n", Counts{Lines: 1, Malformed: 1}},
		{"no checksum at all", "$GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A\n$HEHDT,12.5,T\n", Counts{Lines: 2, Used: 2}},
		{"no checksum where others have one", goodHDT + "\n$HEHDT,12\n$HEHDT,14.5,T\n", Counts{Lines: 3, Used: 1, Malformed: 2}},
		{"no checksum and a bad field", "$HEHDT,400.5,T\n", Counts{Lines: 1, Malformed: 1}},
		{"too long", "$GPTXT," + strings.Repeat("x", maxLine) + "\n" + goodRMC + "\n", Counts{Lines: 2, Used: 1, NotNMEA: 1}},
		{"far too long", strings.Repeat("abcdefg,", 3<<13) + "\n" + goodRMC + "\n", Counts{Lines: 2, Used: 1, NotNMEA: 1}},
		{"only CRs", strings.Repeat("\r", 1<<17), Counts{Lines: 1, NotNMEA: 1}},
	} {
		for _, size := range []int{ordinaryBlock, 64, 7} {
			if size < 64 && len(c.text) > 10000 {
				continue
			}
			l := read(t, c.text, Options{blockSize: size})
			if l.Counts.Bytes != int64(len(c.text)) {
				t.Errorf("%s: %d bytes of %d", c.name, l.Counts.Bytes, len(c.text))
			}
			got := l.Counts
			got.Bytes, got.BySentence = 0, nil
			if !sameCounts(got, c.want) {
				t.Errorf("%s, blocks of %d: %+v, want %+v", c.name, size, got, c.want)
			}
		}
	}
}

func sameCounts(a, b Counts) bool {
	return a.Lines == b.Lines && a.Used == b.Used && a.Unneeded == b.Unneeded &&
		a.BadChecksum == b.BadChecksum && a.Malformed == b.Malformed && a.NotNMEA == b.NotNMEA
}

// TestCompressed gives the same log plain, gzipped (also in several members)
// and in zstd.
func TestCompressed(t *testing.T) {
	text := anyTime + strings.Repeat(goodHDT+"\n", 5000)
	plain := read(t, text, Options{})
	for name, packed := range map[string][]byte{
		"gzip":    zip(t, text),
		"members": append(zip(t, text[:4000]), zip(t, text[4000:])...),
		"zstd":    zst(t, text),
	} {
		l := read(t, string(packed), Options{})
		if !sameCounts(l.Counts, plain.Counts) || l.Counts.Bytes != plain.Counts.Bytes || l.Counts.Used != 5001 {
			t.Errorf("%s: %+v, want %+v", name, l.Counts, plain.Counts)
		}
	}
}

func zip(t *testing.T, text string) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zst(t *testing.T, text string) []byte {
	w, err := zstd.NewWriter(nil)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	return w.EncodeAll([]byte(text), nil)
}

// TestCutShort: what a crash left of a compressed log is used, and said so.
func TestCutShort(t *testing.T) {
	text := anyTime
	for i := range 20000 {
		text += linef("HEHDT,%d.%d,T", i*7919%360, i%10)
	}
	packed := zip(t, text)
	l := read(t, string(packed[:len(packed)/2]), Options{})
	if l.Counts.Used < 5000 || l.Counts.Used > 15000 || !warned(l, "file-cut-short") {
		t.Errorf("%+v %v", l.Counts, l.Warnings)
	}
	if _, err := Read([]Input{{Name: "day.gz", Reader: bytes.NewReader(packed[:5])}}, Options{}); err == nil || !strings.Contains(err.Error(), "day.gz") {
		t.Errorf("nothing to be had from day.gz, but error is %v", err)
	}
}

// TestReadErrors: a disk that fails is an error, and names the file.
func TestReadErrors(t *testing.T) {
	broken := errors.New("disk on fire")
	in := io.MultiReader(strings.NewReader(goodRMC+"\n"), failing{broken})
	_, err := Read([]Input{{Name: "day.nmea", Reader: in}}, Options{})
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), "day.nmea") {
		t.Errorf("error is %v", err)
	}
	if _, err := Read([]Input{{Name: "stalled", Reader: failing{}}}, Options{}); err == nil {
		t.Error("a reader that gives nothing for ever is not an error")
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// TestProgress hears of all bytes in the end, and never of fewer than before.
func TestProgress(t *testing.T) {
	text := strings.Repeat(goodHDT+"\n", 1000)
	var last int64
	progress := func(n int64) {
		if n < last {
			t.Errorf("%d after %d", n, last)
		}
		last = n
	}
	in := []Input{{Name: "a", Reader: strings.NewReader(text)}, {Name: "b", Reader: strings.NewReader(text)}}
	if _, err := Read(in, Options{Progress: progress, blockSize: 500}); err != nil {
		t.Fatal(err)
	}
	if last != int64(2*len(text)) {
		t.Errorf("ended at %d of %d", last, 2*len(text))
	}
}

// TestNoInputs is an empty log, not a failure.
func TestNoInputs(t *testing.T) {
	l, err := Read(nil, Options{})
	if err != nil || l.Counts.Lines != 0 || l.First == l.First {
		t.Errorf("%+v %v", l, err)
	}
}

// TestNotALog says so.
func TestNotALog(t *testing.T) {
	if l := read(t, "%PDF-1.7\n\xde\xad\xbe\xef\nstream\n", Options{}); !warned(l, "no-nmea") {
		t.Errorf("%v", l.Warnings)
	}
}

// TestChecksum against the worked example in the table's first sentence and
// the definition: nothing gives zero, a text twice gives zero.
func TestChecksum(t *testing.T) {
	if got := Checksum("GNRMC,001031.00,A,4404.13993,N,12118.86023,W,0.146,,100117,,,A"); got != 0x7B {
		t.Errorf("%02X", got)
	}
	if Checksum("") != 0 || Checksum("abab") != 0 {
		t.Error("exclusive-or is wrong")
	}
}
