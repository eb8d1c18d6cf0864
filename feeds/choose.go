package feeds

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Input is a cut. Diameter is what sets the surface speed: the work's for an
// operation on the lathe, the tool's otherwise, the wheel's for a belt or a
// band. To is the other end of a taper, the inner diameter of a face, or the
// small end of a countersink. Tool "" is high-speed steel. Depth is a side.
// Feed is per revolution, per tooth for milling, and a pitch for threads and
// taps; so its key names neither. RPM asks for a speed instead of the best
// one; MaxRPM is the lowest speed marked on work-holder, cutter or wheel. What
// is nil is chosen. A nil instrument is not owned.
type Input struct {
	Operation Operation           `json:"operation"`
	Material  string              `json:"material"`
	Diameter  units.Length        `json:"diameter_mm"`
	To        *units.Length       `json:"to_mm,omitempty"`
	Tool      Tool                `json:"tool"`
	Teeth     *int                `json:"teeth,omitempty"`
	Depth     *units.Length       `json:"depth_mm,omitempty"`
	Width     *units.Length       `json:"width_mm,omitempty"`
	Length    *units.Length       `json:"length_mm,omitempty"`
	Feed      *units.Feed         `json:"feed_mm,omitempty"`
	RPM       *units.SpindleSpeed `json:"rpm,omitempty"`
	MaxRPM    *units.SpindleSpeed `json:"max_rpm,omitempty"`
	Finish    bool                `json:"finish"`

	Drive shop.Drive       `json:"-"`
	Blade *units.Length    `json:"-"` // the parting blade
	Bars  []shop.BoringBar `json:"-"`
}

// Result is how a cut is run. Speeds and feeds are those of the machine's own
// speed RPM, which is nil without a machine; then feed rate, power and time
// are at the ideal speed. What an operation does not have is nil: a feed where
// it is a pitch that was not given, a power where the chip is not known.
type Result struct {
	Inputs         Input               `json:"inputs"`
	Machine        *shop.Machine       `json:"machine"`
	RPM            *units.SpindleSpeed `json:"rpm" show:"run at" as:"0"`
	IdealRPM       units.SpindleSpeed  `json:"ideal_rpm" show:"ideal speed" as:"0 down"`
	CuttingSpeed   units.SurfaceSpeed  `json:"cutting_speed_m_min" show:"cutting speed" as:"1/0"`
	SpeedLow       units.SurfaceSpeed  `json:"cutting_speed_low_m_min"`
	SpeedHigh      units.SurfaceSpeed  `json:"cutting_speed_high_m_min"`
	ActualSpeed    *units.SurfaceSpeed `json:"actual_speed_m_min" show:"which gives" as:"1/0"`
	Feed           *units.Feed         `json:"feed_mm_rev" show:"feed"`
	Chip           *units.Length       `json:"chip_mm" show:"a tooth takes"`
	FeedRate       *units.FeedRate     `json:"feed_mm_min" show:"feed rate" as:"1/2"`
	Depth          *units.Length       `json:"depth_mm" show:"depth" as:"down"`
	Width          *units.Length       `json:"width_mm" show:"width"`
	DepthLimit     *units.Length       `json:"depth_limit_mm"`
	Pilot          bool                `json:"-"` // the motor does not drive half of a drill's feed
	SpecificEnergy units.Number        `json:"specific_energy_w_s_mm3"`
	RemovalRate    *units.Number       `json:"removal_mm3_min"`
	Power          *units.Power        `json:"power_w" show:"power at the cut" as:"0/2"`
	MotorPower     *units.Power        `json:"power_motor_w" show:"of the motor" as:"0/2"`
	PowerAvailable *units.Power        `json:"power_available_w"`
	Force          *units.Number       `json:"force_n" show:"cutting force" as:"0 N"`
	Torque         *units.Number       `json:"torque_nm" show:"torque" as:"2 Nm"`
	BarDia         *units.Length       `json:"-" key:"boring_bar" show:"boring bar"`
	BoringBar      *Bar                `json:"boring_bar"`
	CutTime        *units.Number       `json:"time_cut_min"`
	Time           *units.Number       `json:"time_min" show:"time of one pass" as:"2 min"`
	Growth         *units.Length       `json:"growth_10k_mm" show:"10 °C warmer it grows" as:"fine"`
	Ends           []End               `json:"ends"`
	Pecks          []Peck              `json:"pecks"`
	Source         string              `json:"source"`
	FeedSource     *string             `json:"feed_source"`
	EnergySource   string              `json:"energy_source"`
	DefaultsUsed   []say.Text          `json:"defaults"`
	sheet.Remarks

	material                    *materials.Material
	facts                       facts
	governs                     units.Length // the diameter that sets the speed
	teeth                       int
	printedSpeeds, printedFeeds string
}

