// Package wind makes the wind over the ground from what the boat felt, brings
// it to 10 m above the sea and names it. Components are always the way the air
// moves; directions in degrees are where it comes from. A reading out of its
// range gives NaN, never a number.
package wind
