package runs

// Run is one run's means over the ground and of the sensors. Values that were
// not measured are NaN. Standard errors are of the mean, for correlated
// samples (effective number of samples).
type Run struct {
	ID         string
	Group      string  // the trial file's; "" by default
	From, To   int     // samples of the track
	Start, End float64 // Unix seconds, UTC

	VelEast, VelNorth     float64 // m/s over ground, vector mean
	VelEastSE, VelNorthSE float64
	SOG, COG              float64 // of the vector mean: m/s, degrees true

	Heading, HeadingSE float64 // vector mean, degrees true
	RPM, RPMSD         float64 // RPMSD is the samples' spread
	STWLog, STWLogSE   float64 // the water-speed sensor's mean, m/s

	WindEast, WindNorth float64 // m/s over ground at 10 m, toward, vector mean
	WindSpeed, WindFrom float64 // of the vector mean: m/s, degrees true
	WindScalar          float64 // mean of the speeds, m/s

	FuelFlow, FuelFlowSE float64 // litres an hour
	PitchMean, PitchSE   float64 // degrees, bow up positive
	Trim                 string  // from a hand reading
}
