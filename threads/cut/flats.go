package cut

import (
	"math"
	"slices"
	"strings"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
	"setover/threads"
)

// Bar is the section of a flat bar. Which side is the wider does not matter.
type Bar struct {
	Width     units.Length `json:"width_mm"`
	Thickness units.Length `json:"thickness_mm"`
}

// ParseBar reads "12x5" or "1/2inx3/16in": two lengths with an x between them;
// bare numbers have the unit bare. Both are above 0.
func ParseBar(text string, bare units.Unit) (Bar, error) {
	w, t, ok := strings.Cut(strings.ReplaceAll(text, "×", "x"), "x")
	if !ok {
		return Bar{}, problem.New(problem.Malformed, "bar", say.Plain(text),
			"not a flat bar: write width x thickness, such as 12x5 or 1/2inx3/16in")
	}
	var b Bar
	var list check.List
	for _, side := range []struct {
		text string
		dst  *units.Length
	}{{w, &b.Width}, {t, &b.Thickness}} {
		l, err := units.ParseLength(side.text, bare)
		list.Add(err)
		if err == nil {
			list.Above0("bar", l)
		}
		*side.dst = l
	}
	return b, list.Err()
}

// FlatsInput is an outside thread to be cut on the end of a flat bar.
type FlatsInput struct {
	Spec threads.Designation `json:"thread"`
	Bar  Bar                 `json:"bar"`
}

// FileStep is one step of filing a bar round: how many sides it then has, the
// size across the new flats, across their corners, and how far from an edge a
// line is scribed for them: the longest there is, on the bar's wide face, and
// on its narrow one. They are nil for the first step, which is filed to size,
// and where a face has no line.
type FileStep struct {
	Step   string        `json:"step" show:"file to"`
	Sides  int           `json:"sides"`
	Flats  units.Length  `json:"across_flats_mm" show:"across flats"`
	Mark   *units.Length `json:"mark_mm"`
	Wide   *units.Length `json:"mark_wide_mm" show:"scribe wide face"`
	Narrow *units.Length `json:"mark_narrow_mm" show:"narrow face"`
	Corner units.Length  `json:"across_corners_mm" show:"across corners" as:"up"`
}

// FlatsResult says how much of a thread a flat bar holds.
type FlatsResult struct {
	Inputs    FlatsInput   `json:"inputs"`
	Fraction  units.Number `json:"threaded_fraction" show:"of the thread's turn, cut" as:"4"`
	FullRound bool         `json:"full_round" show:"full round" note:"the flats break the crests"`
	RootCut   bool         `json:"root_cut" show:"root cut" note:"the thread stands on its whole root"`
	Largest   *string      `json:"largest_full" show:"largest full thread" note:"on this bar, of the same series"`
	Major     units.Length `json:"major_mm" show:"thread's outside"`
	Root      units.Length `json:"minor_external_mm" show:"thread's root"`
	Steps     []FileStep   `json:"steps"`
	sheet.Remarks
}

// Fraction returns the part of a circle of the diameter d that lies on a bar W
// wide and T thick, centred on it:
//
//	2/π·(asin(min(1, T/d)) - acos(min(1, W/d))), at least 0
//
// d, W and T are above 0. The flats take an arc of 2·acos(T/d) on two sides
// and 2·acos(W/d) on the other two; what is left is the fraction. It is
// float64, good to 1e-15. Source: elementary.
func Fraction(d units.Length, b Bar) float64 {
	t, w := math.Min(1, b.Thickness.Over(d)), math.Min(1, b.Width.Over(d))
	return math.Max(0, 2/math.Pi*(math.Asin(t)-math.Acos(w)))
}

