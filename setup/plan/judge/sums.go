package judge

import (
	"math"
	"reflect"
)

// findsAxis are the devices that find the axis by themselves.
var findsAxis = []string{
	"collet", "soft-jaws", "between-centres", "mandrel", "arbor", "threaded-stub", "v-blocks", "dividing-head",
	"collet-block",
}

// sums: the totals are those of the operations.
func sums(j *judgement) {
	t := j.plan.Totals
	if t.SetUps != len(j.plan.SetUps) {
		j.bad("totals", "%d set-ups are told, and %d are listed", t.SetUps, len(j.plan.SetUps))
	}
	changes, last, total := 0, map[string]string{}, 0.0
	for _, o := range j.plan.Operations {
		total += o.Time
		machine := j.plan.SetUps[o.SetUp-1].Machine
		was, ok := last[machine]
		if ok && was != o.Tool.Name && o.Tool.Name != "" {
			changes++
		}
		if o.Tool.Name != "" {
			last[machine] = o.Tool.Name
		}
	}
	if t.ToolChanges != changes {
		j.bad("totals", "%d tool changes are told, and the operations have %d", t.ToolChanges, changes)
	}
	if t.Time < total-0.5 {
		j.bad("totals", "%.2f min are told, and the operations alone take %.2f", t.Time, total)
	}
	n := math.Max(1, float64(j.quantity))
	if t.Batch < t.Time-0.5 || t.Batch > n*t.Time+0.5*n {
		j.bad("totals", "%.2f min for %g pieces of %.2f", t.Batch, n, t.Time)
	}
	if !j.block { // a block's grip is not told
		j.regrips()
		j.bar()
	}
}

// bar (blank): the bar is the one that is written, lies over the whole part,
// and is as long as all pieces together.
func (j *judgement) bar() {
	b := j.plan.Blank
	if b.From > tiny || b.To < j.length-tiny {
		j.bad("blank", "the bar lies from z %.2f to %.2f, and the part is %.2f long", b.From, b.To, j.length)
	}
	if b.Length < j.length-tiny || b.BarMM < b.Length*float64(b.Pieces)-0.01 || b.Pieces < 1 {
		j.bad("blank", "%.2f mm of bar for %d pieces of %.2f", b.BarMM, b.Pieces, b.Length)
	}
	if stock, ok := j.in("round").length("stock"); ok && (b.Dia == nil || math.Abs(*b.Dia-stock) > 1e-3) {
		j.bad("blank", "the bar on hand is %.3f, and the blank is another", stock)
	}
}

// regrips counts set-ups after the first in a new grip whose device does not
// find the axis by itself. One that finds it and has lost the roll counts too,
// which is not told: so the count is at least this and at most every new grip.
func (j *judgement) regrips() {
	least, most := 0, 0
	for i, s := range j.plan.SetUps {
		if i == 0 {
			continue
		}
		p := j.plan.SetUps[i-1]
		same := s.Device == p.Device && s.Machine == p.Machine && reflect.DeepEqual(s.Out, p.Out) &&
			reflect.DeepEqual(s.Grip, p.Grip)
		if same {
			continue
		}
		most++
		if !isWord(s.Device, findsAxis...) && s.Machine != "saw" && s.Machine != "bench" {
			least++
		}
	}
	if got := j.plan.Totals.Regrips; got < least-1 || got > most {
		j.bad("totals", "%d regrips are told, and the set-ups have %d to %d", got, least, most)
	}
}

// dials: what is set is turns and divisions of the slide's dial, and is the nearest
// there is; of an arc's steps the last that is not too far.
func dials(j *judgement) {
	for _, d := range j.op.Dials {
		lead, divisions, ok := j.shop.dial(d.Slide)
		if !ok {
			continue
		}
		if d.Set == nil {
			j.bad("dial", "%s: the %s has a dial, and nothing is set", d.What, d.Slide)
			continue
		}
		one, set := lead/divisions, *d.Set
		past, least := one/2, -one/2
		switch j.op.Kind {
		case "curve": // never below the arc, and less than a line above it
			past, least = 0, -one
		case "taper", "turn", "bore": // the line before, and where that breaks a limit the nearest
			least = -one
		}
		if off := set - d.Exact; off > past+1e-3 || off < least-1e-3 {
			j.bad("dial", "%s: set %.4f for %.4f, and a division is %.4f", d.What, set, d.Exact, one)
		}
		wound := d.Turns*lead + d.Divisions*one
		if math.Abs(math.Abs(set)-math.Abs(wound)) > 1e-3 {
			j.bad("dial", "%s: %g turns and %g divisions are %.4f, not %.4f", d.What, d.Turns, d.Divisions, wound, set)
		}
		if d.Divisions != math.Trunc(d.Divisions) || math.Abs(d.Divisions) >= divisions {
			j.bad("dial", "%s: %g divisions on a dial of %g", d.What, d.Divisions, divisions)
		}
	}
}
