package drill

import (
	"slices"
	"strings"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/limits"
)

// Input is a thread to tap. Percent is on the base 1.299038 P and replaces the
// material's. Depth is the length of full thread in a blind hole. Tap is plug
// where nothing is said. Drills says which drills to choose from: metric,
// inch, all or shop; where nothing is said, the drawer when there is one, else
// the system of the thread. Drawer and Taps are what the shop has, empty when
// not known.
type Input struct {
	Thread   threads.Designation `json:"thread"`
	Percent  *units.Number       `json:"percent,omitempty"`
	Material string              `json:"material,omitempty"`
	Depth    *units.Length       `json:"depth_mm,omitempty"`
	Tap      Tap                 `json:"tap"`
	Forming  bool                `json:"forming"`
	Drills   string              `json:"drills"`
	Drawer   shop.Drawer         `json:"-"`
	Taps     []string            `json:"-"`
}

// Choice is one drill: its percentages by its own size, whether that lies in
// the nut's minor limits, and the hole it really cuts. Percentages that do not
// exist are nil: both for a taper thread, the ISO one for forming taps and for
// threads that are not 60°. InLimits is nil where the form has no limits.
type Choice struct {
	Name        string        `json:"name" show:"drill"`
	Size        units.Length  `json:"size_mm" show:"size"`
	Percent     *units.Number `json:"percent" show:"percent" as:"1 %"`
	PercentISO  *units.Number `json:"percent_iso" show:"percent ISO" as:"1 %"`
	InLimits    *bool         `json:"in_limits" show:"in limits"`
	Cuts        units.Length  `json:"cuts_mm" show:"really cuts"`
	CutsPercent *units.Number `json:"cuts_percent" show:"percent then" as:"1 %"`
	InDrawer    *bool         `json:"in_drawer" show:"in the drawer"`
}

// Result is the hole for a thread.
type Result struct {
	Inputs        Input         `json:"inputs"`
	Designation   string        `json:"designation"`
	Recommended   *string       `json:"recommended" show:"drill"`
	Target        units.Length  `json:"target_mm" show:"target hole"`
	TargetPercent *units.Number `json:"target_percent" show:"target percentage" as:"1 %"`
	Choices       []Choice      `json:"choices"`
	MinorMin      *units.Length `json:"minor_min_mm" show:"hole, at least" as:"up" note:"minor diameter of the nut"`
	MinorMax      *units.Length `json:"minor_max_mm" show:"hole, at most" as:"down"`
	Clearance     *Clearance    `json:"clearance_holes"`
	TapLead       units.Length  `json:"tap_lead_mm" show:"the tap's lead" as:"up"`
	DrillDepth    *units.Length `json:"drill_depth_mm" show:"drill, full diameter to" as:"up"`
	Point         *units.Length `json:"point_mm"`
	TotalDepth    *units.Length `json:"total_depth_mm" show:"to the drill's tip" as:"up" note:"118° point"`
	Missing       []string      `json:"missing"`
	sheet.Remarks

	because  sheet.Text
	material *materials.Material
	best     *Choice
}

// Sets lists the words for the drills to choose from.
func Sets() []string { return []string{"metric", "inch", "all", inShop} }

const inShop = "shop"

// bounds of the percentage, and of the depth in diameters.
const (
	leastPercent, mostPercent = 30, 100
	deepest                   = 100
)

// For returns the hole for a thread: the target, the drills on both sides of
// it, the recommended one (nearest to the target inside the nut's minor
// limits), the clearance hole and the depth.
//
// percent runs from 30 to 100. depth is above 0 and at most 100 times the
// diameter. It fails on a percentage for a taper thread, a forming tap for one
// that is not 60° and for a material that does not flow, on shop drills where
// the shop has none, and on an unknown material.
func For(in Input) (Result, error) {
	if in.Tap == "" {
		in.Tap = PlugTap
	}
	said := in.Drills != ""
	if !said {
		in.Drills = system(in)
	}
	r := Result{Inputs: in, Designation: in.Thread.String(), Missing: []string{}, Clearance: ClearanceHoles(in.Thread)}
	if !said && len(in.Drawer) == 0 {
		r.NotChecked("drills", "no drills in this shop: these are the sizes that are made")
	}
	if err := r.check(); err != nil {
		return Result{}, err
	}
	r.aim()
	r.choose()
	r.depth()
	r.kit()
	r.remark()
	return r, nil
}

// system returns the drills to choose from where nothing was said.
func system(in Input) string {
	switch {
	case len(in.Drawer) > 0:
		return inShop
	case in.Thread.Form.Inch():
		return "inch"
	}
	return "metric"
}

