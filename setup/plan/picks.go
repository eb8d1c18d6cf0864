package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/plan/op"
)

// picks says by which method each feature is made: of those that its planner offers
// the first, which is the least trouble, where nothing else is written. It is a value,
// so that two ways can be compared.
type picks [maxPicks]uint8

// maxPicks is how many features of a part may have a choice of methods; those beyond
// are made by the first of theirs.
const maxPicks = 48

// offer is a choice that a planner had: the methods of a feature, which was taken, and
// what came of it.
type offer struct {
	feature string
	methods int
	ops     []*op.Op
	lacks   bool // something is wanting that this method needs

	because []say.Text // what trouble each method is, "" where none but what it costs
}

// trouble says what trouble a method of a feature is that the one that was taken is not, ""
// where it is less.
func (x offer) trouble(method, taken int) say.Text {
	taken = min(taken, len(x.because)-1)
	if method < taken || x.because[method] == x.because[taken] {
		return ""
	}
	return x.because[method]
}

// method returns which of a feature's methods the way takes, from 0. The planner
// offers them in order of the trouble they are.
func (t *task) method(feature string, methods int) int {
	if i, ok := t.choiceOf(feature); ok {
		how := t.how[i]
		if m, is := t.pinned[i]; is {
			how = m
		}
		return min(int(how), methods-1)
	}
	return 0
}

// choiceOf returns the place of a feature's choice, the same in every way.
func (j *job) choiceOf(feature string) (place int, ok bool) {
	place = slices.Index(j.choices, feature)
	if place < 0 && len(j.choices) < maxPicks {
		place, j.choices = len(j.choices), append(j.choices, feature)
	}
	return place, place >= 0
}

// offering notes that what was planned of a feature could be done by several methods, of
// which each says what trouble it is.
func (w steps) offering(feature string, because ...say.Text) steps {
	if len(because) > 1 {
		w.offers = append(w.offers, offer{feature, len(because), slices.Clone(w.ops), len(w.no) > 0, because})
	}
	return w
}

// others returns the ways in which a feature that fails is made by another of its
// methods, one that is more trouble, and that in which all that fail are made by their next.
func (w way) others(d *attempt) []way {
	var list []way
	all, fail := w, 0
	for _, x := range d.offers {
		i, ok := d.choiceOf(x.feature)
		_, pinned := d.pinned[i]
		fails := x.lacks || slices.ContainsFunc(x.ops, failed)
		if !ok || pinned || !fails || int(w.how[i])+1 >= x.methods {
			continue
		}
		for n := int(w.how[i]) + 1; n < x.methods; n++ {
			next := w
			next.how[i] = uint8(n)
			list = append(list, next)
		}
		fail++
		all.how[i]++
	}
	if fail > 1 {
		list = append(list, all)
	}
	return list
}

// failed reports whether a check of an operation fails, or a size that it leaves is
// beyond its limits.
func failed(o *op.Op) bool {
	if slices.ContainsFunc(o.Checks, func(c op.Check) bool { return !c.OK && c.Code != problem.Complete }) {
		return true
	}
	return slices.ContainsFunc(o.Predicted, func(p op.Predicted) bool { return !p.OK() })
}
