package holes

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Grade is how diameters run from the first to the last of a graded row.
type Grade string

// The grades.
const (
	Arithmetic Grade = "arithmetic" // each larger by the same amount
	Geometric  Grade = "geometric"  // each larger by the same factor
)

// Grades lists the grades by name.
func Grades() []string { return []string{string(Arithmetic), string(Geometric)} }

// Input is a row to be drilled. With Grade the row's two diameters are the
// first and the last of Count. About puts the middle between the first and the
// last centre of a roll there, in place of From. Bar is the diameter of the
// round bar and Length its length; with Bar the depth is given, with Material
// the speed.
//
// Drawer and Table are empty and nil when the shop has none: the exact values
// stand and the result says what was not checked.
type Input struct {
	Row
	Grade      Grade         `json:"grade,omitempty"`
	About      *units.Length `json:"about_mm,omitempty"`
	Bar        *units.Length `json:"bar_mm,omitempty"`
	Length     *units.Length `json:"length_mm,omitempty"`
	Depth      *units.Length `json:"depth_mm,omitempty"`
	EdgeFinder *units.Length `json:"edge_finder_mm,omitempty"`
	Off        *units.Length `json:"off_centre_mm,omitempty"`
	Material   string        `json:"material,omitempty"`

	Drawer  shop.Drawer    `json:"-"`
	Table   *shop.Dial     `json:"-"`
	Centres []units.Length `json:"-"` // centre drills, by their pilots
	Drive   shop.Drive     `json:"-"` // of the machine the holes are drilled on
}

// Hole is one hole of a row as it is drilled. Graded is what the grade asked
// for before it was snapped to a drill, Step is from the hole before on the
// same roll, Web the wall that leaves between them, FromEnd the distance from
// the bar's far end; Set sizes are what the drill and the dial give. Spot is the
// largest centre drill that is no larger than the hole. Drill depths and pilots
// stand only where the bar is known, the speed only with the material.
type Hole struct {
	N      int           `json:"n"`
	Dia    units.Length  `json:"dia_mm"`
	Graded *units.Length `json:"graded_mm"`
	Drill  string        `json:"drill"`
	DiaSet units.Length  `json:"dia_set_mm"`
	At     units.Length  `json:"at_mm"`
	Step   *units.Length `json:"step_mm"`
	Web    *units.Length `json:"web_mm"`
	OnDial
	Roll       units.Angle   `json:"roll_deg"`
	FromEnd    *units.Length `json:"from_far_end_mm"`
	DrillDepth *units.Length `json:"drill_depth_mm"`
	Pilot      *string       `json:"pilot"`
	Peck       *bool         `json:"peck"`
	BothSides  *bool         `json:"both_sides"`
	Spot       *units.Length `json:"spot_mm"`

	RPM *units.SpindleSpeed `json:"rpm"`
}

// Check is the row worked through from the other end: from the last hole of a
// roll back to its first, which must come out where it started.
type Check struct {
	Roll  units.Angle  `json:"roll_deg"`
	Back  units.Length `json:"back_mm"`
	First units.Length `json:"first_at_mm"`
	OnDial
}

// Result is a row of holes ready to drill.
type Result struct {
	Inputs     Input         `json:"inputs"`
	Holes      []Hole        `json:"holes"`
	Checks     []Check       `json:"checks"`
	EdgeOffset *units.Length `json:"edge_offset_mm"`
	Slope      *units.Angle  `json:"slope_deg"`
	sheet.Remarks

	fails problem.List
}

