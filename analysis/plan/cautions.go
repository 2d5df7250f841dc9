package plan

import "fmt"

// cautions are what the card must say where it sends people out.
func (s *settled) cautions(c *Card) []string {
	out := []string{
		"Two aboard at the least: one at the helm with the engine cut-off lanyard on, one keeping a lookout and reading no screen.",
		"Lifejackets on; no more people and weight than the capacity plate allows; tell somebody ashore where you are and when you are back.",
		"Other traffic comes first: the collision regulations hold for a boat that drifts, runs on a heading or turns for a trial; break off early.",
		fmt.Sprintf("Go only in weather that she and her crew are up to; turn back where it freshens past %.0f kn or the sea builds.", s.turnBackKn()),
	}
	for _, st := range c.Steps {
		if st.Kind == Turn || st.Kind == SpeedUp || st.Kind == Stop {
			out = append(out, "Turns, speed-ups and stops: everybody seated and holding on, nothing loose, the water clear all round; gently first.")
			break
		}
	}
	if c.Drifts > 0 {
		out = append(out, "Adrift: keep clear water to leeward, the engine ready to start, a wide berth from channels, and an anchor ready.")
	}
	out = append(out, "Roll periods are an indication, no stability assessment: that belongs to a licensed naval architect and local rules.")
	if s.WindMS > windyKn*knot || s.WaveM > roughWave*s.Length {
		out = append([]string{fmt.Sprintf("This is a fresh day for a small boat (%.0f kn of wind): think twice, leave out what she does not need.", s.WindMS/knot)}, out...)
	}
	return out
}

// turnBackKn is the wind to turn back at: a third more than expected, never
// more than no card is made for.
func (s *settled) turnBackKn() float64 {
	return min(max(s.WindMS/knot*4/3, 15), mostWindKn)
}
