package analysis

import "encoding/json"

// Explanation is how the results of one point of the speed curve, run, drift, line of
// leeway against the wind, turn, speed-up or stop were worked out: what went in, then for each result the steps, so that a person
// with a pocket calculator gets the printed figure, and where its ± comes from.
//
// Every number in a step stands above it, in the inputs or as an earlier step's
// result, and each step is worked out from those printed figures. Speeds are in
// knots, angles in degrees; toward east and north means the way that boat, water
// or air moves.
type Explanation struct {
	ID      string   `json:"id"` // of the segment: "R07"; of the point: "4000rpm"; of the line: "leeway"
	Inputs  []Input  `json:"inputs"`
	Answers []Answer `json:"answers"`
	Notes   []string `json:"notes,omitempty"`
}

// Input is one thing that went in: words, or a number with as many decimals as
// the steps use.
type Input struct {
	Name  string      `json:"name"`
	Text  string      `json:"text,omitempty"`
	Value json.Number `json:"value,omitempty"`
	Unit  string      `json:"unit,omitempty"`
	CI95  json.Number `json:"ci95,omitempty"`
}

// Answer is one result: the figure that the results give elsewhere, its steps,
// and the sources of its doubt.
type Answer struct {
	Name   string  `json:"name"`
	Value  Number  `json:"value"`
	CI95   Number  `json:"ci95"`
	Unit   string  `json:"unit"`
	Side   string  `json:"side,omitempty"`   // of a value with a sign: "right", "left", "starboard", "port"
	Spread bool    `json:"spread,omitempty"` // a standard deviation, whose interval is that of SpreadRange
	Steps  []Step  `json:"steps,omitempty"`
	Doubts []Doubt `json:"doubts,omitempty"` // largest first
}

// Step is one sum. A step without one says in words what was done.
type Step struct {
	Text   string      `json:"text"`
	Sum    string      `json:"sum,omitempty"` // "12.531 − 0.257"
	Result json.Number `json:"result,omitempty"`
	Unit   string      `json:"unit,omitempty"`
}

// Doubt is one source's share in an answer's ±. The shares of an answer sum to
// 100; the root of the sum of the squared half-widths is the ±.
type Doubt struct {
	Source    string `json:"source"`
	SharePct  Number `json:"share_pct"`
	HalfWidth Number `json:"half_width"` // in the answer's unit
}