// Drill returns the row with everything the hand needs. It fails where
// Row.Expand does, on a grade that has not two diameters and a count of at
// least 2, on sizes of bar, depth or edge finder that are not above 0, and
// when a hole is as large as the bar or the row runs off the bar.
func Drill(in Input) (Result, error) {
	var list problem.List
	list.Add(in.check())
	graded, err := in.grade()
	list.Add(err)
	if err != nil {
		return Result{}, list
	}
	row := in.Row
	if graded != nil {
		row.Dias = make([]units.Length, len(graded))
		for i, g := range graded {
			row.Dias[i] = in.snap(i, g)
		}
	}
	centres, err := row.Expand()
	list.Add(err)
	if len(list) > 0 {
		return Result{}, list
	}
	in.centre(centres)
	if err := in.onTheBar(centres); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in}
	r.fill(centres, graded)
	if err := r.speeds(); err != nil {
		return Result{}, err
	}
	r.crossings()
	r.instruments()
	if in.EdgeFinder != nil {
		half := in.EdgeFinder.Half()
		r.EdgeOffset = &half
	}
	if in.Off != nil {
		a := StartSlope(*in.Bar, *in.Off)
		r.Slope = &a
	}
	r.Caution(cautions.VBlocks, cautions.GrabDrill, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (in Input) check() error {
	var list problem.List
	list.Add(positive([]option{{"bar", in.Bar}, {"length", in.Length}, {"depth", in.Depth}, {"edge-finder", in.EdgeFinder}}))
	switch {
	case in.Off == nil:
	case in.Bar == nil:
		list.Add(problem.New(problem.Missing, "bar", nil, "is needed with off-centre: the slope depends on the bar's diameter"))
	case in.Off.Sign() < 0 || in.Off.Times(2).Cmp(*in.Bar) >= 0:
		list.Add(problem.New(problem.OutOfRange, "off-centre", in.Off, fmt.Sprintf("must be 0 or more and under the bar's radius, %v", in.Bar.Half())))
	}
	if in.Depth != nil && in.Bar != nil && in.Depth.Cmp(*in.Bar) >= 0 {
		list.Add(problem.New(problem.OutOfRange, "depth", in.Depth, fmt.Sprintf("a blind hole is shallower than the bar, %v: leave it out to drill through", in.Bar)))
	}
	return list.Err()
}

// grade returns the diameters of a graded row before they are snapped, nil
// when the row is not graded:
//
//	arithmetic  d1 + (dn - d1)·i/(n - 1)
//	geometric   d1·(dn/d1)^(i/(n - 1))
func (in Input) grade() ([]units.Length, error) {
	switch {
	case in.Grade == "" && len(in.Dias) == 2 && in.Count > 2:
		return nil, problem.New(problem.Missing, "grade", nil, fmt.Sprintf("two diameters and a count of %d: say how they run, arithmetic or geometric", in.Count))
	case in.Grade == "":
		return nil, nil
	case in.Grade != Arithmetic && in.Grade != Geometric:
		return nil, problem.New(problem.Unknown, "grade", string(in.Grade), "not a grade: write arithmetic or geometric").Near(Grades())
	case len(in.Dias) != 2 || in.Count < 2:
		return nil, problem.New(problem.Missing, "grade", string(in.Grade), "needs the first and the last diameter, and a count of at least 2")
	case in.Count > MaxHoles:
		return nil, problem.New(problem.TooLarge, "count", in.Count, fmt.Sprintf("more than %d holes", MaxHoles))
	}
	first, last := in.Dias[0], in.Dias[1]
	if first.Sign() <= 0 || last.Sign() <= 0 {
		return nil, problem.New(problem.OutOfRange, "dias", units.Min(first, last), "a hole's diameter must be above 0")
	}
	list := make([]units.Length, in.Count)
	for i := range list {
		switch {
		case i == in.Count-1:
			list[i] = last
		case in.Grade == Arithmetic:
			list[i] = first.Plus(part(last.Minus(first), i, in.Count-1))
		default:
			list[i] = units.FromFloat(first.MM() * math.Pow(last.Over(first), float64(i)/float64(in.Count-1)))
		}
	}
	return list, nil
}

// snap returns the size hole i of a graded row is drilled: the nearest drill,
// but the first and the last as they were asked for.
func (in Input) snap(i int, graded units.Length) units.Length {
	if i == 0 || i == in.Count-1 {
		return graded
	}
	d, _ := in.drill(graded)
	return d.Dia
}

// drill returns the nearest drill in the drawer, or the nearest that is made
// where no drawer is known, and what it is over (+) or under (-) the size.
func (in Input) drill(dia units.Length) (drills.Drill, units.Length) {
	if d, s, ok := in.Drawer.Nearest(dia, units.Nearest); ok {
		return d, s.Lost
	}
	d := drills.Nearest(drills.All(), dia)
	return d, d.Dia.Minus(dia)
}

// centre moves a row so that the middle of each roll's first and last centre
// is at About; a staggered roll keeps its shift.
func (in *Input) centre(centres []Centre) {
	if in.About == nil {
		return
	}
	n := len(centres) / max(1, len(in.Rolls))
	move := in.About.Minus(centres[0].At.Plus(centres[n-1].At).Half())
	in.From = in.From.Plus(move)
	for i := range centres {
		centres[i].At = centres[i].At.Plus(move)
	}
}

// onTheBar refuses holes the bar cannot have.
func (in Input) onTheBar(centres []Centre) error {
	var list problem.List
	for _, c := range centres {
		if in.Bar != nil && c.Dia.Cmp(*in.Bar) >= 0 {
			list.Add(problem.New(problem.Impossible, "dias", c.Dia, fmt.Sprintf("as large as the bar, %v", in.Bar)))
			break
		}
	}
	if in.Length == nil {
		return list.Err()
	}
	for _, c := range centres {
		if c.At.Sign() < 0 || in.Length.Less(c.At) {
			list.Add(problem.New(problem.Impossible, "length", in.Length, fmt.Sprintf("hole %d at %v is not on the bar", c.N, c.At)))
			break
		}
	}
	return list.Err()
}

// fill computes every hole of the row, and the way back along each roll.
func (r *Result) fill(centres []Centre, graded []units.Length) {
	in := r.Inputs
	perRoll := len(centres) / max(1, len(in.Rolls))
	for i, c := range centres {
		drill, _ := in.drill(c.Dia)
		h := Hole{N: c.N, Dia: c.Dia, Drill: drill.Name, DiaSet: drill.Dia, At: c.At, Roll: c.Roll, OnDial: setOn(in.Table, c.At)}
		if graded != nil {
			h.Graded = &graded[i%perRoll]
		}
		if i%perRoll > 0 {
			before := centres[i-1]
			step := c.At.Minus(before.At)
			web := step.Minus(c.Dia.Plus(before.Dia).Half())
			h.Step, h.Web = &step, &web
		}
		if in.Length != nil {
			left := in.Length.Minus(c.At)
			h.FromEnd = &left
		}
		h.intoBar(in, drill)
		for i, c := range in.Centres {
			if c.Cmp(h.DiaSet) <= 0 && (h.Spot == nil || h.Spot.Less(c)) {
				h.Spot = &in.Centres[i]
			}
		}
		r.Holes = append(r.Holes, h)
		if i%perRoll == perRoll-1 && perRoll > 1 {
			first := centres[i-perRoll+1]
			back := units.Length{}
			for _, h := range r.Holes[i-perRoll+2:] {
				back = back.Minus(*h.Step)
			}
			r.Checks = append(r.Checks, Check{c.Roll, back, c.At.Plus(back), setOn(in.Table, first.At)})
		}
	}
}

// intoBar fills in what depends on the bar: how deep the drill goes, whether a
// pilot goes first, whether chips need clearing and the hole both sides.
func (h *Hole) intoBar(in Input, drill drills.Drill) {
	if in.Bar == nil {
		return
	}
	through := in.Depth == nil
	depth := *in.Bar
	if !through {
		depth = *in.Depth
	}
	d := DepthOf(drill.Dia, TwistPoint, depth, through)
	h.DrillDepth = &d.Total
	peck, both := Manner(drill.Dia, depth, through)
	h.Peck, h.BothSides = &peck, &both
	if drill.Dia.Cmp(pilotAbove) > 0 {
		p, _ := in.drill(part(drill.Dia, 1, 5))
		h.Pilot = &p.Name
	}
}

// speeds fills in the speed of every drill, as setover speed drill gives it,
// and its cautions for the material.
func (r *Result) speeds() error {
	in := r.Inputs
	if in.Material == "" {
		return nil
	}
	known := map[string]*units.SpindleSpeed{}
	for i := range r.Holes {
		h := &r.Holes[i]
		n, ok := known[h.Drill]
		if !ok {
			f, err := feeds.Choose(feeds.Input{Operation: feeds.Drill, Material: in.Material, Diameter: h.DiaSet, Drive: in.Drive})
			if err != nil {
				return err
			}
			n = f.RPM
			if n == nil {
				n = &f.IdealRPM
			}
			known[h.Drill] = n
			if i == 0 {
				r.Cautions, r.Inputs.Material = f.Cautions, f.Inputs.Material
			}
		}
		h.RPM = n
	}
	return nil
}

// pilotAbove is the size above which a pilot of a fifth goes first: common
// practice, no source.
var pilotAbove = units.Millimetres(10)

// crossings says where two holes of the row run into each other: on one roll a
// wall under 0, which is a no, and between rolls on the bar's axis.
func (r *Result) crossings() {
	for _, h := range r.Holes {
		if h.Web != nil && h.Web.Sign() < 0 {
			r.fails.Add(problem.New(problem.WallTooThin, "holes", fmt.Sprintf("holes %d and %d", h.N-1, h.N), fmt.Sprintf(
				"run into each other by %s mm: the step must be at least %s mm", h.Web.Neg().Fixed(units.MM, 3, units.Nearest), h.Step.Minus(*h.Web).Fixed(units.MM, 3, units.Up))))
			break
		}
	}
	byPlace := slices.Clone(r.Holes)
	slices.SortStableFunc(byPlace, func(a, b Hole) int { return a.At.Cmp(b.At) })
	for i, a := range byPlace[:len(byPlace)-1] {
		b := byPlace[i+1]
		wall := b.At.Minus(a.At).Minus(a.Dia.Plus(b.Dia).Half())
		if a.Roll != b.Roll && wall.Sign() < 0 {
			lower, higher := min(a.N, b.N), max(a.N, b.N)
			r.Warnings.Add("crossing", fmt.Sprintf("holes %d and %d are on different rolls and meet on the bar's axis if both reach it", lower, higher))
			return
		}
	}
}

// instruments says which instruments were missing and which drills are off.
func (r *Result) instruments() {
	in := r.Inputs
	if in.Table == nil {
		r.Warnings.Add("not-checked", "no mill table in this shop: positions are exact, no dial was set (mill: table)")
	}
	if len(in.Drawer) == 0 {
		r.Warnings.Add("not-checked", "no drills in this shop: the nearest size that is made is named (drills)")
	}
	named := map[string]bool{}
	for _, h := range r.Holes {
		off := h.DiaSet.Minus(h.Dia)
		if off.Sign() == 0 || named[h.Dia.String()] {
			continue
		}
		named[h.Dia.String()] = true
		where := "in the drawer"
		if len(in.Drawer) == 0 {
			where = "made"
		}
		side := map[int]string{1: "over", -1: "under"}[off.Sign()]
		r.Warnings.Add("drill-off", fmt.Sprintf("no %v drill %s: %s is the nearest, %s mm %s", h.Dia, where, h.Drill, off.Abs().Fixed(units.MM, 3, units.Nearest), side))
	}
}

// StartSlope returns how steep the surface of a round bar of the diameter D is
// where the drill starts, when it stands e beside the bar's centre line:
//
//	asin(2·e/D)
//
// D is above 0, e from 0 to under D/2. Good to 1e-13 deg.
//
// Source: plane geometry.
func StartSlope(bar, off units.Length) units.Angle {
	return units.Radians(math.Asin(2 * off.Over(bar)))
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{Title: "Row of holes", Tables: []sheet.Table{r.table()}, Warnings: r.Warnings, Cautions: r.Cautions}
	if r.EdgeOffset != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "edge_offset_mm", Label: "edge finder", Value: sheet.Len(*r.EdgeOffset), Remark: "from touching the datum end, move on by this and zero the dial"})
	}
	if r.Slope != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "slope_deg", Label: "the drill starts on a slope of", Value: sheet.Ang(*r.Slope), Remark: fmt.Sprintf("%v off the centre line: find the top of the bar again, and spot it", in.Off)})
		s.Working = append(s.Working, sheet.Work("slope", "asin(2*e/D)", r.Slope.Deg(), "deg", sheet.Let("e", in.Off.MM()), sheet.Let("D", in.Bar.MM())))
	}
	if len(r.Holes) > 1 {
		s.Working = append(s.Working, r.working()...)
	}
	s.Notes = []string{"Positions are set from the datum, not from the last hole. Wind up to each from the datum's side, so that the screw's play stays taken up."}
	if len(in.Rolls) > 1 {
		s.Notes = append(s.Notes, "Rolls are counter-clockwise seen from the right end, 0 is up. For each roll wind back past the datum and come up again.")
	}
	if len(r.Checks) > 0 {
		s.Notes = append(s.Notes, "The last line is the way back: the steps taken off the last hole of the first roll must end at its first.")
	}
	s.Notes = append(s.Notes, "Spot every hole first: a drill wanders on a round.")
	if in.Material != "" && in.Drive.Machine != "" {
		s.Notes = append(s.Notes, fmt.Sprintf("Speeds are those of the %s for %s.", in.Drive.Machine.Name(), in.Material))
	}
	if slices.ContainsFunc(r.Holes, func(h Hole) bool { return h.BothSides != nil && *h.BothSides }) {
		s.Notes = append(s.Notes, "Deeper than five diameters: drill to the middle from one side, roll the bar half a turn, and meet it from the other.")
	}
	return s
}

