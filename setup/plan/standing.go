package plan

import (
	"slices"

	"setover/setup/base/problem"
)

// nay is what says no to an attempt, told apart by its code and by what it is about: a feature,
// or a step that makes none.
type nay struct {
	code problem.Code
	of   string
}

// nays returns what says no to an attempt, each once.
func (d *attempt) nays() []nay {
	var list []nay
	add := func(code problem.Code, of string) {
		if a := (nay{code, of}); !slices.Contains(list, a) {
			list = append(list, a)
		}
	}
	for _, o := range d.ops {
		of := o.ID
		if len(o.Makes) > 0 {
			of = o.Makes[0]
		}
		for _, c := range o.Checks {
			if !c.OK {
				add(c.Code, of)
			}
		}
		for _, p := range o.Predicted {
			if !p.OK() {
				add(problem.OutOfLimits, p.Feature)
			}
		}
	}
	for _, p := range d.no {
		add(p.Code, p.At.Key+" "+string(p.Found))
	}
	return list
}

// pair is two things that say no, the second empty where one alone is meant.
type pair [2]nay

// alone reports whether it is one thing.
func (p pair) alone() bool { return p[1] == nay{} }

// standing is what stood against every attempt so far: of each of its pairs at least one thing said no
// to each of them. What no way mends stays in it: a wall that the drawing leaves too thin, a limit that
// no tool keeps, a taper that fouls one way and springs the other.
type standing struct {
	looked int
	pairs  []pair
	begun  bool
}

// aloneAfter and pairAfter are after how many attempts what stood against all of them, one thing or
// one of two, is taken to stand against every other. Of 1600 plans in six shops the last in which one
// thing said no to all that were looked into before had 48 of these, and of those that passed later
// none had two things after 147.
//
// Common practice, no source: counted over parts that were drawn at random.
const (
	aloneAfter = 80
	pairAfter  = 160
	againLeast = 25 // where it is known of the same part with one thing changed
)

// meets takes an attempt into account that does not pass.
func (s *standing) meets(list []nay) {
	s.looked++
	if !s.begun {
		s.begun = true
		for _, a := range list {
			s.pairs = append(s.pairs, pair{a})
		}
		return
	}
	var next []pair
	for _, p := range s.pairs {
		switch {
		case slices.Contains(list, p[0]) || !p.alone() && slices.Contains(list, p[1]):
			next = append(next, p)
		case p.alone():
			for _, a := range list {
				next = append(next, pair{p[0], a})
			}
		}
	}
	s.pairs = next
}

// hopeless reports whether nothing more is hoped for.
func (s *standing) hopeless() bool {
	return s.looked >= aloneAfter && slices.ContainsFunc(s.pairs, pair.alone) || s.looked >= pairAfter && len(s.pairs) > 0
}

// again returns what is known of the same part with one thing changed, before an attempt: what stood
// against all is taken to stand there too unless one of the first does without.
func (s *standing) again() standing {
	if !s.hopeless() {
		return standing{}
	}
	next := standing{looked: pairAfter - againLeast, pairs: s.pairs, begun: true}
	if alone := slices.DeleteFunc(slices.Clone(s.pairs), func(p pair) bool { return !p.alone() }); len(alone) > 0 {
		next.looked, next.pairs = aloneAfter-againLeast, alone
	}
	return next
}
