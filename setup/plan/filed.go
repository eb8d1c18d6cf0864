package plan

import (
	"fmt"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// taperMethod is how a taper is brought to its size.
type taperMethod int

const (
	finishedByTool taperMethod = iota
	finishedByFile             // what a tool would spring away from: it leaves a little, and a file takes that
)

// methods returns of each method that there is for a taper what trouble it is: no file keeps
// an angle that is written.
func (p *tapering) methods() []say.Text {
	list := []say.Text{"", "it is filed to size by hand, and measured again and again"}
	if _, written := p.limits.HalfAngle(p.x); written {
		return list[:1]
	}
	return list
}

// leave has the tool leave something for the file, on diameter: it springs away there, as a
// roughing cut may.
func (p *tapering) leave() {
	o := p.o
	o.Rough, o.Makes, o.Leaves = true, nil, op.Surface{}
	o.Name = say.Of("rough the taper ", p.large, " to ", p.small, ", ", p.x.Span)
	o.Set("leave", practice.LeaveFiling.Length(), "on diameter, for the file: a tool springs away there")
}

// file files a taper to its size in the lathe, measured at both ends.
func (p *tapering) file() steps {
	var w steps
	x := p.x
	small, s := units.Min(x.Left.Turned, x.Right.Turned), inWork(x.Span)
	o := w.add(&op.Op{
		ID: fmt.Sprintf("file-z%s", x.From.Decimal()), Kind: op.Taper, Setup: p.setup,
		Tool:   op.Tool{Name: "file", Hand: op.File},
		Name:   say.Of("file the taper ", x.Large(), " to ", small, ", ", x.Span),
		Leaves: op.SurfaceOf(op.Cone, x.Span, x.Large()), Cuts: x.Span, Dia: small, Makes: []string{x.ID()}, Ends: ends(x),
	})
	o.Set("take", practice.LeaveFiling.Length(), "on diameter, all along: a straightedge shows where it is high")
	o.Set("measure", say.Text("both ends"), x.Large(), " and ", small, ", by micrometer or calliper, again and again")
	o.Cautions = append(o.Cautions, cautions.Files, cautions.EyeProtection)
	o.Removed(work.Outside{Profile: []work.Point{
		{Z: s.From, Dia: op.LenOf(x.Left.Turned)}, {Z: s.To, Dia: op.LenOf(x.Right.Turned)},
	}, Stage: work.Finished})
	o.Minutes = practice.FileTaperMinutes.Number() * x.Length().MM() / 10
	o.Foresee(p.limits.TaperEnd(x, part.Left), say.Of("left end of the taper, ", x.Span), x.Left.Turned, filedToSize)
	o.Foresee(p.limits.TaperEnd(x, part.Right), say.Of("right end of the taper, ", x.Span), x.Right.Turned, filedToSize)
	return w
}

// files reports whether a stretch is filed to its size in this way.
func (t *task) files(x outline.Stretch) bool {
	methods := 1
	switch _, written := t.limits.HalfAngle(x); {
	case x.Kind() == outline.Cylinder && !t.asBought(x) && t.byHandToo(t.sizesOver(x)):
		methods++
	case x.Kind() == outline.Taper && !written:
		methods++
	}
	return t.method(x.ID(), methods) > 0
}

// fileBehind returns how far behind a place the jaws stand so that a file has room to them, of
// stretches that are cut with an end out.
func (t *task) fileBehind(out part.End, z units.Length, list []outline.Stretch) units.Length {
	var clear units.Length
	for _, x := range t.joined(list) {
		past := x.To.Minus(z)
		if out == part.Right {
			past = z.Minus(x.From)
		}
		if t.files(x) {
			clear = units.Max(clear, past.Plus(practice.FileRoom.Length()))
		}
	}
	return clear
}

// filedToSize says why a size that is filed comes out as it is drawn.
const filedToSize = "filed to size by measuring"
