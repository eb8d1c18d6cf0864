package walls

import (
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/outline"
)

// MaxHoles bounds the holes of a part.
const MaxHoles = 100_000

// Input is a part to be checked. Bar checks it at drilling time instead, while
// the bar is still parallel: a diameter over the whole length, before facets
// and threads. Countersink is a diameter that every mouth is opened to, Reliefs are cut
// into the outside beside the drawing.
type Input struct {
	Name        string        `json:"part"`
	Bar         *units.Length `json:"bar_mm,omitempty"`
	Countersink *units.Length `json:"countersink_mm,omitempty"`
	Part        *part.Part    `json:"-"`
	Reliefs     []Relief      `json:"-"`
}

// Hole is one cross hole with its walls. Next is nil for the only hole, Bore
// without a bore, and Mouth where there is no corner, shoulder or thread.
// Conservative says that a blind hole's end was taken round, which makes Next
// come out small.
type Hole struct {
	N            int           `json:"n" show:"hole"`
	At           units.Length  `json:"at_mm" show:"at"`
	Dia          units.Length  `json:"dia_mm" show:"dia"`
	Roll         units.Angle   `json:"roll_deg" show:"roll"`
	Side         units.Length  `json:"side_wall_mm" show:"side" as:"down"`
	HoleToWidth  units.Number  `json:"hole_to_width" show:"hole/width" as:"3"`
	End          units.Length  `json:"end_wall_mm" show:"end" as:"down"`
	Next         *units.Length `json:"next_hole_mm" show:"next" as:"down"`
	Bore         *units.Length `json:"bore_wall_mm" show:"bore" as:"down"`
	Mouth        *units.Length `json:"mouth_margin_mm" show:"mouth" as:"down"`
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

	Refused *problem.Problem `json:"-"` // why it is a no; nil where it only warns
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
	MinWall *units.Length `json:"min_wall_mm" show:"least wall" note:"as the part file says"` // nil for the default
	Holes   []Hole        `json:"holes"`
	Thin    []Thin        `json:"thin"`
	sheet.Remarks
}

// rule says how thick a wall has to be: at least a length, and at least a part
// of the hole's diameter.
type rule struct {
	written *units.Length
	length  float64 // in mm
	part    float64
}

// ruleFor returns the rule of a part: as written in its file, or the usual
// practice for its material where nothing is.
func ruleFor(written *units.Length, m *materials.Material) rule {
	if written != nil {
		return rule{written: written, length: written.MM()}
	}
	return rule{length: practice.LeastWall.Length(m).MM(), part: practice.WallOfHole.Number(m)}
}

// least returns the least wall for a hole of the diameter dia, in mm.
func (r rule) least(dia float64) float64 { return max(r.length, r.part*dia) }

