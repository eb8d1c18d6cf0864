package plan

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/plan/judge"
)

// instances are parts and shops whose plans turn something down of every kind.
var instances = []struct{ part, shop string }{
	{"named/p01-lever-shorter", "shop-small"},     // reamed though it need not be, filed tapers, other holds
	{"named/p07-hexstandoff", "shop-big"},         // a collet block, a head, a table and a cradle
	{"named/p28-threadboth-long", "shop-small"},   // a collet saves what the chuck loses
	{"named/p09-mt2centre", "shop-nomill"},        // an end that is filed
	{"random/073-bush", "shop-small"},             // bored from both ends
	{"named/p12-bushing", "shop-big"},             // reamed or bored
	{"random/131-handle", "shop-small"},           // a collet in the place of the chuck
	{"random/033-bush", "shop-inch"},              // on an arbor
	{"named/p04-spindle2taper", "shop-inch"},      // two tapers
	{"named/p02-reversed-knob", "shop-latheonly"}, // what it lacks stands against all
	{"random/134-handle", "shop-big"},             // flats
	{"random/130-handle", "shop-nomill"},          // halves
}

// What was turned down is told truly, of every step: each is forced and planned again, by a
// search eight times as long, and judged. What passes can be cut as it is told, costs what is
// told to the minute and the tool change, and no less is found; what fails is not found to
// pass. The plan itself is not among it, and nothing is told twice or without a reason.
func TestInsteadIsTrue(t *testing.T) {
	list := instances
	if os.Getenv("SETOVER_SLOW") == "" {
		list = list[:3]
	}
	for _, x := range list {
		name := filepath.Join("judge", "testdata", "parts", x.part+".yaml")
		shopName := filepath.Join("judge", "testdata", "parts", "shops", x.shop+".yaml")
		text := readFile(t, name)
		s, _, err := files.ReadShop(shopName, readFile(t, shopName))
		if err != nil {
			t.Fatal(err)
		}
		r := make1(t, read(t, string(text)), s)
		proof := map[string]bool{}
		for n := range r.Operations {
			told := map[string]bool{}
			for _, y := range r.instead(n + 1) {
				what := y.What.In(units.MM)
				switch {
				case told[what]:
					t.Errorf("%s, step %d: %q is told twice", x.part, n+1, what)
				case y.No == cheaper && !strings.Contains(what, "(chuck)"): // a hold, and no method
					t.Errorf("%s, step %d: %q comes to less and is not taken", x.part, n+1, what)
				case y.No == "":
					t.Errorf("%s, step %d: %q has no reason", x.part, n+1, what)
				case y.is.same(r.found):
					t.Errorf("%s, step %d: %q is the plan", x.part, n+1, what)
				}
				if told[what] = true; !proof[what] {
					proof[what] = true
					r.forced(t, y, tree(t, text), tree(t, readFile(t, shopName)))
				}
			}
		}
	}
}

func tree(t *testing.T, text []byte) judge.Tree {
	t.Helper()
	var m judge.Tree
	if err := yaml.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// forced makes a plan of what was turned down, and holds what is told of it against that.
func (r Result) forced(t *testing.T, y Instead, partTree, shopTree judge.Tree) {
	t.Helper()
	j, err := newJob(r.Inputs)
	if err != nil {
		t.Fatal(err)
	}
	is := Result{Inputs: r.Inputs, Quantity: r.Quantity, Material: r.Material}
	is.fill(y.is)
	if fails := y.Setups == nil; fails != (len(is.Refused) > 0 || !y.is.passes()) {
		t.Errorf("%s is told to fail %v", y.What, fails)
	} else if !fails {
		body, err := json.Marshal(is)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range judge.Judge(0, body, partTree, shopTree) {
			t.Errorf("%s: %s", y.What, f)
		}
		a, b := is.Totals, r.Totals
		got := [3]int{a.Setups - b.Setups, a.Regrips - b.Regrips, a.ToolChange - b.ToolChange}
		if want := [3]int{*y.Setups, *y.Regrips, *y.Tools}; got != want || a.Minutes-b.Minutes != *y.Minutes {
			t.Errorf("%s: %v and %v min more are told, and it is %v and %v", y.What, want, *y.Minutes, got, a.Minutes-b.Minutes)
		}
	}
	j.choices, j.pinned = slices.Clone(y.is.choices), y.is.pinned
	s := newSearch(j, maxTries)
	var list []way
	lies := y.is.heldBy() == r.found.heldBy() && y.is.liesSo() != r.found.liesSo() // it is held alike, and lies otherwise
	for _, w := range slices.Concat(j.ways(), j.indexWays(), j.lastResorts()) {
		if w.heldBy() == y.is.heldBy() && (lies && w.liesSo() == y.is.liesSo() || !lies && w.indexed == "") {
			w.how = y.is.how
			list = append(list, w)
		}
	}
	if err := s.from(list); err != nil {
		t.Fatal(err)
	}
	e := s.best
	switch {
	case e == nil || !e.passes() || e.heldBy() != y.is.heldBy():
	case y.Setups == nil:
		t.Errorf("%s fails, it is told, %s; and it passes with %+v", y.What, y.No, e.way)
	case held(e.cost).Less(held(y.is.cost)):
		t.Errorf("%s costs %+v, it is told, and %+v costs %+v", y.What, y.is.cost, e.way, e.cost)
	}
}
