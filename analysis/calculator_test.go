package analysis_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// calculator works a printed sum out as a pocket calculator would: + − × / √ ²
// ( ), exp, ln, and sin, cos, arctan of degrees.
type calculator struct{ rest string }

func calculate(sum string) (float64, error) {
	c := &calculator{sum}
	v := c.terms()
	if c.skip(); c.rest != "" {
		return 0, fmt.Errorf("can't read %q", c.rest)
	}
	return v, nil
}

func (c *calculator) skip() { c.rest = strings.TrimLeft(c.rest, " °") }

// take takes a sign or word off the front.
func (c *calculator) take(sign string) bool {
	c.skip()
	rest, ok := strings.CutPrefix(c.rest, sign)
	if ok {
		c.rest = rest
	}
	return ok
}

func (c *calculator) terms() float64 {
	v := c.factors()
	for {
		switch {
		case c.take("+"):
			v += c.factors()
		case c.take("−"):
			v -= c.factors()
		default:
			return v
		}
	}
}

func (c *calculator) factors() float64 {
	v := c.one()
	for {
		switch {
		case c.take("×"):
			v *= c.one()
		case c.take("/"):
			v /= c.one()
		default:
			return v
		}
	}
}

func (c *calculator) one() float64 {
	const rad = math.Pi / 180
	v := math.NaN()
	switch {
	case c.take("−"):
		return -c.one()
	case c.take("sin"):
		v = math.Sin(c.one() * rad)
	case c.take("cos"):
		v = math.Cos(c.one() * rad)
	case c.take("arctan"):
		v = math.Atan(c.one()) / rad
	case c.take("exp"):
		v = math.Exp(c.one())
	case c.take("ln"):
		v = math.Log(c.one())
	case c.take("√"):
		v = math.Sqrt(c.one())
	case c.take("("):
		v = c.terms()
		if !c.take(")") {
			c.rest = "no bracket: " + c.rest
		}
	default:
		n := numberPattern.FindString(c.rest)
		if n == "" || !strings.HasPrefix(c.rest, n) {
			c.rest = "no number: " + c.rest
			return v
		}
		c.rest = c.rest[len(n):]
		v, _ = strconv.ParseFloat(n, 64)
	}
	if c.take("²") {
		v *= v
	}
	return v
}

func TestCalculator(t *testing.T) {
	for sum, want := range map[string]float64{
		"−1.5 − (−0.5)": -1, "√(3² + (−4)²)": 5, "180 + arctan(1 / (−1))": 135, "2 × sin 30° + 4 × cos 60°": 3,
		"1.96 / √(2 × 8) × (1 + 3 / 3)": 0.98, "100 × (10 − 9) / 10": 10, "(1 × 2 + (−1) × 3) / 2": -0.5, "2 × exp(0)": 2, "3 + ln((2 / 4 + 0.5) / 1) / 2": 3,
	} {
		if got, err := calculate(sum); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s = %v, %v", sum, got, err)
		}
	}
	for _, sum := range []string{"1 +", "(1", "due east", ""} {
		if v, err := calculate(sum); err == nil && !math.IsNaN(v) {
			t.Errorf("%q gives %v", sum, v)
		}
	}
}
