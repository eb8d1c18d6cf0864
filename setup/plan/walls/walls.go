package walls

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
)

// MaxHoles bounds the holes of a part.
const MaxHoles = 100_000

// Input is a part to be checked. Bar checks it at drilling time instead, while
// the bar is still parallel: a diameter over the whole length, before facets
// and threads. Countersink is a diameter that every mouth is opened to.
type Input struct {
	Name        string        `json:"part"`
	Bar         *units.Length `json:"bar_mm,omitempty"`
	Countersink *units.Length `json:"countersink_mm,omitempty"`
	Part        *part.Part    `json:"-"`
}

// Hole is one cross hole with its walls. Next is nil for the only hole, Bore
// without a bore, and Mouth where there is no corner, shoulder or thread.
// Conservative says that a blind hole's end was taken round, which makes Next
// come out small.
type Hole struct {
	N            int           `json:"n"`
	At           units.Length  `json:"at_mm"`
	Dia          units.Length  `json:"dia_mm"`
	Roll         units.Angle   `json:"roll_deg"`
	Side         units.Length  `json:"side_wall_mm"`
	HoleToWidth  units.Number  `json:"hole_to_width"`
	End          units.Length  `json:"end_wall_mm"`
	Next         *units.Length `json:"next_hole_mm"`
	Bore         *units.Length `json:"bore_wall_mm"`
	Mouth        *units.Length `json:"mouth_margin_mm"`
	Conservative bool          `json:"conservative"`
}

// Wall names one of a hole's walls.
type Wall string

// The walls.
const (
	Side  Wall = "side wall"
	End   Wall = "end wall"
	Next  Wall = "wall to the next hole"
	Bore  Wall = "wall to the bore"
	Mouth Wall = "margin at the mouth"
)

// Thin is a wall that falls short, with the nearest change that restores it:
// the hole drilled smaller, or moved along the bar. Change is "" where neither
// does.
type Thin struct {
	N      int          `json:"n"`
	Wall   Wall         `json:"wall"`
	Value  units.Length `json:"wall_mm"`
	Least  units.Length `json:"least_mm"`
	Change Change       `json:"change"`
	To     units.Length `json:"to_mm"` // the diameter, or the place along the bar
	By     units.Length `json:"by_mm"` // to minus what it is
}

// Change is what restores a wall.
type Change string

// The changes.
const (
	Smaller Change = "smaller"
	Move    Change = "move"
)

// Result is the walls of every cross hole of a part.
type Result struct {
	Inputs  Input         `json:"inputs"`
	MinWall *units.Length `json:"min_wall_mm"` // as written; nil for the default
	Holes   []Hole        `json:"holes"`
	Thin    []Thin        `json:"thin"`
	sheet.Remarks

	fails problem.List
}

// rule says how thick a wall has to be: as written, or the default for the
// material, which may depend on the hole.
type rule struct {
	written *units.Length
	group   materials.Group
}

// Least returns how thick the walls of a hole of the diameter dia have to be:
// as written in the part file, or the default for the kind of material where
// written is nil.
func Least(written *units.Length, group materials.Group, dia units.Length) units.Length {
	return units.FromFloat(rule{written, group}.least(dia.MM()))
}

// least returns the least wall for a hole of the diameter dia, in mm. The
// defaults are common practice: metals 1.5 mm; laminates and plastics the
// larger of 2 mm and half the hole; wood the larger of 3 mm and the hole.
func (r rule) least(dia float64) float64 {
	switch {
	case r.written != nil:
		return r.written.MM()
	case r.group == materials.Laminate || r.group == materials.Plastic:
		return max(2, dia/2)
	case r.group == materials.Wood:
		return max(3, dia)
	}
	return 1.5
}

