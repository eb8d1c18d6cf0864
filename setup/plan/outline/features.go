package outline

import (
	"fmt"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/threads"
	"setover/threads/limits"
)

// Thread is a thread of the part. An outside one lies On a cylinder, an inside
// one In a bore; nil where there is none for it, which Unfit tells.
type Thread struct {
	part.Thread
	N           int // from 1, as in the file
	Designation threads.Designation
	Span        Span         // of full thread
	Blank       units.Length // what the cylinder under an outside one is turned to: midway between the limits
	On          *Stretch
	In          *Bore
}

// Bore is an axial bore. Span is that of its full diameter, Tip where its point
// ends: the far face, where it is through.
type Bore struct {
	part.Bore
	N       int // from 1, as in the file
	Span    Span
	Tip     units.Length
	Threads []*Thread
}

// Hole is a hole across the bar. Row and InRow count from 1; they are 0 for a
// single hole.
type Hole struct {
	part.Hole
	N          int // from 1, over all holes of the part
	Row, InRow int
}

// Feature returns the hole's name on cards and in predictions.
func (h Hole) Feature() string {
	if h.Row == 0 {
		return fmt.Sprintf("hole %d", h.N)
	}
	return fmt.Sprintf("row %d hole %d", h.Row, h.InRow)
}

// Slot is a slot across the bar, with its place along it.
type Slot struct {
	part.Slot
	N    int // from 1, as in the file
	Span Span
}

// thread reads the threads' designations.
func (o *Outline) thread(r *part.Round) error {
	var bad problem.List
	for _, t := range r.Threads {
		d, err := threads.Parse(t.Spec)
		at := t.At
		at.Key = "spec"
		bad.AddAt(at, err)
		x := Thread{Thread: t, Designation: d, Span: o.FromEnd(t.From, t.Length)}
		if err == nil && !t.Inside {
			if turn, err := limits.TurnDown(d, ""); err == nil {
				x.Blank = turn.Max.Plus(turn.Min).Half()
			}
		}
		o.Threads = append(o.Threads, x)
	}
	return bad.Err()
}

// drill lists the cross holes.
func (o *Outline) drill(r *part.Round) error {
	for _, h := range r.Holes {
		o.Holes = append(o.Holes, Hole{Hole: h, N: len(o.Holes) + 1})
	}
	var bad problem.List
	for i, w := range r.Rows {
		row := holes.Row{
			From: w.From, Dias: w.Dias, Count: w.Count,
			Web: w.Web, Pitch: w.Pitch, Span: w.Span, Rolls: w.Rolls, Stagger: w.Stagger,
		}
		centres, err := row.Expand()
		bad.AddAt(w.At, err)
		for _, c := range centres {
			if c.At.Sign() < 0 || o.Length.Less(c.At) {
				bad.Add(problem.New(problem.Impossible, "rows", c.At,
					"hole ", c.N, " of the row lies beyond the part, which is ", o.Length, " long").In(w.At))
				continue
			}
			h := part.Hole{
				Z: c.At, Dia: c.Dia, Roll: c.Roll, Offset: w.Offset, Depth: w.Depth, Tol: w.Tol,
				MissBore: w.MissBore, Crossing: w.Crossing, ThroughThread: w.ThroughThread, At: w.At,
			}
			o.Holes = append(o.Holes, Hole{h, len(o.Holes) + 1, i + 1, c.N})
		}
	}
	return bad.Err()
}

// bore places a bore. Its point is that of a twist drill.
func (o *Outline) bore(b part.Bore) Bore {
	if b.Through {
		x := Bore{Bore: b, Span: o.Whole(), Tip: o.Length}
		if b.From == part.Right {
			x.Tip = units.Length{}
		}
		return x
	}
	x := Bore{Bore: b, Span: o.FromEnd(b.From, b.Depth)}
	point := holes.PointLength(b.Dia, practice.PointAngle.Angle())
	x.Tip = x.Span.To.Plus(point)
	if b.From == part.Right {
		x.Tip = x.Span.From.Minus(point)
	}
	return x
}