// Least returns how thick the walls of a hole of the diameter dia have to be:
// as written in the part file, or the usual practice for the material where
// written is nil.
func Least(written *units.Length, m *materials.Material, dia units.Length) units.Length {
	return units.FromFloat(ruleFor(written, m).least(dia.MM()))
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
		return Result{}, problem.New(problem.Impossible, "PART", say.Plain(in.Name),
			"is not a turned part: walls are those of holes across a bar")
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
		r.Warn("many-thin", "so many walls are thin that changes were looked for at the first of them only")
	}
	r.Caution(cautions.VBlocks, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// prepare reads the part into what walls are measured on.
func (in Input) prepare() (*drilled, rule, []hole, error) {
	var bad check.List
	round := *in.Part.Round
	bad.Above0("bar", in.Bar)
	bad.Above0("countersink", in.Countersink)
	if in.Bar != nil {
		if in.Bar.Less(round.Largest()) {
			bad.Add(problem.New(problem.Impossible, "bar", in.Bar, "smaller than the part, ", round.Largest()))
		}
		round.Profile = []part.Station{{Dia: *in.Bar}, {Z: round.Length(), Dia: *in.Bar}}
		round.Arcs, round.Facets, round.Threads, round.Chamfers = nil, nil, nil, nil
	}
	material, err := materials.Find(in.Part.Material)
	bad.AddAt(in.Part.MaterialAt, err)
	o, err := outline.New(&round)
	bad.Add(err)
	if err == nil && len(o.Holes) > MaxHoles {
		bad.Add(problem.New(problem.TooLarge, "rows", len(o.Holes), "more than ", MaxHoles, " holes"))
	}
	if bad.Err() != nil {
		return nil, rule{}, nil, bad.Err()
	}
	b := newBody(o, in.Reliefs)
	views := map[float64]*view{}
	list := make([]hole, len(o.Holes))
	for i := range list {
		h := &o.Holes[i]
		roll := h.Roll.Deg()
		if views[roll] == nil {
			views[roll] = b.view(roll)
		}
		list[i] = hole{Hole: h, z: h.Z.MM(), r: h.Dia.MM() / 2, offset: h.Offset.MM(), seen: views[roll]}
		bad.Add(b.set(&list[i]))
	}
	d := newDrilled(b, list)
	if in.Countersink != nil {
		d.sinkR = in.Countersink.MM() / 2
	}
	return d, ruleFor(round.MinWall, material), list, bad.Err()
}

// hole returns the figures as they are handed out.
func (f figures) hole(h *hole) Hole {
	exists := func(v float64) *units.Length {
		if math.IsNaN(v) {
			return nil
		}
		l := units.FromFloat(v)
		return &l
	}
	return Hole{
		N: h.N, At: h.Z, Dia: h.Dia, Roll: h.Roll,
		Side: units.FromFloat(f.side), HoleToWidth: units.Number(f.toWidth), End: units.FromFloat(f.end),
		Next: exists(f.next), Bore: exists(f.bore), Mouth: exists(f.mouth),
		Conservative: h.blind() || f.nearest != nil && f.nearest.blind(),
	}
}

// tiny is what a wall may be under its least by rounding.
const tiny = 1e-9

// lack is a wall that is under the least, and how thick it is. never says that
// it is a no whatever was written.
type lack struct {
	wall  Wall
	is    float64
	never bool
}

// lacks returns the walls of a hole that are under the least.
func (f *figures) lacks(h *hole, least float64) []lack {
	var list []lack
	for _, x := range []lack{{wall: Side, is: f.side}, {wall: End, is: f.end}, {wall: Next, is: f.strict}} {
		if x.is < least-tiny {
			x.never = x.is < -tiny
			list = append(list, x)
		}
	}
	switch {
	case math.IsNaN(f.bore) || f.bore >= least-tiny:
	case f.bore > 0:
		list = append(list, lack{Bore, f.bore, false})
	case h.MissBore:
		list = append(list, lack{Bore, f.bore, true})
	}
	if f.mouth > 0 && f.mouth < least-tiny {
		list = append(list, lack{Mouth, f.mouth, false})
	}
	return list
}

// judge adds what is wrong with a hole to the result.
func (r *Result) judge(d *drilled, rule rule, h *hole, f figures) {
	least := rule.least(2 * h.r)
	found := say.Of("hole ", h.N)
	before := f.lacks(h, least)
	for _, l := range before {
		t := &Thin{N: h.N, Wall: l.wall, Value: units.FromFloat(l.is), Least: units.FromFloat(least)}
		d.remedy(rule, h, f, before, l.wall, t)
		want := say.Of("the ", string(l.wall), " is ", t.Value.Down())
		switch {
		case l.never:
			want += ", under 0"
		case rule.written != nil:
			want = say.Of(want, ", under the ", rule.written, " that is written")
		default:
			r.Warn("wall-thin", found, ": ", want, ", under the usual ", t.Least, t.advice())
			r.Thin = append(r.Thin, *t)
			continue
		}
		t.Refused = new(problem.New(problem.WallTooThin, "holes", found, want, t.advice()).In(h.At))
		r.No(*t.Refused)
		r.Thin = append(r.Thin, *t)
	}
	if f.thread != "" && !h.ThroughThread {
		r.No(problem.New(problem.WallTooThin, "through_thread", found,
			"runs through the thread ", f.thread, ": write through_thread: ok if that is meant").In(h.At))
	}
}

// advice says what restores a wall.
func (t Thin) advice() say.Text {
	switch t.Change {
	case Smaller:
		return say.Of("; drilling it ", t.To.Down(), " restores it")
	case Move:
		way := "right"
		if t.By.Sign() < 0 {
			way = "left"
		}
		return say.Of("; moving it ", t.By.Abs().Up(), " to the ", way, ", to ", t.To, ", restores it")
	}
	return "; neither a smaller hole nor moving it along the bar restores it"
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Walls of the cross holes")
	s.Figures()
	s.Table(r.Holes, "Walls")
	if r.Inputs.Bar != nil {
		s.Note("At drilling time: the bar still parallel, ", r.Inputs.Bar, ". Negative where material is missing.")
	} else {
		s.Note("Of the finished part; negative where material is missing. ",
			"Rolls are counter-clockwise seen from the right end, 0 is up.")
	}
	s.Note("Side: beside the hole, in the middle of the bar; toward its mouths the wall gets thinner.")
	if slices.ContainsFunc(r.Holes, func(h Hole) bool { return h.Conservative }) {
		s.Note("The ends of blind holes were taken round, so that the wall to the next hole comes out a little small.")
	}
	return *s
}
