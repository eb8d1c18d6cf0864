package part

import (
	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// Chamfer is a cone of 45 deg at an edge of the outside, in the end or at the
// shoulder at Z. Size is how far it runs along the bar, and how deep it cuts
// into the radius.
type Chamfer struct {
	Z, Size units.Length
	At      problem.Pos
}

func (c Chamfer) check(r Round, before []Chamfer) (l list) {
	if !l.within("at", c.Z, r.Length()) {
		return l
	}
	for _, o := range before {
		l.Refuse(o.Z.Equal(c.Z), problem.Duplicate, "at", c.Z, "has a chamfer on line ", o.At.Line, " already")
	}
	left, right := r.sides(c.Z)
	if left.Equal(right) {
		l.cannot(true, "at", c.Z, "no edge there: a chamfer is at an end or at a shoulder")
		return l
	}
	deep, toLeft := c.Size.Times(2), right.Less(left)
	switch room := r.room(c.Z, toLeft); {
	case room.Less(c.Size):
		l.cannot(true, "size", c.Size, "longer than what it is on, which is ", room, " long")
	case r.steep(c, toLeft):
		l.cannot(true, "at", c.Z, "the side rises from there by 45 deg or more: no chamfer meets it")
	}
	if small := units.Min(left, right); small.Sign() > 0 {
		step := units.Max(left, right).Minus(small).Half()
		l.cannot(step.Less(c.Size), "size", c.Size, "larger than the shoulder is high, ", step)
		return l
	}
	left = units.Max(left, right)
	l.cannot(left.Cmp(deep) <= 0, "size", c.Size, "leaves nothing of the end, which is ", left, " in diameter")
	for _, b := range r.Bores {
		opens := b.Through || (b.From == Left) == (c.Z.Sign() == 0)
		l.cannot(opens && deep.Less(left) && left.Minus(deep).Less(b.Dia), "size", c.Size,
			"runs into the bore of ", b.Dia, " on line ", b.At.Line)
	}
	return l
}

// steep reports whether the outside rises by 45 deg or more over the length of a chamfer, to the left of
// its edge or to the right.
func (r Round) steep(c Chamfer, toLeft bool) bool {
	before, edge := r.sides(c.Z)
	far, _ := r.sides(c.Z.Plus(c.Size))
	if toLeft {
		edge = before
		_, far = r.sides(c.Z.Minus(c.Size))
	}
	return c.Size.Sign() > 0 && edge.Plus(c.Size.Times(2)).Cmp(far) <= 0
}

// sides returns the profile's diameters to the left and to the right of z, 0
// beyond the part.
func (r Round) sides(z units.Length) (left, right units.Length) {
	for i, s := range r.Profile[1:] {
		p := r.Profile[i]
		if p.Z.Less(z) && z.Cmp(s.Z) <= 0 {
			left = p.Toward(s, z)
		}
		if p.Z.Cmp(z) <= 0 && z.Less(s.Z) {
			right = p.Toward(s, z)
		}
	}
	return left, right
}

// room returns how far the outside goes on from z, to the left or to the right,
// before a shoulder or an end.
func (r Round) room(z units.Length, toLeft bool) units.Length {
	far := r.Length()
	if toLeft {
		far = units.Length{}
	}
	for i, s := range r.Profile[1:] {
		p := r.Profile[i]
		switch shoulder := p.Z.Equal(s.Z); {
		case !shoulder:
		case toLeft && p.Z.Less(z):
			far = units.Max(far, p.Z)
		case !toLeft && z.Less(p.Z):
			far = units.Min(far, p.Z)
		}
	}
	return far.Minus(z).Abs()
}

// largestOver returns the profile's largest diameter between two z.
func (r Round) largestOver(from, to units.Length) units.Length {
	_, a := r.sides(from)
	b, _ := r.sides(to)
	d := units.Max(a, b)
	for _, s := range r.Profile {
		if from.Less(s.Z) && s.Z.Less(to) {
			d = units.Max(d, s.Dia)
		}
	}
	return d
}

// Hollow reports whether there is a bore of a diameter or more all along the
// part.
func (r Round) Hollow(dia units.Length) bool {
	if dia.Sign() == 0 {
		return true
	}
	var left, right units.Length
	for _, b := range r.Bores {
		switch {
		case b.Dia.Less(dia):
		case b.Through:
			return true
		case b.From == Right:
			right = units.Max(right, b.Depth)
		default:
			left = units.Max(left, b.Depth)
		}
	}
	return r.Length().Cmp(left.Plus(right)) <= 0
}
