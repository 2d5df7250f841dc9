package report

import (
	"io"
	"strconv"
	"time"

	"ahull/analysis"
)

// ridePage is what ridesheet.html is filled with.
type ridePage struct {
	shell
	Boat, Variant, Day        string
	Facts                     [][2]string
	Findings                  [3]Finding
	Section                   section
	Against                   string
	Missing                   []string
	Promise, Reading, Caution string
	Program                   string
}

// rideStyle sets the sheet: the map beside the table where there is room.
const rideStyle = `
.promise { background: var(--paper); border: 1px solid var(--faint); border-left: 4px solid var(--blue); border-radius: 3px; padding: .7rem 1rem; margin: 1.2rem 0 0; font-weight: 600; }
main > section#ride > figure { display: block; }
#ride td { overflow-wrap: normal; } #ride td.text { min-width: 0; } #ride td:nth-child(2) { white-space: nowrap; }
#ride table { font-size: .86rem; } #ride th, #ride td { padding: .28rem .5rem; }
#ride .small { max-width: 60rem; } #figure-route .drawing svg { max-width: 28rem; }
@media screen and (min-width: 62.01rem) {
  #ride { display: grid; grid-template-columns: minmax(0, .66fr) minmax(0, 1.34fr); gap: 0 1.2rem; align-items: start; }
  #ride > * { grid-column: 1 / -1; } #ride > figure, #ride > .table { grid-column: auto; } #ride > .table:nth-child(2) { grid-column: 1 / -1; }
}
@media screen and (max-width: 46rem) {
  #ride table { font-size: .84rem; width: 100%; } #ride th, #ride td { padding: .3rem .35rem; hyphens: manual; } #ride td:nth-child(2) { white-space: normal; } #ride td.text:first-child { max-width: none; min-width: 6.4rem; }
}
@media screen and (max-width: 34rem) { /* beside the model's trial: what and how over the two figures */
  #ride:has(td:nth-child(4)) tr { display: grid; grid-template: auto auto / 1fr 1fr; border-bottom: 1px solid var(--faint); }
  #ride:has(td:nth-child(4)) :is(th, td) { border: 0; position: static; background: none; text-align: left; } #ride:has(td:nth-child(4)) thead tr { border-bottom: 1.5px solid var(--soft); }
  #ride:has(td:nth-child(4)) td:first-child { font-weight: 600; } #ride:has(td:nth-child(4)) :is(th, td):nth-child(3) { grid-area: 1 / 2; } #ride:has(td:nth-child(4)) :is(th, td):nth-child(2) { grid-area: 2 / 1; }
}
@media print { @page { margin: 9mm; } body { font-size: 8pt; line-height: 1.25; } .promise { padding: 3pt 6pt; margin: 4pt 0 0; } ul { margin: 0 0 3pt; }
  #ride { display: grid; grid-template-columns: 72mm 1fr; gap: 0 5mm; } #ride > * { grid-column: 1 / -1; } #ride > figure, #ride > .table { grid-column: auto; }
  #ride table { font-size: 7.6pt; width: 100%; } #ride th, #ride td { padding: 1.6pt 3.2pt; white-space: normal; } #ride td:first-child, #ride td:nth-child(2) { white-space: nowrap; } #ride .drawing svg { max-height: 120mm; }
  #ride:has(td:nth-child(4)) { grid-template-columns: 58mm 1fr; } #ride:has(td:nth-child(4)) td:nth-child(2) { white-space: normal; }
  #notes { padding-top: 0; } #notes ul { font-size: 7.6pt; } #notes .small { margin: 2pt 0; } #ride > .table { margin-bottom: 3pt; } footer { padding-top: 2pt; } footer p { margin: 0; } }
`

// ridePageHeight is the map's height on the page, for its width. The table stands
// beside it, so that it is as narrow in a wide window as on a phone.
const ridePageHeight = 1.15