// End is one end of a taper, or of a face: the speed that would suit it alone,
// and the surface speed it gets at the speed that is run.
type End struct {
	Diameter units.Length        `json:"diameter_mm" show:"diameter"`
	IdealRPM *units.SpindleSpeed `json:"ideal_rpm" show:"ideal" as:"0 down"`
	RPM      *units.SpindleSpeed `json:"rpm" show:"best" as:"0"`
	Speed    *units.SurfaceSpeed `json:"actual_speed_m_min" show:"speed as run" as:"1/0"`
}

// feedStep is what a chosen feed is rounded to, in mm/rev.
const feedStep = 1e-4

// check returns every problem with the input, and the material.
func (in Input) check() (*materials.Material, error) {
	var list check.List
	m, err := materials.Find(in.Material)
	list.Add(err)
	check.OneOf(&list, "operation", in.Operation, Operations())
	check.OneOf(&list, "tool", in.Tool, Tools())
	if m.Has(materials.HSSRefused) && in.Tool != Carbide && in.Operation != Grind {
		list.Add(problem.New(problem.Contradiction, "tool", in.Tool,
			"does not cut ", m.Name, ": write ", say.Key("tool"), " carbide"))
	}
	list.Above0("diameter", in.Diameter)
	if in.Operation.facts().toPoint {
		list.NotBelow0("to", in.To)
	} else {
		list.Above0("to", in.To)
	}
	list.Above0("depth", in.Depth)
	list.Above0("width", in.Width)
	list.Above0("length", in.Length)
	list.Between("teeth", in.Teeth, 1, 200, "teeth")
	if in.Depth != nil && in.Operation == Turn && in.Diameter.Half().Less(*in.Depth) {
		list.Add(problem.New(problem.Impossible, "depth", in.Depth, "more than half of the ", in.Diameter, " bar"))
	}
	if in.Width != nil && in.Operation == Mill && in.Diameter.Less(*in.Width) {
		list.Add(problem.New(problem.Impossible, "width", in.Width, "wider than the ", in.Diameter, " cutter"))
	}
	return m, list.Err()
}

// Choose returns how a cut is run on a machine. The speed is the highest the
// machine has that is not above the ideal one and not above a rating; where
// its lowest is already above the ideal, that one with a warning; where it is
// above a rating, the answer is no. A depth that was not said is held down to
// what the motor drives, and so is a drill's feed.
//
// It fails on an unknown operation, material or tool, on a tool that does not
// cut the material, and on sizes that are not above 0, a depth of more than
// half of the bar, or a width above the cutter's diameter.
func Choose(in Input) (Result, error) {
	in.Tool = cmp.Or(in.Tool, HSS)
	m, err := in.check()
	if err != nil {
		return Result{}, err
	}
	v, ok := speedFor(m, in.Operation, in.Tool)
	if !ok {
		return Result{}, problem.New(problem.Unknown, "material", m.Name,
			"no cutting speed is known for ", in.Operation, " with ", in.Tool)
	}
	in.Material = m.Name
	energy := m.SpecificEnergy()
	growth := units.FromFloat(m.Expansion().Chosen * 1e-6 * 10 * in.Diameter.MM())
	r := Result{
		Inputs: in, material: m, facts: in.Operation.facts(), governs: in.governing(), teeth: 1,
		CuttingSpeed: units.MetresPerMinute(v.Chosen), SpeedLow: units.MetresPerMinute(v.Low),
		SpeedHigh: units.MetresPerMinute(v.High), Source: v.Source, printedSpeeds: v.Printed,
		SpecificEnergy: units.Number(energy.Chosen), EnergySource: energy.Source,
		PowerAvailable: in.Drive.Motor, Growth: &growth,
		Ends: []End{}, Pecks: []Peck{}, DefaultsUsed: []say.Text{},
	}
	if in.Drive.Machine != "" {
		r.Machine = &in.Drive.Machine
	}
	r.IdealRPM = SpindleSpeed(r.CuttingSpeed, r.governs)
	r.chooseSpeed()
	r.chooseFeed()
	r.chooseCut()
	r.measure()
	r.time()
	r.peck()
	r.bar()
	r.Caution(Cautions(m, in.Operation, in.Drive.Machine)...)
	return r, nil
}

