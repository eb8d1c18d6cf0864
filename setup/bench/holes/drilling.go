package holes

import (
	"cmp"
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
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
// largest centre drill that is no larger than the hole. Drill depths, never shown
// shorter through nor deeper blind, and pilots stand only where the bar is
// known, the speed only with the material.
type Hole struct {
	N      int           `json:"n" show:"hole"`
	Dia    units.Length  `json:"dia_mm" show:"dia"`
	Graded *units.Length `json:"graded_mm"`
	Drill  string        `json:"drill" show:"drill"`
	DiaSet units.Length  `json:"dia_set_mm"`
	At     units.Length  `json:"at_mm" show:"at"`
	Step   *units.Length `json:"step_mm" show:"step"`
	Web    *units.Length `json:"web_mm"`
	OnDial
	Roll       units.Angle         `json:"roll_deg" show:"roll"`
	FromEnd    *units.Length       `json:"from_far_end_mm" show:"from far end"`
	DrillDepth *units.Rounded      `json:"drill_depth_mm" show:"drill depth"`
	Manner     *say.Text           `json:"-" key:"pilot" show:"pilot, pecks"`
	Pilot      *string             `json:"pilot"`
	Peck       *bool               `json:"peck"`
	BothSides  *bool               `json:"both_sides"`
	Spot       *units.Length       `json:"spot_mm" show:"spot"`
	RPM        *units.SpindleSpeed `json:"rpm" show:"speed" as:"0"`
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
	EdgeOffset *units.Length `json:"edge_offset_mm" show:"edge finder"`
	Slope      *units.Angle  `json:"slope_deg" show:"the drill starts on a slope of" as:"minutes"`
	sheet.Remarks
}

// Drill returns the row with everything the hand needs. It fails where
// Row.Expand does, on a grade that has not two diameters and a count of at
// least 2, on sizes of bar, depth or edge finder that are not above 0, and
// when a hole is as large as the bar or the row runs off the bar.
func Drill(in Input) (Result, error) {
	var l check.List
	in.check(&l)
	graded, err := in.grade()
	l.Add(err)
	if err != nil {
		return Result{}, l.Err()
	}
	row := in.Row
	if graded != nil {
		row.Dias = make([]units.Length, len(graded))
		for i, g := range graded { // the first and the last as they were asked for
			if i > 0 && i < in.Count-1 {
				g = in.drill(g).Dia
			}
			row.Dias[i] = g
		}
	}
	centres, err := row.Expand()
	l.Add(err)
	if err := l.Err(); err != nil {
		return Result{}, err
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
		r.EdgeOffset = new(in.EdgeFinder.Half())
	}
	if in.Off != nil {
		r.Slope = new(StartSlope(*in.Bar, *in.Off))
	}
	r.Caution(cautions.VBlocks, cautions.GrabDrill, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

func (in Input) check(l *check.List) {
	l.Above0("bar", in.Bar, "length", in.Length, "depth", in.Depth, "edge-finder", in.EdgeFinder)
	l.NotBelow0("off-centre", in.Off)
	switch {
	case in.Off == nil:
	case in.Bar == nil:
		l.Add(problem.New(problem.Missing, "bar", nil,
			"is needed with ", say.Key("off-centre"), ": the slope depends on the bar's diameter"))
	case in.Off.Times(2).Cmp(*in.Bar) >= 0:
		l.Add(problem.New(problem.OutOfRange, "off-centre", in.Off, "must be under the bar's radius, ", in.Bar.Half()))
	}
	l.Refuse(in.Depth != nil && in.Bar != nil && in.Depth.Cmp(*in.Bar) >= 0, problem.OutOfRange, "depth", in.Depth,
		"a blind hole is shallower than the bar, ", in.Bar, ": leave it out to drill through")
}

// grade returns the diameters of a graded row before they are snapped, nil
// when the row is not graded:
//
//	arithmetic  d1 + (dn - d1)·i/(n - 1)
//	geometric   d1·(dn/d1)^(i/(n - 1))
func (in Input) grade() ([]units.Length, error) {
	var l check.List
	switch {
	case in.Grade == "" && len(in.Dias) == 2 && in.Count > 2:
		l.Add(problem.New(problem.Missing, "grade", nil,
			"two diameters and a count of ", in.Count, ": say how they run, arithmetic or geometric"))
	case in.Grade == "":
		return nil, nil
	default:
		check.OneOf(&l, "grade", string(in.Grade), Grades())
		if len(in.Dias) != 2 || in.Count < 2 {
			l.Add(problem.New(problem.Missing, "grade", string(in.Grade),
				"needs the first and the last diameter, and a count of at least 2"))
			break
		}
		l.Between("count", in.Count, 2, MaxHoles, "holes")
		l.Above0("dias", in.Dias[0], "dias", in.Dias[1])
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	first, last := in.Dias[0], in.Dias[1]
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

// drill returns the nearest drill in the drawer, or the nearest that is made
// where no drawer is known.
func (in Input) drill(dia units.Length) drills.Drill {
	if d, _, ok := in.Drawer.Nearest(dia, units.Nearest); ok {
		return d
	}
	return drills.Nearest(drills.All(), dia)
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

// onTheBar refuses holes the bar cannot have, the first of each kind.
func (in Input) onTheBar(centres []Centre) error {
	var l check.List
	if i := slices.IndexFunc(centres, func(c Centre) bool { return in.Bar != nil && c.Dia.Cmp(*in.Bar) >= 0 }); i >= 0 {
		l.Add(problem.New(problem.Impossible, "dias", centres[i].Dia, "as large as the bar, ", in.Bar))
	}
	off := func(c Centre) bool { return in.Length != nil && (c.At.Sign() < 0 || in.Length.Less(c.At)) }
	if i := slices.IndexFunc(centres, off); i >= 0 {
		c := centres[i]
		l.Add(problem.New(problem.Impossible, "length", in.Length, "hole ", c.N, " at ", c.At, " is not on the bar"))
	}
	return l.Err()
}

// fill computes every hole of the row, and the way back along each roll.
func (r *Result) fill(centres []Centre, graded []units.Length) {
	in := r.Inputs
	perRoll := len(centres) / max(1, len(in.Rolls))
	for i, c := range centres {
		drill := in.drill(c.Dia)
		h := Hole{
			N: c.N, Dia: c.Dia, Drill: drill.Name, DiaSet: drill.Dia, At: c.At, Roll: c.Roll,
			OnDial: setOn(in.Table, c.At),
		}
		if graded != nil {
			h.Graded = &graded[i%perRoll]
		}
		if i%perRoll > 0 {
			before := centres[i-1]
			h.Step = new(c.At.Minus(before.At))
			h.Web = new(h.Step.Minus(c.Dia.Plus(before.Dia).Half()))
		}
		if in.Length != nil {
			h.FromEnd = new(in.Length.Minus(c.At))
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
	through, depth := in.Depth == nil, *cmp.Or(in.Depth, in.Bar)
	d := DepthOf(drill.Dia, practice.PointAngle.Angle(), depth, through)
	h.DrillDepth = new(d.Total.Down())
	if through {
		h.DrillDepth = new(d.Total.Up())
	}
	peck, both := Manner(drill.Dia, depth, through)
	h.Peck, h.BothSides = &peck, &both
	var manner []string
	if practice.PilotAbove.Length().Less(drill.Dia) {
		h.Pilot = new(in.drill(practice.PilotPart.Of(drill.Dia)).Name)
		manner = append(manner, "pilot "+*h.Pilot)
	}
	if peck {
		manner = append(manner, "peck")
	}
	if both {
		manner = append(manner, "from both sides")
	}
	h.Manner = new(cmp.Or(say.Join(manner, ", "), "straight"))
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
		if known[h.Drill] == nil {
			f, err := feeds.Choose(feeds.Input{
				Operation: feeds.Drill, Material: in.Material, Diameter: h.DiaSet,
				Drive: in.Drive,
			})
			if err != nil {
				return err
			}
			known[h.Drill] = cmp.Or(f.RPM, &f.IdealRPM)
			if i == 0 {
				r.Cautions, r.Inputs.Material = f.Cautions, f.Inputs.Material
			}
		}
		h.RPM = known[h.Drill]
	}
	return nil
}

// crossings says where two holes of the row run into each other: on one roll a
// wall under 0, which is a no, and between rolls on the bar's axis.
func (r *Result) crossings() {
	for _, h := range r.Holes {
		if h.Web != nil && h.Web.Sign() < 0 {
			r.No(problem.New(problem.WallTooThin, "holes", say.Of("holes ", h.N-1, " and ", h.N),
				"run into each other by ", h.Web.Neg(), ": the step must be at least ", h.Step.Minus(*h.Web).Up()))
			break
		}
	}
	byPlace := slices.Clone(r.Holes)
	slices.SortStableFunc(byPlace, func(a, b Hole) int { return a.At.Cmp(b.At) })
	for i, a := range byPlace[:len(byPlace)-1] {
		b := byPlace[i+1]
		wall := b.At.Minus(a.At).Minus(a.Dia.Plus(b.Dia).Half())
		if a.Roll != b.Roll && wall.Sign() < 0 {
			r.Warn("crossing", "holes ", min(a.N, b.N), " and ", max(a.N, b.N),
				" are on different rolls and meet on the bar's axis if both reach it")
			return
		}
	}
}

// instruments says which instruments were missing and which drills are off.
func (r *Result) instruments() {
	in := r.Inputs
	tellTable(&r.Remarks, in.Table)
	where := " drill in the drawer: "
	if len(in.Drawer) == 0 {
		r.NotChecked("drills", "no drills in this shop: the nearest size that is made is named")
		where = " drill made: "
	}
	var named []units.Length
	for _, h := range r.Holes {
		off := h.DiaSet.Minus(h.Dia)
		if off.Sign() == 0 || slices.ContainsFunc(named, h.Dia.Equal) {
			continue
		}
		named = append(named, h.Dia)
		side := " over"
		if off.Sign() < 0 {
			side = " under"
		}
		r.Warn("drill-off", "no ", h.Dia, where, h.Drill, " is the nearest, ", off.Abs(), side)
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

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Row of holes")
	s.Remark(&r.EdgeOffset, "from touching the datum end, move on by this and zero the dial")
	if r.Slope != nil {
		s.Remark(&r.Slope, in.Off, " off the centre line: find the top of the bar again, and spot it")
		s.Step("slope", "asin(2*e/D)", r.Slope, "e", in.Off, "D", in.Bar)
	}
	s.Figures()
	r.table(s)
	r.working(s)
	s.Note("Positions are set from the datum, not from the last hole. ",
		"Wind up to each from the datum's side, so that the screw's play stays taken up.")
	if len(in.Rolls) > 1 {
		s.Note("Rolls are counter-clockwise seen from the right end, 0 is up. ",
			"For each roll wind back past the datum and come up again.")
	}
	if len(r.Checks) > 0 {
		s.Note("The last line is the way back: ",
			"the steps taken off the last hole of the first roll must end at its first.")
	}
	s.Note("Spot every hole first: a drill wanders on a round.")
	if in.Material != "" && in.Drive.Machine != "" {
		s.Note("Speeds are those of the ", in.Drive.Machine.Name(), " for ", in.Material, ".")
	}
	if slices.ContainsFunc(r.Holes, func(h Hole) bool { return h.BothSides != nil && *h.BothSides }) {
		s.Note("Deeper than five diameters: drill to the middle from one side, roll the bar half a turn, ",
			"and meet it from the other.")
	}
	return *s
}

// working shows how the second hole comes from the first.
func (r Result) working(s *sheet.Sheet) {
	if len(r.Holes) < 2 || r.Holes[1].Step == nil {
		return
	}
	in, a, b := r.Inputs, r.Holes[0], r.Holes[1]
	formula, letters := "z1 + (d1 + d2)/2 + w", []any{"d1", a.Dia, "d2", b.Dia}
	switch {
	case in.Pitch != nil:
		formula, letters = "z1 + p", []any{"p", in.Pitch}
	case in.Span != nil:
		formula, letters = "z1 + L/(n - 1)", []any{"L", in.Span, "n", len(r.Holes) / max(1, len(in.Rolls))}
	default:
		letters = append(letters, "w", in.Web)
	}
	s.Step("z2", formula, b.At, append(letters, "z1", a.At)...)
}

// table adds the table of holes, with the way back along the first roll.
func (r Result) table(s *sheet.Sheet) {
	t := s.Table(r.Holes, "From the datum")
	if len(r.Checks) > 0 {
		c := r.Checks[0]
		back := Hole{Drill: "back", At: c.First, Step: &c.Back, OnDial: c.OnDial, Roll: c.Roll, FromEnd: r.Holes[0].FromEnd}
		t.CheckedRow(back, "n", "dia_mm")
	}
	if len(r.Inputs.Rolls) == 0 {
		t.Without("roll_deg")
	}
	t.WithoutEmpty()
}
