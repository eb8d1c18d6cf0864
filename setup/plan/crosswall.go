package plan

import (
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
	"setover/setup/plan/walls"
)

// thinWall is the thinnest wall of a hole, those that are meant to be open left
// out.
type thinWall struct {
	n    int
	what walls.Wall
	is   units.Length
}

// crossWalls checks the wall of every cross hole, in the finished part and
// while the bar is still round, and returns the thinnest of each.
func crossWalls(t *task) (work, []thinWall) {
	var w work
	if t.bar.Less(t.round.Largest()) {
		return w, nil
	}
	finished, err := walls.Check(walls.Input{Name: t.Part.Name, Part: t.Part})
	drilling, also := walls.Check(walls.Input{Name: t.Part.Name, Part: t.Part, Bar: &t.bar})
	if w.wrong.Add(err); err == nil {
		w.wrong.Add(also)
	}
	w.no, w.warnings = append(w.no, finished.Fails()...), finished.Warnings
	for _, f := range drilling.Fails() {
		if !slices.ContainsFunc(finished.Fails(), func(g problem.Problem) bool { return sameWall(f, g) }) {
			f.Want = string(say.Of("while the bar is still ", t.bar, ": ", say.Text(f.Want)))
			w.no.Add(f)
		}
	}
	var list []thinWall
	for _, h := range finished.Holes {
		thin := thinWall{h.N, walls.Side, h.Side}
		look := func(what walls.Wall, l *units.Length) {
			if l != nil && l.Sign() > 0 && l.Less(thin.is) {
				thin = thinWall{h.N, what, *l}
			}
		}
		look(walls.End, &h.End)
		look(walls.Next, h.Next)
		look(walls.Bore, h.Bore)
		look(walls.Mouth, h.Mouth)
		list = append(list, thin)
	}
	return w, list
}

// sameWall reports whether two problems are about one wall of one hole.
func sameWall(f, g problem.Problem) bool {
	a, _, _ := strings.Cut(f.Want, " is ")
	b, _, _ := strings.Cut(g.Want, " is ")
	return f.Found == g.Found && a == b && f.At == g.At
}

// thinnest puts the thinnest wall of the holes on the card that starts them.
func (r rolled) thinnest(o *op.Op, list []thinWall) {
	if len(list) == 0 {
		return
	}
	thin := list[r.holes[0].N-1]
	for _, h := range r.holes[1:] {
		if w := list[h.N-1]; w.is.Less(thin.is) {
			thin = w
		}
	}
	least := walls.Least(r.round.MinWall, r.material, r.holes[0].Dia)
	o.Set("thinnest wall", thin.is.Down(), string(thin.what), " of hole ", thin.n, "; at least ", least,
		" wanted; all of them: setover holes wall")
}
