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
}

// Figures draws what the results hold, in the report's order. A figure for
// which there is nothing to draw is left out.
func Figures(r *analysis.Results) ([]Figure, error) { return Units{}.Figures(r) }

// Figures draws in these units.
func (u Units) Figures(r *analysis.Results) ([]Figure, error) {
	drawers := []func(*analysis.Results, Units) (Figure, bool, error){
		trackFigure, timelineFigure, speedFigure, headingFigure, roseFigure, leewayFigure,
	}
	var figures []Figure
	for _, draw := range drawers {
		f, ok, err := draw(r, u)
		if err != nil {
			return nil, err
		}
		if ok {
			figures = append(figures, f)
		}
	}
	return figures, nil
}