// RideHTML writes a ride sheet as one page that needs nothing else.
func (u Units) RideHTML(w io.Writer, s *analysis.RideSheet) error {
	p := ridePage{Boat: rideBoat(s), Variant: shortened(s.Variant, nameRoom), Day: rideDay(s), Facts: rideFacts(s, u),
		Findings: rideFindings(s, u), Against: rideAgainst(s, u), Missing: rideMissing(s),
		Promise: rideNoPromise, Reading: rideReads(s), Caution: rideCaution, Program: clean(s.ProgramVersion)}
	sheet := newInkSheet()
	blocks, err := rideBlocks(s, u, sheet)
	if err != nil {
		return err
	}
	p.Section = section{ID: "ride", Title: "The ride", Blocks: blocks}
	if p.shell, err = newShell("Ride sheet: "+p.Boat+", "+longDate(s.Date), rideStyle+sheet.css(), nil); err != nil {
		return err
	}
	return fill(w, "ridesheet.html", p, nil)
}

// rideBlocks are the map and the table.
func rideBlocks(s *analysis.RideSheet, u Units, sheet *inkSheet) ([]block, error) {
	var out []block
	f, ok, err := routeFigure(s, u, phoneWidth, phoneWidth*ridePageHeight)
	if err != nil {
		return nil, err
	}
	if ok {
		caption := ""
		if s.EndsLeftOut() {
			caption = endsLeftOut
		}
		drawn := framed(sheet.all([]Figure{f})[0], Figure{}, caption)
		drawn.Figure.ID = f.Name[:len(f.Name)-len(phoneSuffix)]
		out = append(out, drawn)
	}
	if t := rideMeasured(s, u); len(t.Rows) > 0 {
		out = append(out, block{Table: &t})
	}
	return out, nil
}

// Heights of the map on paper, in points: no higher, and left out if it had to be
// lower.
const (
	ridePaperMost  = 300.0
	ridePaperLeast = 80.0
)

// RidePDF writes a ride sheet as one sheet of paper. The map takes what room is
// left, and where even without it there is more than a sheet holds, the table's
// last rows stand on the page only.
func (u Units) RidePDF(w io.Writer, s *analysis.RideSheet) error {
	room, rows := 0.0, len(rideMeasured(s, u).Rows)
	for ; rows >= 0; rows-- {
		d := u.rideDocument(s)
		if err := d.ridePaper(s, u, 0, rows); err != nil {
			return err
		}
		if d.pdf.PageCount() == 1 {
			room = min(ridePaperMost, d.room())
			break
		}
	}
	d := u.rideDocument(s)
	if err := d.ridePaper(s, u, room, rows); err != nil {
		return err
	}
	return d.write(w)
}

func (u Units) rideDocument(s *analysis.RideSheet) *document {
	at, err := time.Parse(time.DateOnly, s.Date)
	if err != nil {
		at = time.Time{}
	}
	return newDocument(u.pageSize(), "Ride sheet: "+rideBoat(s)+", "+longDate(s.Date), at)
}

// ridePaper sets the sheet with a map in so much height and so many rows.
func (d *document) ridePaper(s *analysis.RideSheet, u Units, room float64, rows int) error {
	d.masthead("Ride sheet", rideBoat(s), shortened(s.Variant, nameRoom), rideDay(s))
	d.facts(rideFacts(s, u))
	d.findings(rideFindings(s, u))
	if err := d.rideMap(s, u, room); err != nil {
		return err
	}
	if t := rideMeasured(s, u); len(t.Rows) > 0 {
		if more := len(t.Rows) - max(0, rows); more > 0 {
			t.Rows, t.Notes = t.Rows[:len(t.Rows)-more], []string{strconv.Itoa(more) + " more in ride-sheet.html."}
		}
		d.table(t)
	}
	for _, text := range []string{rideAgainst(s, u), notToldText(rideMissing(s))} {
		if text != "" {
			d.small(text)
		}
	}
	d.note("", []string{rideNoPromise})
	d.small(rideReads(s) + " " + rideCaution)
	return nil
}

func (d *document) rideMap(s *analysis.RideSheet, u Units, room float64) error {
	const title = 9.0 // points about it
	if room < ridePaperLeast {
		return nil
	}
	f, ok, err := routeFigure(s, u, d.width()/figureBest, (room-title)/figureBest)
	if err != nil || !ok {
		return err
	}
	d.draw(f.drawing, d.left(), d.y, figureBest)
	d.y += room
	return nil
}