// Flats returns how much of a thread's circumference a flat bar holds, whether
// the root itself is cut by the flats, the largest thread of the same form and
// series that the bar holds all round, and the steps of filing its end round.
// It fails on a side of the bar that is not above 0.
func Flats(in FlatsInput) (FlatsResult, error) {
	var list check.List
	list.Above0("bar", in.Bar.Width)
	list.Above0("bar", in.Bar.Thickness)
	if err := list.Err(); err != nil {
		return FlatsResult{}, err
	}
	thin := units.Min(in.Bar.Width, in.Bar.Thickness)
	sizes := in.Spec.Sizes()
	r := FlatsResult{
		Inputs: in, Fraction: units.Number(Fraction(sizes.Major, in.Bar)),
		FullRound: thin.Cmp(sizes.Major) >= 0, RootCut: thin.Less(sizes.MinorExternal),
		Largest: largest(in.Spec, thin), Major: sizes.Major, Root: sizes.MinorExternal,
		Steps: fileDown(sizes.Major, in.Bar),
	}
	switch {
	case r.Fraction == 0:
		r.Warn("no-thread", "the bar lies wholly inside the thread's circle: there is nothing to cut a thread on")
	case r.RootCut:
		r.Warn("root-cut", "the flats cut the root, ", sizes.MinorExternal, ": the thread stands in strips ",
			"with nothing between them, weaker than its size and rough on a nut")
	case !r.FullRound:
		r.Warn("broken-thread", "the flats break the thread's crests: start the die square, since it has less to follow")
	}
	r.Caution(cautions.Files, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// largest returns the largest standard thread of the same form and series (a
// special one's coarse) that a round of the diameter d holds, or nil.
func largest(like threads.Designation, d units.Length) *string {
	var name *string
	var most units.Length
	if like.Series == "UNS" || like.Series == "UN" {
		like.Series = "UNC"
	}
	for _, t := range threads.All() {
		if t.Form != like.Form || t.Series != like.Series || t.Major.Cmp(d) > 0 {
			continue
		}
		if name == nil || t.Major.Cmp(most) > 0 {
			text := t.String()
			name, most = &text, t.Major
		}
	}
	return name
}

// fileDown returns the steps that bring the end of a bar to a round of the
// diameter d: a square, or as much of one as the bar has, then an octagon and
// sixteen sides, whose flats touch the round. A step that takes nothing off is
// left out, and so are all where the bar lies inside the round.
func fileDown(d units.Length, b Bar) []FileStep {
	w, t := units.Min(units.Max(b.Width, b.Thickness), d), units.Min(units.Min(b.Width, b.Thickness), d)
	x, y := w.Half().MM(), t.Half().MM()
	end := polygon{{X: x, Y: y}, {X: -x, Y: y}, {X: -x, Y: -y}, {X: x, Y: -y}}
	steps := []FileStep{}
	if 2*end.reach() <= d.MM() {
		return steps
	}
	first := "square"
	if t.Less(d) {
		first = "width, the flats stay"
	}
	steps = append(steps, FileStep{Step: first, Sides: 4, Flats: w, Corner: units.FromFloat(2 * end.reach())})
	for _, s := range []FileStep{{Step: "octagon", Sides: 8, Flats: d}, {Step: "sixteen sides", Sides: 16, Flats: d}} {
		n := s.Sides
		for k := 1; k < n; k += 2 {
			var legs []leg
			end, legs = end.flatOff(units.Degrees(360/float64(n)*float64(k)), d.MM()/2)
			for _, l := range legs {
				longest(&s.Mark, l.long)
				if math.Abs(math.Abs(l.at.Y)-y) < 1e-9 {
					longest(&s.Wide, l.long)
				}
				if math.Abs(math.Abs(l.at.X)-x) < 1e-9 {
					longest(&s.Narrow, l.long)
				}
			}
		}
		if s.Mark != nil {
			s.Corner = units.FromFloat(2 * end.reach())
			steps = append(steps, s)
		}
	}
	return steps
}

// longest keeps the longer of *to and mm.
func longest(to **units.Length, mm float64) {
	if l := units.FromFloat(mm); *to == nil || (*to).Less(l) {
		*to = &l
	}
}

// polygon is the section of the bar's end by its corners, in mm from the axis.
type polygon []sheet.Point

// reach returns how far the farthest corner stands from the axis.
func (p polygon) reach() float64 {
	most := 0.0
	for _, c := range p {
		most = math.Max(most, math.Hypot(c.X, c.Y))
	}
	return most
}

// leg is the edge of a new flat on an old side, and how far along that side it
// lies from the corner that goes.
type leg struct {
	at   sheet.Point
	long float64
}

// flatOff files a flat, square to the direction to and r from the axis, and
// returns what is left with the legs on both sides of the corner that goes;
// none when none goes.
func (p polygon) flatOff(to units.Angle, r float64) (left polygon, legs []leg) {
	over := func(c sheet.Point) float64 { return c.X*to.Cos() + c.Y*to.Sin() - r }
	for i, c := range p {
		next := p[(i+1)%len(p)]
		a, b := over(c), over(next)
		if a <= 1e-9 {
			left = append(left, c)
		}
		if (a > 1e-9) == (b > 1e-9) {
			continue
		}
		f := a / (a - b)
		edge := sheet.Point{X: c.X + f*(next.X-c.X), Y: c.Y + f*(next.Y-c.Y)}
		gone := c
		if b > 1e-9 {
			gone = next
		}
		left = append(left, edge)
		legs = append(legs, leg{edge, math.Hypot(edge.X-gone.X, edge.Y-gone.Y)})
	}
	return left, legs
}

// Sheet implements sheet.Result.
func (r FlatsResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, in.Spec, " on a flat bar")
	s.Remark(&r.Fraction, say.Num(360*float64(r.Fraction), 0), " deg of each turn stand on the bar")
	if r.FullRound {
		s.Remark(&r.FullRound, "the crests go all the way round")
	}
	if r.RootCut {
		s.Remark(&r.RootCut, "the flats go below the thread's root")
	}
	s.Figures()
	onBar := func(letter string, side units.Length) sheet.Var {
		return sheet.Let(letter, units.Min(side, r.Major).MM())
	}
	if r.Fraction > 0 {
		s.Work("fraction", "(asin(T/d) - acos(W/d))/90", float64(r.Fraction), "", onBar("T", in.Bar.Thickness),
			onBar("W", in.Bar.Width), sheet.Let("d", r.Major.MM()))
	}
	if len(r.Steps) == 0 {
		return *s
	}
	s.Table(append(slices.Clone(r.Steps), FileStep{Step: "round", Flats: r.Major, Corner: r.Major}), "Filing it round")
	s.Note("The bar is centred on the thread's axis. Scribe in from the edges left by the step before, on both faces, ",
		"file down to the lines, and only then round the corners.")
	s.Note("Leave the thread's own allowance: for a die turn or file the round a little under size.")
	return *s
}
