package plan

import (
	"encoding/json"
	"slices"

	"setover/setup/base/say"
	"setover/setup/page/sheet"
	"setover/setup/plan/order"
	"setover/setup/plan/rules"
)

// Broken is a rule that moving an operation earlier would break: the operation
// N it would have to pass.
type Broken struct {
	N      int      `json:"n" show:"n"`
	Name   say.Text `json:"name" show:"operation"`
	Code   string   `json:"code" show:"rule"`
	Reason string   `json:"reason" show:"since"`
}

// Why says what stands against doing an operation earlier: the rules it would
// break, the earliest place they leave it, and what that place would cost; and what the
// next best ways to hold the work, and the other methods of what it makes, come to.
type Why struct {
	N        int      `json:"n"`
	Name     say.Text `json:"name"`
	Breaks   []Broken `json:"breaks"`
	Earliest int      `json:"earliest" show:"earliest place" note:"that breaks no rule"`
	Setups   int      `json:"more_setups" show:"set-ups more there"`
	Regrips  int      `json:"more_regrips" show:"regrips more there"`
	Tools    int      `json:"more_tool_changes" show:"tool changes more there"`
	There    say.Text `json:"there" show:"done there"`

	Instead []Instead `json:"instead"`
	sheet.Remarks

	hash string
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (w Why) PartHash() string { return w.hash }

// Why returns what moving operation n of the plan earlier would break. n runs
// from 1 to the number of operations.
func (r Result) Why(n int) (Why, error) {
	w, err := r.earlier(n)
	if err != nil {
		return Why{}, err
	}
	w.Instead = orEmpty(r.instead(n))
	return w, nil
}

// earlier is Why without what could be done instead.
func (r Result) earlier(n int) (Why, error) {
	if err := r.checkStep("why", n); err != nil {
		return Why{}, err
	}
	i, d := n-1, r.found
	w := Why{N: n, Name: r.Operations[i].Name, Breaks: []Broken{}, Earliest: 1, hash: r.Inputs.Part.Hash}
	for k := range i {
		for _, b := range d.bonds(k, i) {
			w.Breaks = append(w.Breaks, Broken{k + 1, r.Operations[k].Name, b.Code, b.Reason})
			w.Earliest = k + 2
		}
	}
	moved := slices.Delete(slices.Clone(d.sequence), i, i+1)
	moved = slices.Insert(moved, w.Earliest-1, d.sequence[i])
	was, is := d.job.CostOf(d.sequence), d.job.CostOf(moved)
	w.Setups, w.Regrips, w.Tools = is.Setups-was.Setups, is.Losses-was.Losses, is.Tools-was.Tools
	if w.Earliest < n {
		w.There = d.movedTo(moved).against(was, is)
	}
	return w, nil
}

// movedTo is the attempt in another order, walked through again.
func (d *attempt) movedTo(sequence []int) *attempt {
	e := *d
	e.steps, e.sequence = d.task.make(), sequence
	e.walk()
	return &e
}

// against says what stands against an order that keeps the rules: that something could not be
// done so, what it costs more, or nothing.
func (d *attempt) against(was, is order.Cost) say.Text {
	var r Result
	if r.fill(d); len(r.Refused) > 0 {
		return say.Of("it could not be: ", r.Refused[0].plainly(d))
	}
	if was.Less(is) {
		return "it could be, and costs more"
	}
	return "it could as well be: of orders that come to the same one is taken"
}

// Sheet implements sheet.Result.
func (w Why) Sheet() sheet.Sheet {
	s := sheet.Of(&w, "Why step ", w.N, ", ", w.Name, ", is not earlier")
	if w.Earliest >= w.N {
		s.Skip(&w.Setups, &w.Regrips, &w.Tools, &w.There)
	}
	s.Figures()
	if len(w.Breaks) == 0 {
		s.Note("No rule stands against doing it first.")
	} else {
		s.Table(w.together(), "Before it must come")
	}
	if len(w.Instead) > 0 {
		s.Table(w.Instead, "What was turned down")
	}
	return *s
}

// broken is a rule of a page with all the operations that it ties to, each of which is told alone
// in JSON.
type broken struct {
	N      say.Text `json:"n" show:"n"`
	Name   say.Text `json:"name" show:"operation"`
	Code   string   `json:"code" show:"rule"`
	Reason string   `json:"reason" show:"since"`
}

// together returns the rules that would be broken, each once with the steps that must come first.
func (w Why) together() []broken {
	var list []broken
	count := map[int]int64{}
	for _, b := range w.Breaks {
		i := slices.IndexFunc(list, func(x broken) bool { return x.Code == b.Code && x.Reason == b.Reason })
		if i < 0 {
			count[len(list)] = 1
			list = append(list, broken{say.Of(b.N), b.Name, b.Code, b.Reason})
			continue
		}
		count[i]++
		list[i].N = say.Of(list[i].N, ", ", b.N)
		list[i].Name = say.Count(count[i], "step", "steps")
	}
	return list
}

// Bond is what ties an operation to its neighbour in the order of work,
// operation N: rules.
type Bond struct {
	N     int
	Rules []rules.Rule
}

// Because is why an operation stands where it does: the bonds to the one before
// it and to the one after. Where there is none it is free, and Shares a set-up
// with a neighbour or not.
type Because struct {
	After, Before Bond
	Shares        bool
}

// because returns why the operation at the nth place, from 0, stands there.
func (d *attempt) because(n int) Because {
	var b Because
	shares := func(m int) bool { return d.ops[d.sequence[n]].Setup == d.ops[d.sequence[m]].Setup }
	if n > 0 {
		b.After = Bond{n, d.bonds(n-1, n)}
		b.Shares = shares(n - 1)
	}
	if n+1 < len(d.sequence) {
		b.Before = Bond{n + 2, d.bonds(n, n+1)}
		b.Shares = b.Shares || shares(n+1)
	}
	return b
}

// bonds returns the rules that keep the operation at one place before that at
// another.
func (d *attempt) bonds(first, second int) []rules.Rule {
	var list []rules.Rule
	for _, p := range d.pairs {
		known := slices.ContainsFunc(list, func(r rules.Rule) bool { return r.Code == p.Code })
		if !known && p.A == d.sequence[first] && p.B == d.sequence[second] {
			list = append(list, p.Rule)
		}
	}
	return list
}

// names reports whether a rule is one of the reasons.
func (b Because) names(code string) bool {
	is := func(r rules.Rule) bool { return r.Code == code }
	return slices.ContainsFunc(b.After.Rules, is) || slices.ContainsFunc(b.Before.Rules, is)
}

// Words implements say.Quantity with the rules' codes: "after 3 rough-finish,
// before 5 grip-surface".
func (b Because) Words() (mm, inch string) {
	return b.worded(" ", " ", ", ", "free", func(r rules.Rule) say.Text { return say.Of(r.Code) }).Words()
}

// Say returns the reasons in full.
func (b Because) Say() say.Text {
	free := say.Text("no rule ties it to its neighbours: no other place costs fewer set-ups")
	if b.Shares {
		free = "no rule ties it to its neighbours: placed here to save a set-up"
	}
	return b.worded(": ", ", ", "; ", free, func(r rules.Rule) say.Text { return say.Of(r.Reason, " (", r.Code, ")") })
}

// worded words the bonds, with what stands between a neighbour and its rules,
// between rules, and between neighbours.
func (b Because) worded(colon, comma, semicolon string, free say.Text, word func(rules.Rule) say.Text) say.Text {
	var list []say.Text
	side := func(where string, bond Bond) {
		var words []say.Text
		for _, r := range bond.Rules {
			words = append(words, word(r))
		}
		if len(words) > 0 {
			list = append(list, say.Of(where, bond.N, colon, say.Join(words, comma)))
		}
	}
	side("after ", b.After)
	side("before ", b.Before)
	if len(list) == 0 {
		return free
	}
	return say.Join(list, semicolon)
}

// MarshalJSON writes each rule and the operation it ties this one to; none where
// it is free.
func (b Because) MarshalJSON() ([]byte, error) {
	type tie struct {
		Rule string `json:"rule"`
		With int    `json:"with"`
	}
	list := []tie{}
	for _, bond := range []Bond{b.After, b.Before} {
		for _, r := range bond.Rules {
			list = append(list, tie{r.Code, bond.N})
		}
	}
	return json.Marshal(list)
}