// Check returns the walls of a turned part's cross holes, as the comments of
// the package and of Hole say. It fails on a block, on sizes that are not above
// 0, a bar smaller than the part, an unknown material or thread, a row that
// cannot be, and a hole beyond the part or beside it.
//
// The answer is no when a wall is under 0 or under a min_wall that is written;
// a wall under the default for the material is a warning. A hole that opens
// into a bore fails only where it says miss_bore, one that meets another or
// runs through a thread unless it says that this is meant. A margin at the
// mouth is held to the least wall only while it is above 0.
func Check(in Input) (Result, error) {
	if in.Part == nil || in.Part.Round == nil {
		return Result{}, problem.New(problem.Impossible, "PART", in.Name, "is not a turned part: walls are those of holes across a bar")
	}
	d, rule, list, err := in.prepare()
	if err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, MinWall: rule.written, Holes: []Hole{}, Thin: []Thin{}}
	for i := range list {
		h := &list[i]
		f := d.measure(h, rule.least(2*h.r))
		r.Holes = append(r.Holes, f.hole(h))
		r.judge(d, rule, h, f)
	}
	if d.looks >= looksAll {
		r.Warnings.Add("many-thin", "so many walls are thin that changes were looked for at the first of them only")
	}
	r.Caution(cautions.VBlocks, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// prepare reads the part into what walls are measured on.
func (in Input) prepare() (*drilled, rule, []hole, error) {
	var bad problem.List
	round := *in.Part.Round
	for _, o := range []struct {
		key string
		l   *units.Length
	}{{"bar", in.Bar}, {"countersink", in.Countersink}} {
		if o.l != nil && o.l.Sign() <= 0 {
			bad.Add(problem.New(problem.OutOfRange, o.key, o.l, "must be above 0"))
		}
	}
	if in.Bar != nil && in.Bar.Less(round.Largest()) {
		bad.Add(problem.New(problem.Impossible, "bar", in.Bar, fmt.Sprintf("smaller than the part, %v", round.Largest())))
	}
	if in.Bar != nil {
		round.Profile = []part.Station{{Dia: *in.Bar}, {Z: round.Length(), Dia: *in.Bar}}
		round.Arcs, round.Facets, round.Threads = nil, nil, nil
	}
	material, err := materials.Find(in.Part.Material)
	if err != nil {
		bad.Add(placed(err, in.Part.MaterialAt))
	}
	list, err := expand(&round)
	bad.Add(err)
	if len(list) > MaxHoles {
		bad.Add(problem.New(problem.TooLarge, "rows", len(list), fmt.Sprintf("more than %d holes", MaxHoles)))
	}
	b, err := newBody(&round)
	bad.Add(err)
	if len(bad) > 0 {
		return nil, rule{}, nil, bad
	}
	views := map[float64]*view{}
	for i := range list {
		h := &list[i]
		roll := h.roll.Deg()
		if views[roll] == nil {
			views[roll] = b.view(roll)
		}
		h.seen = views[roll]
		bad.Add(b.set(h))
	}
	d := newDrilled(b, list)
	if in.Countersink != nil {
		d.sinkR = in.Countersink.MM() / 2
	}
	return d, rule{round.MinWall, material.Group}, list, bad.Err()
}

// hole returns the figures as they are handed out.
func (f figures) hole(h *hole) Hole {
	out := Hole{
		N: h.n, At: h.at, Dia: h.dia, Roll: h.roll,
		Side: units.FromFloat(f.side), HoleToWidth: units.Number(f.toWidth), End: units.FromFloat(f.end),
		Conservative: h.blind() || f.nearest != nil && f.nearest.blind(),
	}
	for _, x := range []struct {
		to *(*units.Length)
		v  float64
	}{{&out.Next, f.next}, {&out.Bore, f.bore}, {&out.Mouth, f.mouth}} {
		if !math.IsNaN(x.v) {
			l := units.FromFloat(x.v)
			*x.to = &l
		}
	}
	return out
}

// tiny is what a wall may be under its least by rounding.
const tiny = 1e-9

// short returns the walls of a hole that are under the least, and how thick
// each is. bad tells those that are a no whatever was written.
func (f *figures) short(h *hole, least float64) (list []Wall, values []float64, bad []bool) {
	add := func(w Wall, v float64, never bool) {
		list, values, bad = append(list, w), append(values, v), append(bad, never)
	}
	for _, x := range []struct {
		wall Wall
		v    float64
	}{{Side, f.side}, {End, f.end}, {Next, f.strict}} {
		if x.v < least-tiny {
			add(x.wall, x.v, x.v < -tiny)
		}
	}
	switch {
	case math.IsNaN(f.bore) || f.bore >= least-tiny:
	case f.bore > 0:
		add(Bore, f.bore, false)
	case h.missBore:
		add(Bore, f.bore, true)
	}
	if f.mouth > 0 && f.mouth < least-tiny {
		add(Mouth, f.mouth, false)
	}
	return list, values, bad
}

// judge adds what is wrong with a hole to the result.
func (r *Result) judge(d *drilled, rule rule, h *hole, f figures) {
	least := rule.least(2 * h.r)
	list, values, bad := f.short(h, least)
	for i, wall := range list {
		t := Thin{N: h.n, Wall: wall, Value: units.FromFloat(values[i]), Least: units.FromFloat(least)}
		d.remedy(rule, h, f, list, wall, &t)
		r.Thin = append(r.Thin, t)
		found := fmt.Sprintf("hole %d", h.n)
		want := fmt.Sprintf("the %s is %s mm", wall, t.Value.Fixed(units.MM, 3, units.Nearest))
		switch {
		case bad[i]:
			want += ", under 0"
		case rule.written != nil:
			want += fmt.Sprintf(", under the %v that is written", rule.written)
		default:
			r.Warnings.Add("wall-thin", fmt.Sprintf("%s: %s, under the usual %s mm%s", found, want, t.Least.Fixed(units.MM, 3, units.Nearest), t.advice()))
			continue
		}
		r.fails.Add(problem.New(problem.WallTooThin, "holes", found, want+t.advice()).In(h.place))
	}
	if f.thread != "" && !h.throughThread {
		r.fails.Add(problem.New(problem.WallTooThin, "through_thread", fmt.Sprintf("hole %d", h.n),
			fmt.Sprintf("runs through the thread %s: write through_thread: ok if that is meant", f.thread)).In(h.place))
	}
}

// advice says what restores a wall.
func (t Thin) advice() string {
	switch t.Change {
	case Smaller:
		return fmt.Sprintf("; drilling it %s mm restores it", t.To.Fixed(units.MM, 2, units.Down))
	case Move:
		way := "right"
		if t.By.Sign() < 0 {
			way = "left"
		}
		return fmt.Sprintf("; moving it %s mm to the %s, to %s, restores it", t.By.Abs().Fixed(units.MM, 2, units.Up), way, t.To.Fixed(units.MM, 2, units.Nearest))
	}
	return "; neither a smaller hole nor moving it along the bar restores it"
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	t := sheet.Table{Title: "Walls", Cols: []sheet.Column{
		{Key: "n", Head: "hole"},
		{Key: "at_mm", Head: "at"},
		{Key: "dia_mm", Head: "dia"},
		{Key: "roll_deg", Head: "roll"},
		{Key: "side_wall_mm", Head: "side"},
		{Key: "hole_to_width", Head: "hole/width"},
		{Key: "end_wall_mm", Head: "end"},
		{Key: "next_hole_mm", Head: "next"},
		{Key: "bore_wall_mm", Head: "bore"},
		{Key: "mouth_margin_mm", Head: "mouth"},
	}}
	down := func(l *units.Length) sheet.Value {
		if l == nil {
			return nil
		}
		return sheet.Down(*l)
	}
	round := false
	for _, h := range r.Holes {
		round = round || h.Conservative
		t.Add(sheet.Count(h.N), sheet.Len(h.At), sheet.Len(h.Dia), sheet.Deg(h.Roll), sheet.Down(h.Side), sheet.Num(float64(h.HoleToWidth), 3, ""),
			sheet.Down(h.End), down(h.Next), down(h.Bore), down(h.Mouth))
	}
	s := sheet.Sheet{Title: "Walls of the cross holes", Tables: []sheet.Table{t}, Warnings: r.Warnings, Cautions: r.Cautions}
	if r.MinWall != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "min_wall_mm", Label: "least wall", Value: sheet.Len(*r.MinWall), Remark: "as the part file says"})
	}
	s.Notes = []string{
		"Of the finished part; negative where material is missing. Rolls are counter-clockwise seen from the right end, 0 is up.",
		"Side: beside the hole, in the middle of the bar; toward its mouths the wall gets thinner.",
	}
	if r.Inputs.Bar != nil {
		s.Notes[0] = fmt.Sprintf("At drilling time: the bar still parallel, %v. Negative where material is missing.", r.Inputs.Bar)
	}
	if round {
		s.Notes = append(s.Notes, "The ends of blind holes were taken round, so that the wall to the next hole comes out a little small.")
	}
	return s
}
