package part

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// General is the class of ISO 2768-1 for every size without limits of its own.
type General string

// The classes.
const (
	Fine   General = "fine"
	Medium General = "medium"
	Coarse General = "coarse"
)

// Tolerance is by how much a size may differ from what is drawn: a fit, or both
// deviations from it.
type Tolerance struct {
	Fit          string        // h6 or H7, as text; "" where the deviations are written
	Upper, Lower *units.Length // signed; both or neither
	At           problem.Pos
}

// Limit is how well something of the outside is kept, in one of four ways:
//
//   - Z with Tol: the diameter drawn there;
//   - From, To with Tol: the length between;
//   - From, To with Angle: the half angle of the taper between, plus or minus;
//   - From, To with Gauge: that taper is a named one, such as MT2.
type Limit struct {
	Z        *units.Length
	From, To *units.Length
	Tol      *Tolerance
	Angle    *units.Angle
	Gauge    string
	At       problem.Pos
}

// tolerance refuses a lower deviation that leaves nothing of a size.
func (l *list) tolerance(t *Tolerance, size units.Length) {
	if t != nil && t.Lower != nil && size.Plus(*t.Lower).Sign() <= 0 {
		l.cannot(true, "tol", t.Lower, "takes all of ", size, " away")
	}
}

func (x Limit) check(r Round, before []Limit) (l list) {
	if x.Z != nil {
		x.checkDiameter(r, before, &l)
		return l
	}
	if x.From == nil || x.To == nil || !l.span(*x.From, *x.To, r.Length()) {
		return l
	}
	for _, o := range before {
		same := o.From != nil && o.From.Equal(*x.From) && o.To.Equal(*x.To) && (o.Tol == nil) == (x.Tol == nil) &&
			(o.Gauge == "") == (x.Gauge == "")
		l.Refuse(same, problem.Duplicate, "from", between(*x.From, *x.To), "is limited on line ", o.At.Line, " already")
	}
	if x.Tol == nil {
		l.cannot(!r.tapers(*x.From, *x.To), "from", between(*x.From, *x.To),
			"is not one taper: an angle is that of one straight slope of the profile")
		return l
	}
	l.tolerance(x.Tol, x.To.Minus(*x.From))
	l.drawn(r, "from", *x.From)
	l.drawn(r, "to", *x.To)
	return l
}

// drawn refuses a place of a length at which nothing is drawn.
func (l *list) drawn(r Round, key string, z units.Length) {
	l.cannot(!r.drawn(z), key, z,
		"nothing is drawn there: a length runs from an end, a point of the profile or a feature to another one")
}

// checkDiameter checks the limit of a diameter, which is one at its z.
func (x Limit) checkDiameter(r Round, before []Limit, l *list) {
	if !l.within("at", *x.Z, r.Length()) {
		return
	}
	for i, s := range r.Profile[1:] {
		p := r.Profile[i]
		two := s.Z.Equal(*x.Z) && p.Z.Equal(*x.Z)
		l.Refuse(two, problem.Contradiction, "at", x.Z, "two diameters are drawn there, ", p.Dia, " and ", s.Dia,
			": write a z beside the shoulder")
	}
	for _, o := range before {
		same := o.Z != nil && o.Z.Equal(*x.Z)
		l.Refuse(same, problem.Duplicate, "at", x.Z, "is limited on line ", o.At.Line, " already")
	}
	l.tolerance(x.Tol, r.DiaAt(*x.Z))
}

// tapers reports whether one straight slope of the profile covers two z.
func (r Round) tapers(from, to units.Length) bool {
	for i, s := range r.Profile[1:] {
		p := r.Profile[i]
		if p.Z.Cmp(from) > 0 || s.Z.Less(to) {
			continue
		}
		curved := slices.ContainsFunc(r.Arcs, func(a Arc) bool { return a.From.Equal(p.Z) && a.To.Equal(s.Z) })
		return !curved && !s.Dia.Equal(p.Dia)
	}
	return false
}

// drawn reports whether something begins, ends or stands at z.
func (r Round) drawn(z units.Length) bool {
	var places []units.Length
	add := func(list ...units.Length) { places = append(places, list...) }
	for _, s := range r.Profile {
		add(s.Z)
	}
	for _, f := range r.Facets {
		add(f.From, f.To)
	}
	for _, h := range r.Holes {
		add(h.Z)
	}
	for _, s := range r.Slots {
		add(s.Z, s.Z.Minus(s.Length.Half()), s.Z.Plus(s.Length.Half()))
	}
	inward := func(from End, deep units.Length) {
		if from == Right {
			deep = r.Length().Minus(deep)
		}
		add(deep)
	}
	for _, b := range r.Bores {
		inward(b.From, b.Depth)
	}
	for _, t := range r.Threads {
		inward(t.From, t.Length)
	}
	for _, w := range r.Rows { // its holes are not worked out here
		_, last := w.last(max(len(w.Dias), w.Count))
		if w.From.Cmp(z) <= 0 && z.Cmp(last) <= 0 {
			return true
		}
	}
	return slices.ContainsFunc(places, z.Equal)
}
