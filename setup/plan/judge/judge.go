package judge

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
)

// Fault is one thing that is wrong with a plan: its code, the operation it is
// about, 0 for the whole, and what was found.
type Fault struct {
	Code string
	N    int
	Text string
}

func (f Fault) String() string {
	if f.N == 0 {
		return f.Code + ": " + f.Text
	}
	return fmt.Sprintf("%s at %d: %s", f.Code, f.N, f.Text)
}

// judgement is a plan on the way through: the work as it stands before the
// operation that is looked at.
type judgement struct {
	drawing
	shop   shop
	plan   plan
	work   *work
	setUp  setUp
	op     operation
	faults []Fault

	started int // the set-up whose beginning was looked at
}

func (j *judgement) bad(code, format string, args ...any) {
	f := Fault{code, j.op.N, fmt.Sprintf(format, args...)}
	if !slices.ContainsFunc(j.faults, func(g Fault) bool { return g.Code == f.Code && g.Text == f.Text }) {
		j.faults = append(j.faults, f)
	}
}

// before are the checks of the work before a step, in the order of the table.
var before = []func(*judgement){
	owned, gripSurface, runsTrue, gripLength, jawRoom, gripRange, slips, bruise, overhang, leansAway, supported,
	toolSide, flatsRoom, slotPasses, fouling, shoulder, supportV, parting,
	startSize, cutsMetal, comesOut, led, pilotFirst, byHand, leavesForFile,
	threadPlace, once, dials, angles, wound, aslant, formed,
	plungedArc, flatsOneByOne, indexed, says,
}

// Judge returns what is wrong with a plan, given with the exit status it was
// printed with and the two files as decoded. A plan that says no is held to its
// form alone: it may show steps that fail.
func Judge(status int, text []byte, partFile, shopFile Tree) []Fault {
	if faults := form(text, status); len(faults) > 0 {
		return faults
	}
	j := &judgement{drawing: readDrawing(partFile), shop: readShop(shopFile)}
	if err := json.Unmarshal(text, &j.plan); err != nil {
		return []Fault{{Code: "form", Text: err.Error()}}
	}
	if len(j.plan.Operations) == 0 {
		return nil
	}
	sums(j)
	if status != 0 {
		return j.faults
	}
	if j.block {
		return j.blockPart()
	}
	j.work = newWork(j.plan.Blank)
	for _, o := range j.plan.Operations {
		j.op, j.setUp = o, j.plan.SetUps[o.SetUp-1]
		for _, check := range before {
			check(j)
		}
		was := j.work.clone()
		for _, r := range o.Removes {
			j.work.apply(r, o.Kind, &j.drawing)
		}
		gouge(j, was)
	}
	j.op = operation{}
	codes := Codes(j.faults)
	if !isWord("gouge", codes...) && !isWord("start-size", codes...) { // else what is wrong at the end follows from it
		complete(j)
		predictions(j)
	}
	return j.faults
}

// says: a plan that says yes has no check of its own that says no.
func says(j *judgement) {
	for _, c := range j.op.Checks {
		if !c.OK {
			j.bad("status", "status 0, and its own check %s does not hold", c.Code)
		}
	}
}

// Codes returns the codes of faults, each once, in their order.
func Codes(faults []Fault) []string {
	var codes []string
	for _, f := range faults {
		if !slices.Contains(codes, f.Code) {
			codes = append(codes, f.Code)
		}
	}
	return codes
}

func (w *work) clone() *work {
	c := *w
	c.ends, c.centres, c.mouths = maps.Clone(w.ends), maps.Clone(w.centres), maps.Clone(w.mouths)
	c.outside = slices.Clone(w.outside)
	c.bores, c.cross = slices.Clone(w.bores), slices.Clone(w.cross)
	c.flats, c.threads, c.slots = slices.Clone(w.flats), slices.Clone(w.threads), slices.Clone(w.slots)
	return &c
}
