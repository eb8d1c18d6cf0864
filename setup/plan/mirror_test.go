package plan

import (
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// mirror returns the part drawn from the other end.
func mirror(p *part.Part) *part.Part {
	r := *p.Round
	l := r.Length()
	flip := func(z units.Length) units.Length { return l.Minus(z) }
	end := func(e part.End) part.End { return other(e) }
	m := r
	m.Profile, m.Facets, m.Arcs, m.Bores, m.Threads, m.Holes, m.Rows, m.Slots = nil, nil, nil, nil, nil, nil, nil, nil
	for i := len(r.Profile) - 1; i >= 0; i-- {
		s := r.Profile[i]
		s.Z = flip(s.Z)
		m.Profile = append(m.Profile, s)
	}
	for _, f := range r.Facets {
		f.From, f.To = flip(f.To), flip(f.From)
		m.Facets = append(m.Facets, f)
	}
	for _, a := range r.Arcs {
		a.From, a.To = flip(a.To), flip(a.From)
		m.Arcs = append(m.Arcs, a)
	}
	for _, b := range r.Bores {
		b.From = end(b.From)
		m.Bores = append(m.Bores, b)
	}
	for _, t := range r.Threads {
		t.From = end(t.From)
		m.Threads = append(m.Threads, t)
	}
	for _, h := range r.Holes {
		h.Z = flip(h.Z)
		m.Holes = append(m.Holes, h)
	}
	for _, w := range r.Rows {
		// The last hole of the row becomes the first.
		span := units.Length{}
		for i := range w.Dias[1:] {
			span = span.Plus(w.Dias[i].Plus(w.Dias[i+1]).Half()).Plus(*w.Web)
		}
		w.From = flip(w.From.Plus(span))
		dias := make([]units.Length, len(w.Dias))
		for i, d := range w.Dias {
			dias[len(dias)-1-i] = d
		}
		w.Dias = dias
		m.Rows = append(m.Rows, w)
	}
	out := *p
	out.Round = &m
	return &out
}