// governing returns the diameter that sets the speed: the larger end, or for a
// countersink the one midway between its ends.
func (in Input) governing() units.Length {
	switch {
	case in.To == nil:
		return in.Diameter
	case in.Operation.facts().midway:
		return in.Diameter.Plus(*in.To).Half()
	}
	return units.Max(in.Diameter, *in.To)
}

// rating is a speed that something is marked with.
type rating struct {
	of  say.Text
	rpm units.SpindleSpeed
}

// ratings returns the speeds nothing may be run above, the lowest first.
func (in Input) ratings() []rating {
	var list []rating
	if in.Drive.Chuck != nil {
		list = append(list, rating{"the chuck", *in.Drive.Chuck})
	}
	if in.MaxRPM != nil {
		list = append(list, rating{say.Key("max-rpm"), *in.MaxRPM})
	}
	slices.SortFunc(list, func(a, b rating) int { return cmp.Compare(a.rpm.RPM(), b.rpm.RPM()) })
	return list
}

// under returns the machine's speed for the one that is wanted, held under the
// ratings, and the rating that held it, nil where none did: where the machine
// is slower than the rating anyway.
func (in Input) under(wanted units.SpindleSpeed) (units.SpindleSpeed, *rating) {
	set := in.Drive.Spindle.Set(wanted).Set
	if l := in.ratings(); len(l) > 0 && l[0].rpm.RPM() < min(set.RPM(), wanted.RPM()) {
		return in.Drive.Spindle.Set(l[0].rpm).Set, &l[0]
	}
	return set, nil
}

// chooseSpeed settles the spindle's speed.
func (r *Result) chooseSpeed() {
	in := r.Inputs
	switch {
	case in.Drive.Spindle == nil:
		r.RPM = in.RPM
		r.noSpindle()
	case in.RPM != nil:
		set := in.Drive.Spindle.Set(*in.RPM).Set
		r.RPM = &set
		if set.RPM() != in.RPM.RPM() {
			r.Warn("no-such-speed", r.machine(), " has no ", *in.RPM, ": it runs at ", set)
		}
	default:
		set, held := in.under(r.IdealRPM)
		r.RPM = &set
		if held != nil {
			r.Warn("rating", "the ideal ", whole(r.IdealRPM), " is above what ", held.of, " is rated for, ", held.rpm,
				": the speed is held under it")
		}
	}
	if r.RPM != nil {
		v := SurfaceSpeed(*r.RPM, r.governs)
		r.ActualSpeed = &v
		if r.RPM.RPM() > r.IdealRPM.RPM()*(1+1e-9) {
			r.tooFast(*r.RPM)
		}
	}
	r.rated()
	r.ends()
}

// noSpindle says that no speed was looked for, where one is wanted.
func (r *Result) noSpindle() {
	in := r.Inputs
	text := say.Of("no speeds are known for ", r.machine(), ": the ideal speed is exact, none was looked for")
	switch key := in.Drive.Machine.Key(); {
	case in.Drive.Machine == shop.OnBeltGrinder:
		r.NotChecked(key, text)
	case key != "":
		r.NotChecked(key+": spindle", text)
	case in.RPM == nil:
		r.Warn("not-checked", text, " (give the speed with ", say.Key("rpm"), ")")
	}
}

