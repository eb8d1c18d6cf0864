package plan

import (
	"encoding/json"
	"slices"

	"setover/setup/base/say"
	"setover/setup/plan/rules"
)

// Bond is a rule that ties an operation to its neighbour in the order of work,
// operation N.
type Bond struct {
	N            int
	Code, Reason string
}

// Because is why an operation stands where it does: the bonds to the one before
// it and to the one after. Where there is none it is free, and Shares a set-up
// with a neighbour or not.
type Because struct {
	After, Before []Bond
	Shares        bool
}

// because returns why the operation at the nth place, from 0, stands there.
func (d *draft) because(n int) Because {
	var b Because
	shares := func(m int) bool { return d.ops[d.sequence[n]].Setup == d.ops[d.sequence[m]].Setup }
	if n > 0 {
		b.After = d.bonds(n-1, n, n-1)
		b.Shares = shares(n - 1)
	}
	if n+1 < len(d.sequence) {
		b.Before = d.bonds(n, n+1, n+1)
		b.Shares = b.Shares || shares(n+1)
	}
	return b
}

// bonds returns what binds the operations at two places, told of the one at
// other.
func (d *draft) bonds(first, second, other int) []Bond {
	var list []Bond
	for _, p := range d.binding(first, second) {
		if b := (Bond{other + 1, p.Code, p.Reason}); !slices.Contains(list, b) {
			list = append(list, b)
		}
	}
	return list
}

// binding returns the pairs that keep the operation at one place before that at
// another.
func (d *draft) binding(first, second int) []rules.Before {
	var list []rules.Before
	for _, p := range d.pairs {
		if p.A == d.sequence[first] && p.B == d.sequence[second] {
			list = append(list, p)
		}
	}
	return list
}

// names reports whether a rule is one of the reasons.
func (b Because) names(code string) bool {
	is := func(x Bond) bool { return x.Code == code }
	return slices.ContainsFunc(b.After, is) || slices.ContainsFunc(b.Before, is)
}

// Words implements say.Quantity with the rules' codes: "after 3 rough-finish,
// before 5 hold-last".
func (b Because) Words() (mm, inch string) {
	return b.worded(" ", " ", ", ", "free", func(x Bond) say.Text { return say.Of(x.Code) }).Words()
}

// Say returns the reasons in full.
func (b Because) Say() say.Text {
	free := say.Text("no rule ties it to its neighbours: no other place costs fewer set-ups")
	if b.Shares {
		free = "no rule ties it to its neighbours: placed here to save a set-up"
	}
	return b.worded(": ", ", ", "; ", free, func(x Bond) say.Text { return say.Of(x.Reason, " (", x.Code, ")") })
}

// worded words the bonds, with what stands between a neighbour and its rules,
// between rules, and between neighbours.
func (b Because) worded(colon, comma, semicolon string, free say.Text, word func(Bond) say.Text) say.Text {
	var list []say.Text
	side := func(where string, bonds []Bond) {
		if len(bonds) == 0 {
			return
		}
		words := make([]say.Text, len(bonds))
		for i, x := range bonds {
			words[i] = word(x)
		}
		list = append(list, say.Of(where, bonds[0].N, colon, say.Join(words, comma)))
	}
	side("after ", b.After)
	side("before ", b.Before)
	if len(list) == 0 {
		return free
	}
	return say.Join(list, semicolon)
}

// MarshalJSON writes the reasons in full.
func (b Because) MarshalJSON() ([]byte, error) { return json.Marshal(b.Say()) }
