package segment

// Kind is what the boat was doing.
type Kind string

// The kinds, named as in results.json.
const (
	Run     Kind = "run"      // driven, rpm, speed and heading steady, 30 s or more
	Drift   Kind = "drift"    // the engine no longer moves her and her way is gone
	Turn    Kind = "turn"     // heading changed on purpose under way
	SpeedUp Kind = "speed-up" // gathering speed
	Stop    Kind = "stop"     // losing way
	Idle    Kind = "idle"     // alongside, moored or at anchor
	Other   Kind = "other"    // under way, but nothing that can be measured
)

// Segment is a stretch of the track of one kind: samples From ≤ i < To.
// The segments of a track touch: no overlap, no hole.
type Segment struct {
	ID       string // R01, D1, T1, U1 (speed-up), S1 (stop), I1, O1; numbered in time order within a kind
	Kind     Kind
	From, To int
	Group    string // from the trial file; segments of different groups are never averaged together
	Note     string
	Marked   bool   // set by the person, not found
	Excluded string // why it is left out of every result; "" = used
}
