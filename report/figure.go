package report

import "ahull/analysis"

// Figure is one drawing. Name is fit for a file name; Title is its caption's
// first line; Description says in words what it shows, for those who can't see
// it. SVG is a whole document without XML prologue, to be put into a page or a
// file; its ids start with the figure's name.
type Figure struct {
	Name        string
	Title       string
	Description string
	SVG         []byte

	drawing drawing // the same for other canvases
}

// Figures draws what the results hold, in the report's order. A figure for
// which there is nothing to draw is left out.
func Figures(r *analysis.Results) ([]Figure, error) { return Units{}.Figures(r) }

// Widths of a figure, in its units: of a page or a file, and of a phone, where
// a unit is a pixel, so that the letters stay legible.
const (
	pageWidth  = 480.0
	phoneWidth = 336.0
)

// Figures draws in these units.
func (u Units) Figures(r *analysis.Results) ([]Figure, error) { return u.figuresOf(r, pageWidth) }

func (u Units) figuresOf(r *analysis.Results, width float64) ([]Figure, error) {
	drawers := []func(*analysis.Results, Units, float64) (Figure, bool, error){
		trackFigure, timelineFigure, speedFigure, headingFigure, roseFigure, leewayFigure,
	}
	var figures []Figure
	for _, draw := range drawers {
		f, ok, err := draw(r, u, width)
		if err != nil {
			return nil, err
		}
		if ok {
			figures = append(figures, f)
		}
	}
	return figures, nil
}
