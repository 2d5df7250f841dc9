package rehearse

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"time"
)

// logger prints a voyage. Lines come as on a shared wire: each sensor at its
// own rate, the position receiver a little after its epoch.
type logger struct {
	v      *Voyage
	w      *bufio.Writer
	rnd    *rand.Rand
	clock  time.Time // receive time of the line
	err    error
	repeat []string
}

// WriteLog writes the voyage as NMEA 0183 sentences.
func (v *Voyage) WriteLog(w io.Writer) error {
	l := &logger{v: v, w: bufio.NewWriter(w), rnd: newRand(v.Scenario.Seed, streamFaults)}
	d := newDevices(v)
	var past [6]readings // of the epochs before, the latest first
	late := min(max(int(math.Round(orElse(v.Scenario.Sensors.GPSPrintS, 0.1)/stepS)), 1), len(past)-1)
	for i := range v.instants {
		r := d.read(i)
		if !within(v.Scenario.Faults.Holes, float64(i)*stepS) {
			l.clock = v.instantTime(i)
			if i >= late {
				l.position(i-late, &past[late-1])
			}
			l.others(i)
			l.sensors(i, &r)
		}
		copy(past[1:], past[:])
		past[0] = r
	}
	if l.err != nil {
		return fmt.Errorf("writing the log: %w", l.err)
	}
	return l.w.Flush()
}

func (v *Voyage) instantTime(i int) time.Time {
	return v.Scenario.Start.UTC().Add(time.Duration(i) * 100 * time.Millisecond)
}

// position writes the receiver's burst for the epoch of instant i.
func (l *logger) position(i int, r *readings) {
	s, f := &l.v.Scenario.Sensors, &l.v.Scenario.Faults
	t, at := float64(i)*stepS, l.v.instantTime(i)
	if f.WeekRollover {
		at = at.AddDate(0, 0, -1024*7)
	}
	fix := t >= f.ColdS
	if f.SpikeEvery > 0 && l.rnd.Float64() < stepS/f.SpikeEvery {
		r.lat, r.lon, r.velE = r.lat+0.01, r.lon-0.02, r.velE+20
	}
	l.repeat = l.repeat[:0]
	if due(i, max(s.GPSHz, 1)) {
		l.put('$', l.rmc(at, r, fix))
	}
	if due(i, s.GGAHz) {
		l.put('$', l.gga(at, r, fix))
	}
	if due(i, s.VTGHz) {
		l.put('$', l.vtg(r, fix))
	}
	if f.RepeatEvery > 0 && i%10 == 0 && l.rnd.Float64() < 1/f.RepeatEvery {
		for _, line := range append([]string(nil), l.repeat...) {
			l.line(line)
		}
	}
}

// sensors writes what the other sensors say at instant i.
func (l *logger) sensors(i int, r *readings) {
	s := &l.v.Scenario.Sensors
	if due(i, s.HeadingHz) && r.hasHead {
		l.put('$', l.headingSentence(r))
	}
	if due(i, s.RateOfTurnHz) {
		l.put('$', fmt.Sprintf("TIROT,%.1f,A", r.turn*60))
	}
	if due(i, s.AttitudeHz) {
		l.put('$', attitude(r))
	}
	if due(i, s.AccelerationHz) {
		l.put('$', fmt.Sprintf("YXXDR,G,%.3f,,ACCZ", r.accel+gravity))
	}
	// slow ones speak between the seconds, as each keeps its own beat
	if due(i+7, s.WindHz) && r.hasWind {
		angle, speed := r.windAngle, r.windSpeed
		if every := l.v.Scenario.Faults.WindSpikeEvery; every > 0 && l.rnd.Float64() < 1/(every*float64(s.WindHz)) {
			speed += 40
		}
		l.put('$', l.mwv(angle, speed, "R"))
	}
	if due(i+7, s.TheoreticalHz) && r.hasWind {
		l.put('$', l.mwv(r.trueAngle, r.trueSpeed, "T"))
	}
	if due(i+4, s.RPMHz) {
		l.put('$', l.rpmSentence(r))
	}
	if due(i+4, s.FuelHz) {
		l.put('$', l.fuelSentence(r))
	}
	if due(i+2, s.WaterSpeedHz) {
		l.put('$', l.vhw(r))
	}
	if due(i+6, s.DepthHz) {
		l.put('$', fmt.Sprintf("SDDPT,%.1f,0.4", r.depth))
	}
}

// others writes what a log holds besides: satellites, other ships, rubbish.
func (l *logger) others(i int) {
	f := &l.v.Scenario.Faults
	if f.Rubbish > 0 && l.rnd.Float64() < f.Rubbish {
		l.line(rubbish[l.rnd.IntN(len(rubbish))])
	}
	if !f.Others {
		return
	}
	if i%50 == 2 {
		l.put('$', "GPGSA,A,3,02,05,07,13,15,20,21,29,30,,,,1.7,0.9,1.4")
		l.put('$', "GPGSV,2,1,08,02,41,287,42,05,58,078,45,07,22,140,38,13,66,214,46")
		l.put('$', "GPGSV,2,2,08,15,36,301,41,20,12,055,33,21,08,330,30,30,49,122,44")
	}
	if l.rnd.Float64() < stepS/7 {
		l.put('!', ais(l.rnd))
	}
	if i%6000 == 9 {
		l.put('$', "GPTXT,01,01,02,antenna ok")
	}
}

var rubbish = []string{
	"\x00\xff\x13\xfe$GPRM\r\n", "$HCHDG,12\r\n", "\r\n", "# logger restarted\r\n",
	"$WIMWV,045.0,R,12.1,N,A\r\n$WIM\r\n", "\x1b[0m boot 3.1 ok\r\n", "$GPRMC,,,,,,,*zz\r\n",
}

// ais makes a one-part message with a random payload: nobody's.
func ais(rnd *rand.Rand) string {
	const armour = "0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVW`abcdefghijklmnopqrstuvw"
	b := []byte("1")
	for range 27 {
		b = append(b, armour[rnd.IntN(len(armour))])
	}
	return "AIVDM,1,1,,A," + string(b) + ",0"
}

// put writes one sentence, now and then a spoilt one.
func (l *logger) put(start byte, body string) {
	sentence := seal(start, body)
	if p := l.v.Scenario.Faults.BadChecksums; p > 0 && l.rnd.Float64() < p {
		b := []byte(sentence)
		b[7+l.rnd.IntN(len(b)-14)] ^= 1 + byte(l.rnd.IntN(6))
		sentence = string(b)
	}
	l.repeat = append(l.repeat, sentence)
	l.line(sentence)
}

// line writes a line, stamped where the logger stamps.
func (l *logger) line(text string) {
	if l.err != nil {
		return
	}
	if src := l.v.Scenario.Sensors.StampSource; src != "" {
		at := l.clock.Add(time.Duration(l.v.Scenario.Sensors.StampAheadS * float64(time.Second)))
		stamp := at.Unix()
		if l.v.Scenario.Sensors.StampMillisecond {
			stamp = at.UnixMilli()
		}
		tag := seal('\\', fmt.Sprintf("s:%s,c:%d", src, stamp))
		text = tag[:len(tag)-2] + "\\" + text
	}
	_, l.err = l.w.WriteString(text)
}
