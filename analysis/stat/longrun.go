package stat

import "math"

// The long-run variance (the spectral density at frequency zero: n times the
// variance of the mean) is taken from autoregressive models, which serve
// slowly wandering and quasi-periodic motion alike where sums of
// autocorrelations must be cut short. The series is first averaged in blocks,
// which keeps the mean and its variance but takes out what is faster; since no
// one block length is right for all, three are used and their geometric mean
// taken.
const (
	maxOrder = 6   // of the autoregression; fewer in short series
	widening = 1.3 // per degree of freedom, found by simulation: see the coverage test
)

var blocksWanted = [...]int{40, 60, 90}

// longRunVariance is the estimate and the degrees of freedom that its own
// uncertainty leaves it.
type longRunVariance struct{ variance, df float64 }

// effective is n σ²/L with σ² = (SS + L)/n: the sum of squares about the sample
// mean is too small by n times the variance of that mean, which is L.
func (l longRunVariance) effective(x []float64) float64 {
	n := float64(len(x))
	if l.variance <= 0 {
		return n
	}
	return math.Min(n, math.Max(1, 1+sumSquares(x, Mean(x))/l.variance))
}

func longRun(x []float64) longRunVariance {
	logs, inverse, count, last := 0.0, 0.0, 0.0, 0
	for _, blocks := range blocksWanted {
		size := max(1, len(x)/blocks)
		if size == last {
			continue
		}
		last = size
		f := autoregression(blockMeans(x, size))
		logs += math.Log(f.variance * float64(size)) // −Inf for a mean that does not move at all
		inverse += 1 / f.df
		count++
	}
	l := longRunVariance{math.Exp(logs / count), count / inverse}
	size := max(1, len(x)/blocksWanted[0])
	if least := slowest(blockMeans(x, size)) * float64(size); least > l.variance {
		l.variance = least
	}
	return l
}

// slowest is a lower bound of the spectral density at zero from the slowest
// cosines that fit the series (equal-weighted cosine estimates: Müller 2004;
// Lazarus, Lewis, Stock & Watson 2018). A ramp or an arc without noise predicts
// itself perfectly, so that a model takes its mean for known; its slow cosines
// say otherwise. The mean power of the first one, two and four is divided by
// what chance exceeds once in a hundred.
func slowest(y []float64) float64 {
	n := float64(len(y))
	power, least := 0.0, 0.0
	for j := 1; j <= min(4, len(y)-1); j++ {
		c := 0.0
		for i, v := range y {
			c += v * math.Cos(math.Pi*float64(j)*(float64(i)+0.5)/n)
		}
		power += 2 / n * c * c
		switch j { // χ² of j degrees of freedom at 0.99
		case 1:
			least = math.Max(least, power/6.635)
		case 2:
			least = math.Max(least, power/9.210)
		case 4:
			least = math.Max(least, power/13.277)
		}
	}
	return least
}

// blockMeans averages whole blocks of a size, less the mean of all.
func blockMeans(x []float64, size int) []float64 {
	m := Mean(x)
	out := make([]float64, len(x)/size)
	for i := range out {
		out[i] = Mean(x[i*size:(i+1)*size]) - m
	}
	return out
}

// autoregression fits models of rising order by Burg's recursion, takes the one
// of the least corrected Akaike criterion and gives its spectral density at
// zero. y has zero mean and is used up. The degrees of freedom follow from the
// variance of the density's logarithm, 2/n + 4 σ² 1ᵀΓ⁻¹1/(n(1−Σφ)²), whose
// quadratic form is the sum over lower orders j of (1−Σφ_j)²/σ_j².
func autoregression(y []float64) longRunVariance {
	n := float64(len(y))
	forward, backward := y, append([]float64(nil), y...)
	v := sumSquares(y, 0) / n
	if v <= 0 {
		return longRunVariance{0, n}
	}
	var phi []float64
	sum, form, total := 0.0, 0.0, v
	criterion := func(p int) float64 {
		k := float64(p + 2)
		return n*math.Log(v) + 2*k*n/(n-k-1)
	}
	density := func(p int) longRunVariance {
		gain := 1 / ((1 - sum) * (1 - sum))
		return longRunVariance{
			variance: v * n / (n - float64(p) - 1) * gain,
			df:       n / (1 + 2*v*gain*form),
		}
	}
	best, least := density(0), criterion(0)
	for p := 1; p <= min(maxOrder, len(y)/8); p++ {
		k := reflection(forward, backward, p)
		form += (1 - sum) * (1 - sum) / v
		phi = levinson(phi, k)
		v *= 1 - k*k
		if v <= 1e-12*total { // a series that predicts itself: nothing more to learn
			break
		}
		reflect(forward, backward, p, k)
		sum = math.Min(0.995, Mean(phi)*float64(p)) // a mean must exist
		if c := criterion(p); c < least {
			best, least = density(p), c
		}
	}
	return best
}

// reflection is Burg's coefficient of order p from the prediction errors of
// order p−1.
func reflection(forward, backward []float64, p int) float64 {
	num, den := 0.0, 0.0
	for i := p; i < len(forward); i++ {
		num += forward[i] * backward[i-1]
		den += forward[i]*forward[i] + backward[i-1]*backward[i-1]
	}
	if den == 0 {
		return 0
	}
	return 2 * num / den
}

// reflect brings the prediction errors to order p.
func reflect(forward, backward []float64, p int, k float64) {
	for i := len(forward) - 1; i >= p; i-- {
		f := forward[i]
		forward[i] = f - k*backward[i-1]
		backward[i] = backward[i-1] - k*f
	}
}

// levinson brings the coefficients to the next order.
func levinson(phi []float64, k float64) []float64 {
	p := len(phi)
	out := make([]float64, p+1)
	for i := range phi {
		out[i] = phi[i] - k*phi[p-1-i]
	}
	out[p] = k
	return out
}
