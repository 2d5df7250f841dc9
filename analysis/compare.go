package analysis

import "errors"

// CompareTrial is one trial that is compared: its name as people know it (the
// trial file's path) and its results.
type CompareTrial struct {
	Name    string
	Results *Results
}

// CompareOptions are what a person may ask for. The zero value asks for
// everything at conditions of the program's choice.
type CompareOptions struct {
	Measures []string           // names of measures; nil: all. Fewer measures need less correction
	WindKn   float64            // compare drift measures at this wind; 0: a round number that both variants met
	Care     map[string]float64 // by name of measure, in its unit: the difference that matters; without: see CareDefault
}

// Compare compares the trials of two or more variants ([boat] variant in their
// trial files). The variant of the first trial is the one that the others are
// compared with. Trials of one variant on one date count as one day. An error
// means that nothing can be compared: a trial without a variant, or a single
// variant; what can't be said of one measure is in its verdict.
func Compare(trials []CompareTrial, opt CompareOptions) (*Comparison, error) {
	return nil, errors.New("compare: not yet there")
}
