package certify

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// carried returns what holds the end that stands out, and where.
func (c Case) carried() Carried {
	s := c.Op.Setup
	kind := s.Support
	if s.Device == op.Centres && kind == op.NoSupport {
		kind = op.AtCentre
	}
	x, end := Carried{Kind: kind}, c.Before.Reach(s.Out)
	switch kind {
	case op.AtCentre:
		x.At = &end
		if h := c.Before.EndAt(s.Out).Centre; h != nil {
			x.Dia = &h.Dia
		}
	case op.AtMouth:
		x.At = &end
		if m, ok := c.mouth(s.Out); ok {
			x.Dia = &m.dia
		}
	case op.AtSteady:
		if p, ok := c.steady(); ok {
			x.At, x.Dia = new(middle(p.Span)), &p.Left
		}
	}
	return x
}

func middle(s work.Span) work.Len { return s.From + s.Length()/2 }

// mouth is the chamfered mouth of a bore: its diameter, its included angle, and
// how deep the bore goes on.
type mouth struct {
	dia  work.Len
	cone work.Deg
	deep work.Len
}

// mouth returns the widest chamfered mouth of a bore at an end.
func (c Case) mouth(end part.End) (m mouth, ok bool) {
	for _, b := range c.Before.Bores {
		if b.From == end && b.Start == 0 && 0 < b.EndDia && b.EndDia < b.Dia && b.Depth > 0 && b.Dia > m.dia {
			slope := math.Atan((b.Dia - b.EndDia).MM() / 2 / b.Depth.MM())
			m, ok = mouth{dia: b.Dia, cone: work.Deg(2 * slope * 180 / math.Pi * 1e6)}, true
		}
	}
	for _, b := range c.Before.Bores {
		switch {
		case b.Through:
			m.deep = c.Before.Length
		case b.From == end && b.Start == 0:
			m.deep = max(m.deep, b.Depth+b.Tip())
		}
	}
	return m, ok
}

// steady returns where a steady stands: where the set-up says, else at the outer
// end of the cylinder that lies furthest out. It was turned, and is not cut.
func (c Case) steady() (work.Piece, bool) {
	s, cuts := c.Op.Setup, cutBetween(c.Before, c.After)
	land := practised().steadyLand
	list := c.Before.Outside
	for i := range list {
		p := list[i]
		if s.Out == part.Right {
			p = list[len(list)-1-i]
		}
		if !p.Cylinder() || p.Sides != 0 || p.Stage == work.Bought || p.Stage > work.Finished ||
			away(far(p.Span, s.Out), s.Face(), s.Out) < land || p.Length() < land ||
			slices.ContainsFunc(cuts, p.Overlaps) {
			continue
		}
		stands := beyond(far(p.Span, s.Out), other(s.Out), land)
		if s.Steady != 0 {
			stands = order(s.Steady-land/2, s.Steady+land/2)
		}
		if !p.Covers(stands) {
			continue
		}
		p.Span = stands
		return p, true
	}
	return work.Piece{}, false
}

// support: what carries the end that stands out is there now. A centre needs its
// hole, or the chamfered mouth of a bore that its nose fits, and is not there
// while that end is cut or a die goes on over it; a steady needs a true cylinder.
func support(k *checker) {
	s := k.Op.Setup
	if s.Device == op.Centres {
		if k.centred(other(s.Out)) {
			k.centred(s.Out)
		}
		return
	}
	switch s.Support {
	case op.AtCentre:
		k.centred(s.Out)
	case op.AtMouth:
		k.mouthed(s.Out)
	case op.AtSteady:
		k.steadied()
	}
}

// free reports whether a centre may stand at an end, and adds the check where it
// may not: there is no tailstock, or the end is being cut.
func (k *checker) free(end part.End) bool {
	if !k.tailstock {
		k.fail(problem.Support, words("a centre is to carry it"), words("there is no tailstock on this lathe"),
			"a steady, or a shorter grip")
		return false
	}
	if !k.cutsEnd(end) {
		return true
	}
	limit := say.Text("that end is cut here")
	if k.Op.OnEnd {
		limit = "the die goes on over that end"
	}
	k.fail(problem.Support, words(say.Of("a centre stands in the ", end, " end")), words(limit),
		"draw the centre back, or carry the work in a steady")
	return false
}

