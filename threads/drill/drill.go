package drill

import (
	"fmt"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
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
	Name        string        `json:"name"`
	Size        units.Length  `json:"size_mm"`
	Percent     *units.Number `json:"percent"`
	PercentISO  *units.Number `json:"percent_iso"`
	InLimits    *bool         `json:"in_limits"`
	Cuts        units.Length  `json:"cuts_mm"`
	CutsPercent *units.Number `json:"cuts_percent"`
	InDrawer    *bool         `json:"in_drawer"`
}

// Result is the hole for a thread.
type Result struct {
	Inputs        Input         `json:"inputs"`
	Designation   string        `json:"designation"`
	Target        units.Length  `json:"target_mm"`
	TargetPercent *units.Number `json:"target_percent"`
	Recommended   *string       `json:"recommended"`
	Choices       []Choice      `json:"choices"`
	MinorMin      *units.Length `json:"minor_min_mm"`
	MinorMax      *units.Length `json:"minor_max_mm"`
	Clearance     *Clearance    `json:"clearance_holes"`
	TapLead       units.Length  `json:"tap_lead_mm"`
	DrillDepth    *units.Length `json:"drill_depth_mm"`
	Point         *units.Length `json:"point_mm"`
	TotalDepth    *units.Length `json:"total_depth_mm"`
	Missing       []string      `json:"missing"`
	sheet.Remarks

	because  string
	material *materials.Material
	best     *Choice
}

// Sets lists the words for the drills to choose from.
func Sets() []string { return []string{"metric", "inch", "all", "shop"} }

// bounds of the percentage, and of what a forming tap raises.
const (
	leastPercent, mostPercent = 30, 100
	formLeast, formMost       = 55, 80 // common practice, no source
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
	r := Result{Inputs: in, Designation: in.Thread.String(), Missing: []string{}}
	if !said && len(in.Drawer) == 0 {
		r.Warnings.Add("not-checked", "no drills in this shop: these are the sizes that are made (drills)")
	}
	if err := r.check(); err != nil {
		return Result{}, err
	}
	if err := r.aim(); err != nil {
		return Result{}, err
	}
	r.choose()
	r.Clearance = ClearanceHoles(in.Thread)
	r.depth()
	r.kit()
	r.remark()
	return r, nil
}

// system returns the drills to choose from where nothing was said.
func system(in Input) string {
	switch {
	case len(in.Drawer) > 0:
		return "shop"
	case in.Thread.Inch():
		return "inch"
	}
	return "metric"
}

func (r *Result) check() error {
	in := r.Inputs
	d := in.Thread
	var list problem.List
	if in.Material != "" {
		m, err := materials.Find(in.Material)
		list.Add(err)
		r.material = m
	}
	if !slices.Contains(Taps(), string(in.Tap)) {
		list.Add(problem.New(problem.Unknown, "tap", string(in.Tap), "write "+strings.Join(Taps(), " or ")).Near(Taps()))
	}
	if !slices.Contains(Sets(), in.Drills) {
		list.Add(problem.New(problem.Unknown, "drills", in.Drills, "write "+strings.Join(Sets(), " or ")).Near(Sets()))
	}
	if in.Drills == "shop" && len(in.Drawer) == 0 {
		list.Add(problem.New(problem.NotAvailable, "drills", "shop", "the shop has no drills (drills): write metric, inch or all"))
	}
	if p := in.Percent; p != nil {
		switch {
		case d.Form.Tapered():
			list.Add(problem.New(problem.Contradiction, "percent", *p, "a taper thread has no percentage: its hole follows from the small end"))
		case *p < leastPercent || *p > mostPercent:
			list.Add(problem.New(problem.OutOfRange, "percent", *p, fmt.Sprintf("a thread is %d to %d %% full", leastPercent, mostPercent)))
		}
	}
	if l := in.Depth; l != nil && (l.Sign() <= 0 || l.Cmp(d.Major.Times(100)) > 0) {
		list.Add(problem.New(problem.OutOfRange, "depth", *l, "the full thread is above 0 and at most 100 diameters deep"))
	}
	if in.Forming {
		switch m := r.material; {
		case !sixty(d):
			list.Add(problem.New(problem.Contradiction, "forming", d.String(), "forming taps are made for metric and unified threads"))
		case m != nil && (m.Group == materials.Iron || m.Group == materials.Laminate || m.Group == materials.Wood || m.Name == "free-cutting-brass" || m.Name == "hardened-steel"):
			list.Add(problem.New(problem.Impossible, "forming", m.Name, "a forming tap needs a material that flows; this one crumbles or splits: cut the thread"))
		}
	}
	return list.Err()
}

// aim sets the target.
func (r *Result) aim() error {
	in := r.Inputs
	d := in.Thread
	if d.Form.Tapered() {
		// A straight hole reaches the root where the thread ends: at the small end.
		r.Target = d.Ends().ChamferTo
		r.because = "the minor diameter at the small end, for a straight hole"
		return nil
	}
	aim, _ := Target(d, r.material, in.Depth)
	switch {
	case in.Percent != nil:
		aim = Aim{float64(*in.Percent), "as asked"}
	case in.Forming:
		aim = Aim{65, "forming taps: 65 (common practice)"}
	}
	n := units.Number(aim.Percent)
	r.TargetPercent, r.because = &n, aim.Because
	r.Target = Hole(d, aim.Percent)
	if in.Forming {
		r.Target = FormingHole(d, aim.Percent)
	}
	return nil
}

