package report

import "math"

// thin keeps of each bucket of a line its smallest and largest point, in order,
// so that no peak is lost and no file gets long. Unknown values stay as breaks
// (one NaN point a bucket); the line's two ends stay.
func thin(xs, ys []float64, buckets int) (tx, ty []float64) {
	if len(xs) <= 2*buckets || buckets < 1 {
		return xs, ys
	}
	size := float64(len(xs)) / float64(buckets)
	for b := range buckets {
		from, to := int(float64(b)*size), int(float64(b+1)*size)
		for _, i := range keep(ys, from, min(to, len(ys))) {
			tx, ty = append(tx, xs[i]), append(ty, ys[i])
		}
	}
	return tx, ty
}

// thinCircular thins directions in degrees: the line is cut where it passes north
// (neighbours more than half a circle apart), and each piece is thinned by itself,
// so that no line is drawn across the whole circle.
func thinCircular(xs, deg []float64, buckets int) (tx, ty []float64) {
	from := 0
	for i := 1; i <= len(xs); i++ {
		if i < len(xs) && !(math.Abs(deg[i]-deg[i-1]) > 180) {
			continue
		}
		px, py := thin(xs[from:i], deg[from:i], 1+buckets*(i-from)/len(xs))
		tx, ty = append(tx, px...), append(ty, py...)
		if i < len(xs) {
			tx, ty = append(tx, xs[i]), append(ty, math.NaN())
		}
		from = i
	}
	return tx, ty
}

// keep chooses the indices of one bucket.
func keep(ys []float64, from, to int) []int {
	low, high, gap := -1, -1, -1
	for i := from; i < to; i++ {
		switch v := ys[i]; {
		case math.IsNaN(v):
			gap = i
		case low < 0:
			low, high = i, i
		case v < ys[low]:
			low = i
		case v > ys[high]:
			high = i
		}
	}
	var out []int
	for i := from; i < to; i++ {
		if i == low || i == high || i == gap || i == 0 || i == len(ys)-1 {
			out = append(out, i)
		}
	}
	return out
}

// apart drops points of a path that lie closer than a distance to the last one
// kept; ends stay.
func apart(pts []point, distance float64) []point {
	var out []point
	for i, p := range pts {
		if i > 0 && i < len(pts)-1 {
			last := out[len(out)-1]
			if math.Hypot(p.x-last.x, p.y-last.y) < distance {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}