// cutsEnd reports whether the operation works on an end, where a centre would
// stand: it cuts the end, bores it, threads its bore, or puts a die on over it.
func (k *checker) cutsEnd(end part.End) bool {
	for _, r := range k.Op.Removes {
		switch r := r.(type) {
		case work.EndCut:
			if r.End == end {
				return true
			}
		case work.Centre:
			if r.End == end {
				return true
			}
		case work.Bore:
			if r.From == end {
				return true
			}
		case work.Thread:
			if (r.Inside || k.Op.OnEnd) && end == k.Op.Setup.Out {
				return true
			}
		}
	}
	return false
}

// centred checks a centre in the hole of an end. It reports whether it stands.
func (k *checker) centred(end part.End) bool {
	if !k.free(end) {
		return false
	}
	if k.Before.EndAt(end).Centre != nil {
		k.pass(problem.Support, words("a centre"), words("its hole is there"), true)
		return true
	}
	if _, ok := k.mouth(end); ok {
		return k.mouthed(end)
	}
	k.fail(problem.Support, words(say.Of("a centre is to stand in the ", end, " end")), words("no centre hole is there"),
		"drill the centre first, while the end stands out")
	return false
}

// mouthed checks a centre in the mouth of a bore. A nose of 60 deg sits in a
// chamfer of 60 to 90 deg; its point reaches 0.87 of the mouth's diameter deep.
func (k *checker) mouthed(end part.End) bool {
	if !k.free(end) {
		return false
	}
	const code = problem.Support
	m, ok := k.mouth(end)
	switch {
	case !ok:
		k.fail(code, words(say.Of("a centre is to stand in the bore of the ", end, " end")),
			words("its mouth is not chamfered"),
			"bore it first and chamfer its mouth 60 deg")
		return false
	case m.cone < k.mouthFrom-nearly || m.cone > k.mouthTo+nearly:
		k.fail(code, words(say.Of(say.Num(float64(m.cone)/1e6, 1), " deg across the mouth")), words("60 to 90 deg is wanted"),
			"chamfer the mouth 60 deg")
		return false
	case k.nose > 0 && m.dia > k.nose:
		k.fail(code, figure(m.dia, "across the mouth"), figure(k.nose, "is the widest that the centre holds"),
			"plug the bore and centre the plug, or use a bull-nosed centre")
		return false
	}
	if tip := times(m.dia, 1/(2*math.Tan(k.mouthFrom.Angle().Rad()/2))); m.deep < tip {
		k.fail(code, figure(m.deep, "deep is the bore"), figure(tip, "is how deep the centre's point reaches"),
			"a centre with its point ground off")
		return false
	}
	if k.nose == 0 {
		k.missing("lathe.centre_nose")
	}
	k.pass(code, figure(m.dia, "across the mouth"), words("the centre's nose fits"), true)
	return true
}

// nearly is how far an angle may be off that was worked out from lengths, in
// millionths of a degree.
const nearly = work.Deg(100_000)

// steadied checks a steady: it is owned, and a true cylinder in its range is
// there.
func (k *checker) steadied() {
	const code = problem.Support
	lathe := k.Shop.Lathe
	p, ok := k.steady()
	switch {
	case lathe == nil || lathe.Steady == nil:
		k.fail(code, words("a steady is to carry it"), words("there is none in this shop"),
			"put a centre in the end")
	case !ok:
		k.fail(code, words("a steady is to carry it"),
			words(say.Of("no turned cylinder of ", k.steadyLand.Length(), " is there")),
			"turn a band for it first, with a centre in the end")
	case p.Left < op.LenOf(lathe.Steady.From) || p.Left > op.LenOf(lathe.Steady.To):
		k.fail(code, figure(p.Left, "runs in the steady"),
			words(say.Of("it takes ", lathe.Steady.From, " to ", lathe.Steady.To)), "put a centre in the end")
	default:
		k.pass(code, figure(p.Left, say.Of("runs in the steady, ", over(p.Span))), words("a true cylinder"), true)
	}
}
