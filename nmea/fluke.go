package nmea

import "slices"

const (
	flukeShare  = 500  // times as many samples has another source of the same kind
	flukeMost   = 2    // samples of a kind that no other source has
	flukeBeside = 1000 // samples of the file's busiest source, from which these count as damage
)

// dropFlukes leaves out the sources without checksum that sent next to nothing
// beside others of a whole log: a digit or a letter of an address, of an engine's
// number or a transducer's name that was damaged makes a source that isn't there.
func (s *stream) dropFlukes() (samples int) {
	most, all := map[kind]int{}, 0
	for _, src := range s.sources {
		for _, c := range src.columns {
			most[c.kind] = max(most[c.kind], c.count())
			all = max(all, c.count())
		}
	}
	for key, src := range s.sources {
		if !src.entry.bare || len(src.columns) == 0 {
			continue
		}
		src.columns = slices.DeleteFunc(src.columns, func(c *column) bool {
			n := c.count()
			fluke := n*flukeShare < most[c.kind] || n <= flukeMost && all >= flukeBeside
			if fluke {
				samples += n
			}
			return fluke
		})
		if len(src.columns) == 0 {
			s.counts.Used -= src.entry.used
			s.counts.Malformed += src.entry.used
			src.entry.used, src.entry.events = 0, nil
			if src.entry.unneeded == 0 {
				delete(s.sources, key)
			}
		}
	}
	return samples
}