// from returns the drills to choose from.
func (r *Result) from() []drills.Drill {
	switch r.Inputs.Drills {
	case "shop":
		return r.Inputs.Drawer
	case "metric":
		return drills.Metric()
	}
	if r.Inputs.Drills == "all" {
		return drills.All()
	}
	return inchDrills()
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
	d := in.Thread
	_, class, _ := limits.Choose(d, "")
	if i := limits.Of(d, "", class).Internal; i != nil && !in.Forming {
		r.MinorMin, r.MinorMax = &i.MinorMin, &i.MinorMax
	}
	var list []drills.Drill
	for _, x := range r.from() { // a size that two systems share stands once
		if n := len(list); n == 0 || !list[n-1].Dia.Equal(x.Dia) {
			list = append(list, x)
		}
	}
	all := make([]Choice, len(list))
	for i, x := range list {
		all[i] = r.choice(x)
	}
	at := slices.IndexFunc(all, func(c Choice) bool { return !c.Size.Less(r.Target) })
	if at < 0 {
		at = len(all)
	}
	from, to := max(0, at-beside), min(len(all), at+beside)
	best := r.nearest(all)
	if best >= 0 { // a target outside the limits: show the drills up to the one inside
		from, to = min(from, best), max(to, best+1)
	}
	r.Choices = all[from:to]
	if best >= 0 {
		r.best = &r.Choices[best-from]
		r.Recommended = &r.best.Name
	}
}

// nearest returns the place of the drill nearest to the target that gives a
// hole inside the limits or, for a form without limits, not under the nut's
// minor diameter; -1 when there is none.
func (r *Result) nearest(all []Choice) int {
	best := -1
	for i, c := range all {
		switch {
		case c.InLimits != nil && !*c.InLimits:
		case c.InLimits == nil && c.Percent != nil && *c.Percent > mostPercent:
		case c.Percent == nil && r.Target.Minus(c.Size).Abs().Cmp(r.Inputs.Thread.Pitch.Length(0.25)) > 0: // no such drill
		case best < 0 || c.Size.Minus(r.Target).Abs().Less(all[best].Size.Minus(r.Target).Abs()):
			best = i
		}
	}
	return best
}

func (r *Result) choice(x drills.Drill) Choice {
	in := r.Inputs
	d := in.Thread
	c := Choice{Name: x.Name, Size: x.Dia, Cuts: Cuts(x.Dia, r.material)}
	number := func(v float64) *units.Number { n := units.Number(v); return &n }
	switch {
	case d.Form.Tapered():
	case in.Forming:
		c.Percent, c.CutsPercent = number(FormingPercent(d, x.Dia)), number(FormingPercent(d, c.Cuts))
		in := *c.Percent >= formLeast && *c.Percent <= formMost
		c.InLimits = &in
	default:
		c.Percent, c.CutsPercent = number(Percent(d, x.Dia)), number(Percent(d, c.Cuts))
		if sixty(d) {
			c.PercentISO = number(PercentISO(d, x.Dia))
		}
		if r.MinorMin != nil {
			in := x.Dia.Cmp(*r.MinorMin) >= 0 && x.Dia.Cmp(*r.MinorMax) <= 0
			c.InLimits = &in
		}
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
	r.DrillDepth = &deep
	tip := units.FromFloat(point * r.drilled().MM())
	total := deep.Plus(tip).RoundTo(tenth, units.Up)
	r.Point, r.TotalDepth = &tip, &total
}

// kit says what is missing from the shop. A tap is in the shop when its text
// reads as the same thread.
func (r *Result) kit() {
	in := r.Inputs
	if len(in.Taps) > 0 {
		bare := in.Thread
		bare.Class = ""
		if !slices.ContainsFunc(in.Taps, func(text string) bool {
			t, err := threads.Parse(text)
			t.Class = ""
			return err == nil && t.String() == bare.String()
		}) {
			r.Missing = append(r.Missing, "tap "+bare.String())
		}
	}
	if r.best != nil && r.best.InDrawer != nil && !*r.best.InDrawer {
		r.Missing = append(r.Missing, "drill "+r.best.Name)
	}
	if len(r.Missing) > 0 {
		r.Warnings.Add("not-in-shop", "not in this shop: "+strings.Join(r.Missing, ", "))
	}
}

func (r *Result) remark() {
	in := r.Inputs
	d := in.Thread
	switch {
	case r.best == nil:
		r.Warnings.Add("no-drill", "none of these drills gives a hole inside the limits of the nut's minor diameter: bore it, or choose from --drills all")
	case r.MinorMax == nil:
	case r.Target.Cmp(*r.MinorMin) < 0 || r.Target.Cmp(*r.MinorMax) > 0:
		r.Warnings.Add("target-outside", fmt.Sprintf("the target hole lies outside the limits of the nut's minor diameter, %s to %s: the drill is the nearest inside", sheet.Inline(*r.MinorMin, units.Up), sheet.Inline(*r.MinorMax, units.Down)))
	}
	if r.best != nil && r.MinorMax != nil && r.MinorMax.Less(r.best.Cuts) {
		text := fmt.Sprintf("drill %s cuts about %s, above the largest minor diameter %s", r.best.Name, sheet.Inline(r.best.Cuts, units.Nearest), sheet.Inline(*r.MinorMax, units.Down))
		if x := r.safer(); x != nil {
			text += fmt.Sprintf(": where the class matters take %s, which cuts about %s", x.Name, sheet.Inline(x.Cuts, units.Nearest))
		}
		r.Warnings.Add("cuts-over", text)
	}
	if coarseOnly(r.material) && !coarse(d) {
		r.Warnings.Add("coarse-only", r.material.Title+" holds coarse threads only: this one strips early")
	}
	r.Caution(cautions.EyeProtection, cautions.ClampDrill, cautions.TapBreak)
	if in.Forming {
		r.Caution(cautions.FormingTap)
	}
	if in.Depth != nil {
		r.Caution(cautions.BlindTap)
	}
	for _, c := range []struct {
		trait   materials.Trait
		caution string
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
