package nmea

import (
	"path/filepath"
	"strconv"
	"testing"
)

// TestRealCounts compares the account of every real log with that of an
// independent parser: testdata/real-counts.csv, whose heading names the parser,
// its version and the call. Where the two disagree the table's last two columns
// have our count and the reason.
func TestRealCounts(t *testing.T) {
	logs, want, seen := map[string]*Log{}, map[string]map[string]int64{}, 0
	for _, name := range realLogs(t) {
		logs[filepath.Base(name)] = read(t, mustRead(t, name), Options{})
		want[filepath.Base(name)] = map[string]int64{}
	}
	for _, row := range table(t, "real-counts.csv") {
		n, err := strconv.ParseInt(row[2], 10, 64)
		if row[3] != "" {
			n, err = strconv.ParseInt(row[3], 10, 64)
			if row[4] == "" {
				t.Errorf("%v: no reason", row)
			}
		}
		if err != nil || want[row[0]] == nil {
			t.Fatal(row, err)
		}
		want[row[0]][row[1]] = n
	}
	for name, l := range logs {
		got := map[string]int64{"bad checksum": l.Counts.BadChecksum}
		for address, n := range l.Counts.BySentence {
			if address[0] == 'P' && len(address) > 4 {
				address = address[:4] // all that the other parser tells of a maker's sentence
			}
			got[address] += n
		}
		if len(want[name]) == 0 {
			t.Errorf("%s is not in the table", name)
		}
		for address, n := range want[name] {
			if address == "not read" {
				continue // it doesn't look into a line that doesn't begin with a sentence
			}
			seen++
			if got[address] != n {
				t.Errorf("%s %s: %d, want %d", name, address, got[address], n)
			}
		}
		for address, n := range got {
			if _, ok := want[name][address]; !ok {
				t.Errorf("%s %s: %d, want none", name, address, n)
			}
		}
	}
	if seen < 100 {
		t.Errorf("only %d counts compared", seen)
	}
}