func (r *Result) check() error {
	in := r.Inputs
	var list check.List
	if in.Material != "" {
		m, err := materials.Find(in.Material)
		list.Add(err)
		r.material = m
	}
	check.OneOf(&list, "tap", string(in.Tap), Taps())
	check.OneOf(&list, "drills", in.Drills, Sets())
	if in.Drills == inShop && len(in.Drawer) == 0 {
		list.Add(problem.New(problem.NotAvailable, "drills", inShop,
			"the shop has no drills (drills): write metric, inch or all"))
	}
	if in.Percent != nil && in.Thread.Form.Tapered() {
		list.Add(problem.New(problem.Contradiction, "percent", *in.Percent,
			"a taper thread has no percentage: its hole follows from the small end"))
	} else {
		list.Between("percent", in.Percent, leastPercent, mostPercent, "% of full thread")
	}
	list.Above0To("depth", in.Depth, in.Thread.Major.Times(deepest))
	if in.Forming && in.Thread.Form.Tapping != threads.ByCharts {
		list.Add(problem.New(problem.Contradiction, "forming", in.Thread,
			"forming taps are made for metric and unified threads"))
	} else if in.Forming && r.material.Has(materials.Crumbles) {
		list.Add(problem.New(problem.Impossible, "forming", r.material.Name,
			"a forming tap needs a material that flows; this one crumbles or splits: cut the thread"))
	}
	return list.Err()
}

// aim sets the target.
func (r *Result) aim() {
	in := r.Inputs
	d := in.Thread
	aim, ok := Target(d, r.material, in.Depth)
	switch {
	case !ok: // a straight hole reaches the root where the thread ends: at the small end
		r.Target, r.because = d.Ends().ChamferTo, "the minor diameter at the small end, for a straight hole"
		return
	case in.Percent != nil:
		aim = Aim{float64(*in.Percent), "as asked"}
	case in.Forming:
		percent := practice.ThreadPercentForming.Number()
		aim = Aim{percent, sheet.Text("forming taps: ") + say.Num(percent, 1) + " (common practice)"}
	}
	n := units.Number(aim.Percent)
	r.TargetPercent, r.because = &n, aim.Because
	r.Target = Hole(d, aim.Percent)
	if in.Forming {
		r.Target = FormingHole(d, aim.Percent)
	}
}

// from returns the drills to choose from, a size that two systems share once.
func (r *Result) from() []drills.Drill {
	list := map[string]func() []drills.Drill{"metric": drills.Metric, "inch": inchDrills, "all": drills.All}
	from := []drills.Drill(r.Inputs.Drawer)
	if of, made := list[r.Inputs.Drills]; made {
		from = of()
	}
	same := func(a, b drills.Drill) bool { return a.Dia.Equal(b.Dia) }
	return slices.CompactFunc(slices.Clone(from), same)
}

// inchDrills returns every number, letter and fractional drill, rising.
func inchDrills() []drills.Drill {
	return slices.DeleteFunc(slices.Clone(drills.All()), func(d drills.Drill) bool { return d.Series == "metric" })
}

// beside is how many drills are shown on each side of the target.
const beside = 3

// choose lists the drills on both sides of the target and recommends one.
func (r *Result) choose() {
	in := r.Inputs
	_, class, _ := limits.Choose(in.Thread, "")
	if i := limits.Of(in.Thread, "", class).Internal; i != nil && !in.Forming {
		r.MinorMin, r.MinorMax = &i.MinorMin, &i.MinorMax
	}
	list := r.from()
	all := make([]Choice, len(list))
	for i, x := range list {
		all[i] = r.choice(x)
	}
	middle := slices.IndexFunc(all, func(c Choice) bool { return !c.Size.Less(r.Target) })
	if middle < 0 {
		middle = len(all)
	}
	from, to := max(0, middle-beside), min(len(all), middle+beside)
	best := r.nearest(all)
	if best >= 0 { // a target outside the limits: show the drills up to the one inside
		from, to = min(from, best), max(to, best+1)
	}
	r.Choices = all[from:to]
	for i := range r.Choices {
		c := &r.Choices[i]
		c.Cuts = Cuts(c.Size, r.material)
		c.CutsPercent = r.percent(c.Cuts)
	}
	if best >= 0 {
		r.best = &all[best]
		r.Recommended = &r.best.Name
	}
}

// nearest returns the place of the drill nearest to the target that gives a
// hole inside the limits or, for a form without limits, not under the nut's
// minor diameter; -1 when there is none.
func (r *Result) nearest(all []Choice) int {
	best := -1
	off := func(i int) units.Length { return all[i].Size.Minus(r.Target).Abs() }
	for i, c := range all {
		switch {
		case c.InLimits != nil && !*c.InLimits:
		case c.InLimits == nil && c.Percent != nil && *c.Percent > mostPercent:
		case c.Percent == nil && off(i).Cmp(r.Inputs.Thread.Pitch.Length(0.25)) > 0: // no such drill
		case best < 0 || off(i).Less(off(best)):
			best = i
		}
	}
	return best
}

// percent returns the percentage of thread in a hole, nil for a taper thread.
func (r *Result) percent(hole units.Length) *units.Number {
	d := r.Inputs.Thread
	switch {
	case d.Form.Tapered():
		return nil
	case r.Inputs.Forming:
		return number(FormingPercent(d, hole))
	}
	return number(Percent(d, hole))
}

func number(v float64) *units.Number {
	n := units.Number(v)
	return &n
}

