package judge

import (
	"math"
	"regexp"
)

// besideJaws is how far the middle of what is drilled or milled across work stands out of the jaws at
// the least: a drill's chuck of 40 in diameter and 5 to spare.
const besideJaws = 25.0

var (
	crankSays = regexp.MustCompile(`\bcrank on (\d+) turns?(?: and (\d+) spaces? on the (\d+) circle)?`)
	blockSays = regexp.MustCompile(`\b(\d+) faces? of the (\d+) on`)
)

// indexed: what is cut across work in a dividing head or a collet block stands clear of the jaws, and
// the crank or the block comes to its roll.
func indexed(j *judgement) {
	if j.setUp.Machine != "mill" || !isWord(j.setUp.Device, "dividing-head", "collet-block") {
		return
	}
	for _, r := range j.op.Removes {
		if !isWord(r.Shape, "cross", "slot") {
			continue
		}
		middle := []float64{r.Z}
		if r.Shape == "slot" {
			middle = []float64{r.FromZ + r.Width/2, r.ToZ - r.Width/2}
		}
		for _, z := range middle {
			if a, b, ok := j.jaws(); ok && z > a-besideJaws+tiny && z < b+besideJaws-tiny {
				j.bad("tool-side", "z %.2f is cut across beside jaws from z %.2f to %.2f", z, a, b)
			}
		}
		j.turnedTo(r.Roll)
	}
}

// turnedTo asks whether a step says a roll, and what it is turned by to come there.
func (j *judgement) turnedTo(roll float64) {
	const off = 0.05 // degrees
	for _, s := range j.op.Settings {
		if s.Name != "roll" {
			continue
		}
		turned := 0.0
		if found := crankSays.FindStringSubmatch(s.Say); found != nil {
			ratio, _ := number(j.shop.in("dividing_head").tree["ratio"])
			turned = num(found[1]) / ratio
			if found[2] != "" {
				turned += num(found[2]) / num(found[3]) / ratio
			}
		} else if found := blockSays.FindStringSubmatch(s.Say); found != nil {
			turned = num(found[1]) / num(found[2])
		}
		if by := math.Remainder(turned*360-roll, 360); math.Abs(by) > off || s.Value != roll {
			j.bad("steps", "roll %.3f is said to be %v, and is turned to %.3f", roll, s.Value, turned*360)
		}
		return
	}
	j.bad("steps", "roll %.3f: nothing says how it is turned there", roll)
}