// rated refuses a speed above a rating: the one asked for, or the one run.
func (r *Result) rated() {
	asked := r.RPM
	if want := r.Inputs.RPM; want != nil && (asked == nil || want.RPM() > asked.RPM()) {
		asked = want
	}
	for _, l := range r.Inputs.ratings() {
		if asked != nil && asked.RPM() > l.rpm.RPM() {
			r.No(problem.New(problem.OverRating, "rpm", *asked, l.of, " is rated for ", l.rpm, " at the most: do not run it"))
			return
		}
	}
}

// tooFast says what to do when the speed is above the ideal one.
func (r *Result) tooFast(set units.SpindleSpeed) {
	text := say.Of(set, " is faster than the ideal ", whole(r.IdealRPM))
	if r.Inputs.RPM == nil {
		text = say.Of("the lowest speed, ", set, ", is faster than the ideal ", whole(r.IdealRPM))
	}
	switch {
	case r.facts.slowed != "":
		text += ": " + r.facts.slowed
	case r.ActualSpeed.MetresPerMinute() <= r.SpeedHigh.MetresPerMinute():
		text += ", still inside the range: take light cuts"
	case r.Inputs.Tool != Carbide:
		text += " and above the range: a carbide tool stands it, or take it in light cuts and resharpen"
	default:
		text += " and above the range: use a slower machine"
	}
	r.Warn("too-fast", text)
}

// ends works out both ends of a taper or a face.
func (r *Result) ends() {
	if r.Inputs.To == nil {
		return
	}
	for _, d := range []units.Length{r.Inputs.Diameter, *r.Inputs.To} {
		e := End{Diameter: d}
		if d.Sign() > 0 {
			ideal := SpindleSpeed(r.CuttingSpeed, d)
			e.IdealRPM = &ideal
			if r.Inputs.Drive.Spindle != nil {
				set, _ := r.Inputs.under(ideal)
				e.RPM = &set
			}
		}
		if r.RPM != nil {
			v := SurfaceSpeed(*r.RPM, d)
			e.Speed = &v
		}
		r.Ends = append(r.Ends, e)
	}
}

// machine names the machine with its article.
func (r *Result) machine() say.Text {
	if r.Inputs.Drive.Machine == "" {
		return "this machine"
	}
	return say.Of("the ", r.Inputs.Drive.Machine)
}

// turns returns the speed the figures are reckoned at: the machine's own, else
// the ideal one.
func (r *Result) turns() units.SpindleSpeed {
	if r.RPM != nil {
		return *r.RPM
	}
	return r.IdealRPM
}

// assume notes a figure that nobody said.
func (r *Result) assume(pieces ...any) { r.DefaultsUsed = append(r.DefaultsUsed, say.Of(pieces...)) }

// chooseFeed settles the feed: per revolution, and the chip a tooth takes.
func (r *Result) chooseFeed() {
	in := r.Inputs
	if in.Operation == Mill {
		if in.Teeth != nil {
			r.teeth = *in.Teeth
		} else {
			r.teeth = int(practice.CutterTeeth.Number())
			r.assume("a cutter of ", r.teeth, " teeth")
		}
	}
	source := noSource
	switch {
	case in.Feed != nil:
		source = "as given"
		r.setFeed(*in.Feed)
	case in.Finish && r.facts.finishes:
		r.printedFeeds = "a finishing cut"
		r.setFeed(practice.FinishFeed.Feed())
	default:
		f, ok := feedFor(r.material, in.Operation, in.Tool, in.Diameter)
		if !ok {
			if r.facts.pitch {
				r.Warn("no-feed", "the feed is the thread's pitch: give it with ", say.Key("feed"), ", such as 1.25mm/rev")
			}
			return
		}
		source, r.printedFeeds = f.Source, f.Printed
		r.setFeed(units.MillimetresPerRev(max(math.Round(f.Chosen/feedStep), 1) * feedStep))
	}
	r.FeedSource = &source
}

// setFeed sets the feed by what it is for each tooth, or a turn.
func (r *Result) setFeed(each units.Feed) {
	f := units.MillimetresPerRev(each.MM() * float64(r.teeth))
	rate := FeedRate(each, r.teeth, r.turns())
	chip := units.FromFloat(each.MM() / float64(max(1, r.facts.lips)))
	r.Feed, r.FeedRate, r.Chip = &f, &rate, &chip
}
