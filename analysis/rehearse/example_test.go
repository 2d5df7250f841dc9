package rehearse_test

import (
	"bytes"
	"fmt"

	"ahull/analysis/rehearse"
)

func Example() {
	s := rehearse.Default(1) // a boat, a day, a place, usual sensors
	s.Wind.SpeedKn, s.Current.SpeedKn = 15, 1.2
	s.Plan = rehearse.Plan(
		rehearse.Alongside(240), rehearse.Harbour(180),
		rehearse.Pairs(80, []float64{0, 90}, 650, 2000, 4000), // into and across the wind
		rehearse.Drifts(3, 600, ""), rehearse.Circle(3500, 360, 8),
	)
	v := rehearse.Simulate(s)
	var log bytes.Buffer
	if err := v.WriteLog(&log); err != nil {
		fmt.Println(err)
	}
	fmt.Println(len(v.Truth.Drifts), "drifts,", len(v.Truth.Runs), "runs")
	// Output: 3 drifts, 15 runs
}