// choice returns a drill as a choice, without what it really cuts.
func (r *Result) choice(x drills.Drill) Choice {
	in := r.Inputs
	c := Choice{Name: x.Name, Size: x.Dia, Percent: r.percent(x.Dia)}
	switch {
	case in.Forming:
		least, most := practice.FormingLeast.Number(), practice.FormingMost.Number()
		inside := float64(*c.Percent) >= least && float64(*c.Percent) <= most
		c.InLimits = &inside
	case r.MinorMin != nil:
		inside := x.Dia.Cmp(*r.MinorMin) >= 0 && x.Dia.Cmp(*r.MinorMax) <= 0
		c.InLimits = &inside
	}
	if !in.Forming && in.Thread.Form.Tapping == threads.ByCharts {
		c.PercentISO = number(PercentISO(in.Thread, x.Dia))
	}
	if len(in.Drawer) > 0 {
		have := slices.ContainsFunc(in.Drawer, func(o drills.Drill) bool { return o.Dia.Equal(x.Dia) })
		c.InDrawer = &have
	}
	return c
}

// depth adds the tap's lead and the drill's point to the full thread. Depths
// that must be reached are rounded up to 0.1 mm.
func (r *Result) depth() {
	in := r.Inputs
	r.TapLead = in.Tap.Lead(in.Thread.Pitch)
	if in.Depth == nil {
		return
	}
	tenth := units.MustLength("0.1mm")
	deep := in.Depth.Plus(r.TapLead).RoundTo(tenth, units.Up)
	tip := units.FromFloat(r.drilled().MM() / (2 * practice.PointAngle.Angle().Half().Tan()))
	total := deep.Plus(tip).RoundTo(tenth, units.Up)
	r.DrillDepth, r.Point, r.TotalDepth = &deep, &tip, &total
}

// drilled returns the drill the depth is reckoned with.
func (r *Result) drilled() units.Length {
	if r.best != nil {
		return r.best.Size
	}
	return r.Target
}

// kit says what is missing from the shop. A tap is in the shop when its text
// reads as the same thread.
func (r *Result) kit() {
	bare := func(d threads.Designation) string {
		d.Class = ""
		return d.String()
	}
	want := bare(r.Inputs.Thread)
	have := func(text string) bool {
		t, err := threads.Parse(text)
		return err == nil && bare(t) == want
	}
	if len(r.Inputs.Taps) > 0 && !slices.ContainsFunc(r.Inputs.Taps, have) {
		r.Missing = append(r.Missing, "tap "+want)
	}
	if r.best != nil && r.best.InDrawer != nil && !*r.best.InDrawer {
		r.Missing = append(r.Missing, "drill "+r.best.Name)
	}
	if len(r.Missing) > 0 {
		r.Warn("not-in-shop", "not in this shop: ", strings.Join(r.Missing, ", "))
	}
}

func (r *Result) remark() {
	in := r.Inputs
	switch {
	case r.best == nil:
		r.Warn("no-drill", "none of these drills gives a hole inside the limits of the nut's minor diameter: bore it, ",
			"or choose from all drills")
	case r.MinorMax == nil:
	case r.Target.Less(*r.MinorMin) || r.MinorMax.Less(r.Target):
		r.Warn("target-outside", "the target hole lies outside the limits of the nut's minor diameter, ",
			r.MinorMin.Up(), " to ", r.MinorMax.Down(), ": the drill is the nearest inside")
	}
	if r.best != nil && r.MinorMax != nil && r.MinorMax.Less(r.best.Cuts) {
		safer := sheet.Text("")
		if x := r.safer(); x != nil {
			safer = say.Of(": where the class matters take ", x.Name, ", which cuts about ", x.Cuts)
		}
		r.Warn("cuts-over", "drill ", r.best.Name, " cuts about ", r.best.Cuts, ", above the largest minor diameter ",
			r.MinorMax.Down(), safer)
	}
	if r.material.Has(materials.CoarseThreads) && in.Thread.Series != in.Thread.Form.Coarse {
		r.Warn("coarse-only", r.material.Title, " holds coarse threads only: this one strips early")
	}
	r.cautions()
}

func (r *Result) cautions() {
	r.Caution(cautions.EyeProtection, cautions.ClampDrill, cautions.TapBreak)
	if r.Inputs.Forming {
		r.Caution(cautions.FormingTap)
	}
	if r.Inputs.Depth != nil {
		r.Caution(cautions.BlindTap)
	}
	for _, c := range []struct {
		trait   materials.Trait
		caution say.Text
	}{
		{materials.ClosesOnTap, cautions.TapPlastic},
		{materials.SplitsOnTap, cautions.TapLaminate},
		{materials.GrabsDrill, cautions.GrabDrill},
	} {
		if r.material.Has(c.trait) {
			r.Caution(c.caution)
		}
	}
	r.Caution(cautions.Manual)
}

// safer returns the largest choice whose real hole stays inside the limits.
func (r *Result) safer() *Choice {
	var best *Choice
	for i, c := range r.Choices {
		if c.Cuts.Cmp(*r.MinorMax) <= 0 && c.Cuts.Cmp(*r.MinorMin) >= 0 {
			best = &r.Choices[i]
		}
	}
	return best
}
