package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/shop"
)

// chosen returns the cheapest attempt from the bar: the one that the part names; else the
// smallest on hand that serves; and where none does the smallest that is sold.
func (j *job) chosen() (best *attempt, rings problem.List, err error) {
	for _, bar := range j.bars() {
		k, err := j.from(bar)
		if err != nil {
			return nil, nil, err
		}
		k.most = j.most
		best, _, err := k.cheapest()
		if j.looked += k.looked; err != nil {
			return nil, nil, err
		}
		if best != nil && best.passes() && (bar.Length == nil || best.blank.Bar.Cmp(*bar.Length) <= 0) {
			return best, nil, nil
		}
	}
	return j.cheapest()
}

// bars returns the bars in the shop that the part could be turned from, the thinnest
// through their corners first, and of two alike the shorter, where it is said: of its
// material, thick enough to clean up or with flats that are the part's own, no shorter than
// the part, and no tube where the part is solid. There is none where the part says what it
// is made from.
func (j *job) bars() []shop.Bar {
	if j.round == nil || j.round.Stock != nil {
		return nil
	}
	var list []shop.Bar
	skim, _ := j.barFigures()
	least := j.shape.Largest().Plus(skim)
	for _, b := range j.Shop.Stock {
		thin := b.Round().Less(least) && !j.hasFlatsOf(b)
		brief := b.Length != nil && b.Length.Less(j.shape.Length)
		if b.Material == j.material.Name && !thin && !brief && j.round.Hollow(b.Bore) {
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(a, b shop.Bar) int {
		n := a.Swing().Cmp(b.Swing())
		switch {
		case n != 0 || a.Length == nil && b.Length == nil:
			return n
		case a.Length == nil:
			return 1
		case b.Length == nil:
			return -1
		}
		return a.Length.Cmp(*b.Length)
	})
	return list
}

// hasFlatsOf reports whether flats of the part are those of a bar as it is bought, and what
// is turned of it is thinner by enough to clean up.
func (j *job) hasFlatsOf(bar shop.Bar) bool {
	if bar.Sides() == 0 {
		return false
	}
	k, err := j.from(bar)
	if err != nil {
		return false
	}
	skim, _ := j.barFigures()
	t := task{job: k}
	return slices.ContainsFunc(k.shape.Facets, k.ownFlats) && !bar.Round().Less(t.least().Plus(skim))
}

// from returns the job of making the part from a bar.
func (j *job) from(bar shop.Bar) (*job, error) {
	in, p, round := j.Input, *j.Part, *j.round
	round.Stock, p.Round, in.Part = &bar.Stock, &round, &p
	k, err := newJob(in)
	if err != nil {
		return nil, err
	}
	k.rack = &bar
	return k, nil
}

// ofRack says which of the bars on hand it is.
func (j *job) ofRack() say.Text {
	t := say.Of("the smallest bar on hand that serves (stock): ", j.rack.Stock)
	if l := j.rack.Length; l != nil {
		t += say.Of(", ", *l, " long")
	}
	return t
}