// working shows how the second hole comes from the first.
func (r Result) working() []sheet.Step {
	in, a, b := r.Inputs, r.Holes[0], r.Holes[1]
	if b.Step == nil {
		return nil
	}
	z1 := sheet.Let("z1", a.At.MM())
	switch {
	case in.Pitch != nil:
		return []sheet.Step{sheet.Work("z2", "z1 + p", b.At.MM(), "mm", z1, sheet.Let("p", in.Pitch.MM()))}
	case in.Span != nil:
		n := len(r.Holes) / max(1, len(in.Rolls))
		return []sheet.Step{sheet.Work("z2", "z1 + L/(n - 1)", b.At.MM(), "mm", z1, sheet.Let("L", in.Span.MM()), sheet.Let("n", float64(n)))}
	}
	return []sheet.Step{sheet.Work("z2", "z1 + (d1 + d2)/2 + w", b.At.MM(), "mm", z1, sheet.Let("d1", a.Dia.MM()), sheet.Let("d2", b.Dia.MM()), sheet.Let("w", in.Web.MM()))}
}

// column is one column of the table of holes: what it shows of a hole, and of
// the check line.
type column struct {
	key, head string
	of        func(Hole) sheet.Value
	check     func(Check) sheet.Value
}

func (r Result) table() sheet.Table {
	in := r.Inputs
	none := func(Check) sheet.Value { return nil }
	list := []column{
		{"n", "hole", func(h Hole) sheet.Value { return sheet.Count(h.N) }, none},
		{"dia_mm", "dia", func(h Hole) sheet.Value { return sheet.Len(h.Dia) }, none},
		{"drill", "drill", func(h Hole) sheet.Value { return sheet.Text(h.Drill) }, func(Check) sheet.Value { return sheet.Text("back") }},
		{"at_mm", "at", func(h Hole) sheet.Value { return sheet.Len(h.At) }, func(c Check) sheet.Value { return sheet.Len(c.First) }},
		{"step_mm", "step", func(h Hole) sheet.Value { return sheet.LenOrNone(h.Step) }, func(c Check) sheet.Value { return sheet.Len(c.Back) }},
	}
	if in.Table != nil {
		list = append(list,
			column{"turns", "turns", func(h Hole) sheet.Value { return whole(h.Turns) }, func(c Check) sheet.Value { return whole(c.Turns) }},
			column{"divisions", "div", func(h Hole) sheet.Value { return whole(h.Divisions) }, func(c Check) sheet.Value { return whole(c.Divisions) }},
			column{"dial_error_mm", "dial is off", func(h Hole) sheet.Value { return sheet.Fine(*h.Error) }, func(c Check) sheet.Value { return sheet.Fine(*c.Error) }})
	}
	if len(in.Rolls) > 0 {
		list = append(list, column{"roll_deg", "roll", func(h Hole) sheet.Value { return sheet.Deg(h.Roll) }, func(c Check) sheet.Value { return sheet.Deg(c.Roll) }})
	}
	if in.Length != nil {
		list = append(list, column{
			"from_far_end_mm", "from far end", func(h Hole) sheet.Value { return sheet.LenOrNone(h.FromEnd) },
			func(c Check) sheet.Value { return sheet.Len(in.Length.Minus(c.First)) },
		})
	}
	if in.Bar != nil {
		list = append(list, column{"drill_depth_mm", "drill depth", func(h Hole) sheet.Value { return sheet.Up(*h.DrillDepth) }, none},
			column{"pilot", "pilot, pecks", func(h Hole) sheet.Value { return sheet.Text(h.manner()) }, none})
	}
	if len(in.Centres) > 0 {
		list = append(list, column{"spot_mm", "spot", func(h Hole) sheet.Value { return sheet.LenOrNone(h.Spot) }, none})
	}
	if in.Material != "" {
		list = append(list, column{"rpm", "speed", func(h Hole) sheet.Value { return sheet.Num(h.RPM.RPM(), 0, "rpm") }, none})
	}
	t := sheet.Table{Title: "From the datum"}
	for _, c := range list {
		t.Cols = append(t.Cols, sheet.Column{Key: c.key, Head: c.head})
		if len(r.Checks) > 0 {
			t.Check = append(t.Check, c.check(r.Checks[0]))
		}
	}
	for _, h := range r.Holes {
		var row []sheet.Value
		for _, c := range list {
			row = append(row, c.of(h))
		}
		t.Add(row...)
	}
	return t
}

// manner says how a hole is drilled: its pilot, pecks and sides.
func (h Hole) manner() string {
	text := ""
	add := func(s string) { text += map[bool]string{true: ", "}[text != ""] + s }
	if h.Pilot != nil {
		add("pilot " + *h.Pilot)
	}
	if *h.Peck {
		add("peck")
	}
	if *h.BothSides {
		add("from both sides")
	}
	return cmp.Or(text, "straight")
}
