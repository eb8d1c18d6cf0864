package feeds

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Input is a cut. Diameter is what sets the surface speed: the work's for an
// operation on the lathe, the tool's otherwise, the wheel's for a belt or a
// band. To is the other end of a taper, the inner diameter of a face, or the
// small end of a countersink. Tool "" is high-speed steel. Depth is a side.
// Feed is per revolution, per tooth for milling, and a pitch for threads and
// taps; so its key names neither. RPM asks for a speed instead of the best one; MaxRPM is the lowest
// speed marked on work-holder, cutter or wheel. What is nil is chosen. A nil
// instrument is not owned.
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
	CuttingSpeed   units.SurfaceSpeed  `json:"cutting_speed_m_min"`
	SpeedLow       units.SurfaceSpeed  `json:"cutting_speed_low_m_min"`
	SpeedHigh      units.SurfaceSpeed  `json:"cutting_speed_high_m_min"`
	IdealRPM       units.SpindleSpeed  `json:"ideal_rpm"`
	RPM            *units.SpindleSpeed `json:"rpm"`
	ActualSpeed    *units.SurfaceSpeed `json:"actual_speed_m_min"`
	Feed           *units.Feed         `json:"feed_mm_rev"`
	FeedRate       *units.Number       `json:"feed_mm_min"`
	Chip           *units.Length       `json:"chip_mm"`
	Depth          *units.Length       `json:"depth_mm"`
	Width          *units.Length       `json:"width_mm"`
	DepthLimit     *units.Length       `json:"depth_limit_mm"`
	SpecificEnergy units.Number        `json:"specific_energy_w_s_mm3"`
	RemovalRate    *units.Number       `json:"removal_mm3_min"`
	Power          *units.Number       `json:"power_w"`
	MotorPower     *units.Number       `json:"power_motor_w"`
	PowerAvailable *units.Power        `json:"power_available_w"`
	Force          *units.Number       `json:"force_n"`
	Torque         *units.Number       `json:"torque_nm"`
	CutTime        *units.Number       `json:"time_cut_min"`
	Time           *units.Number       `json:"time_min"`
	Growth         *units.Length       `json:"growth_10k_mm"`
	Ends           []End               `json:"ends"`
	Pecks          []Peck              `json:"pecks"`
	BoringBar      *Bar                `json:"boring_bar"`
	Source         string              `json:"source"`
	FeedSource     *string             `json:"feed_source"`
	EnergySource   string              `json:"energy_source"`
	PrintedSpeeds  string              `json:"-"`
	PrintedFeeds   string              `json:"-"`
	DefaultsUsed   []string            `json:"defaults"`
	sheet.Remarks

	material *materials.Material
	governs  units.Length // the diameter that sets the speed
	teeth    int
	chip     chip
	fails    problem.List
}

// End is one end of a taper, or of a face: the speed that would suit it alone,
// and the surface speed it gets at the speed that is run.
type End struct {
	Diameter units.Length        `json:"diameter_mm"`
	IdealRPM *units.SpindleSpeed `json:"ideal_rpm"`
	RPM      *units.SpindleSpeed `json:"rpm"`
	Speed    *units.SurfaceSpeed `json:"actual_speed_m_min"`
}

// The figures that stand in where nothing was said; all are common practice.
const (
	defaultTeeth = 4
	efficiency   = 0.75 // of belts, gears and bearings between motor and cut
	approach     = 2    // mm wound at the feed before the tool meets the work
	overrun      = 1    // mm past the end
	feedStep     = 1e-4 // mm/rev: what a chosen feed is rounded to
	handFeed     = 1000 // mm/min: winding a slide back by hand
)

// check returns every problem with the input, and the material.
func (in Input) check() (*materials.Material, error) {
	var list problem.List
	m, err := materials.Find(in.Material)
	list.Add(err)
	if !slices.Contains(Operations(), in.Operation) {
		var words []string
		for _, o := range Operations() {
			words = append(words, string(o))
		}
		list.Add(problem.New(problem.Unknown, "operation", string(in.Operation), "not an operation: write "+strings.Join(words, ", ")).Near(words))
	}
	if !slices.Contains(Tools(), string(in.Tool)) {
		list.Add(problem.New(problem.Unknown, "tool", string(in.Tool), "not a tool: write "+strings.Join(Tools(), ", ")).Near(Tools()))
	}
	if m != nil && in.Tool != Carbide && in.Operation != Grind && slices.Contains(m.Cautions, materials.HSSRefused) {
		list.Add(problem.New(problem.Contradiction, "tool", string(in.Tool), "does not cut "+m.Name+": write --tool carbide"))
	}
	positive := func(key string, l *units.Length, zero bool) {
		if l != nil && (l.Sign() < 0 || l.Sign() == 0 && !zero) {
			list.Add(problem.New(problem.OutOfRange, key, l, "must be above 0"))
		}
	}
	positive("diameter", &in.Diameter, false)
	positive("to", in.To, in.Operation == Face || in.Operation == Countersink)
	positive("depth", in.Depth, false)
	positive("width", in.Width, false)
	positive("length", in.Length, false)
	if in.Teeth != nil && (*in.Teeth < 1 || *in.Teeth > 200) {
		list.Add(problem.New(problem.OutOfRange, "teeth", *in.Teeth, "a cutter has 1 to 200 teeth"))
	}
	if in.Depth != nil && in.Operation == Turn && in.Diameter.Half().Less(*in.Depth) {
		list.Add(problem.New(problem.Impossible, "depth", in.Depth, fmt.Sprintf("more than half of the %v bar", in.Diameter)))
	}
	if in.Width != nil && in.Operation == Mill && in.Diameter.Less(*in.Width) {
		list.Add(problem.New(problem.Impossible, "width", in.Width, fmt.Sprintf("wider than the %v cutter", in.Diameter)))
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
	if in.Tool == "" {
		in.Tool = HSS
	}
	m, err := in.check()
	if err != nil {
		return Result{}, err
	}
	v, ok := speedFor(m, in.Operation, in.Tool)
	if !ok {
		return Result{}, problem.New(problem.Unknown, "material", m.Name, fmt.Sprintf("no cutting speed is known for %s with %s", in.Operation, in.Tool))
	}
	in.Material = m.Name
	r := Result{
		Inputs: in, material: m, teeth: 1, governs: in.governing(),
		CuttingSpeed: units.MetresPerMinute(v.Chosen), SpeedLow: units.MetresPerMinute(v.Low), SpeedHigh: units.MetresPerMinute(v.High),
		Ends: []End{}, Pecks: []Peck{}, DefaultsUsed: []string{},
		Source: v.Source, PrintedSpeeds: v.Printed, PowerAvailable: in.Drive.Motor,
	}
	if in.Drive.Machine != "" {
		r.Machine = &in.Drive.Machine
	}
	r.IdealRPM = SpindleSpeed(r.CuttingSpeed, r.governs)
	r.chooseSpeed()
	energy := m.SpecificEnergy()
	r.SpecificEnergy, r.EnergySource = units.Number(energy.Chosen), energy.Source
	r.chooseFeed()
	r.chooseCut()
	r.measure()
	r.time()
	r.Pecks = append(r.Pecks, pecks(in)...)
	r.checkPecks()
	r.bar()
	growth := units.FromFloat(m.Expansion().Chosen * 1e-6 * 10 * in.Diameter.MM())
	r.Growth = &growth
	r.Caution(Cautions(m, in.Operation, in.Drive.Machine)...)
	return r, nil
}

// governing returns the diameter that sets the speed: the larger end, or for a
// countersink the one midway between its ends.
func (in Input) governing() units.Length {
	switch {
	case in.To == nil:
		return in.Diameter
	case in.Operation == Countersink:
		return in.Diameter.Plus(*in.To).Half()
	}
	return units.Max(in.Diameter, *in.To)
}

// rating is a speed that something is marked with.
type rating struct {
	of  string
	rpm units.SpindleSpeed
}

// ratings returns the speeds nothing may be run above, the lowest first.
func (in Input) ratings() []rating {
	var list []rating
	if in.Drive.Chuck != nil {
		list = append(list, rating{"the chuck", *in.Drive.Chuck})
	}
	if in.MaxRPM != nil {
		list = append(list, rating{"--max-rpm", *in.MaxRPM})
	}
	slices.SortFunc(list, func(a, b rating) int { return int(math.Copysign(1, a.rpm.RPM()-b.rpm.RPM())) })
	return list
}

// chooseSpeed settles the spindle's speed.
func (r *Result) chooseSpeed() {
	in := r.Inputs
	wanted := r.IdealRPM
	if in.RPM != nil {
		wanted = *in.RPM
	}
	limits := in.ratings()
	switch {
	case in.Drive.Spindle == nil && in.RPM != nil && in.Drive.Machine == "":
		r.RPM = in.RPM
	case in.Drive.Spindle == nil:
		r.RPM = in.RPM
		r.Warnings.Add("not-checked", "no speeds are known for "+r.machine()+": the ideal speed is exact, none was looked for ("+r.spindleKey()+")")
	default:
		ask := wanted
		if len(limits) > 0 && in.RPM == nil && limits[0].rpm.RPM() < ask.RPM() {
			ask = limits[0].rpm
		}
		if ask != wanted && in.Drive.Spindle.Set(wanted).Set.RPM() > ask.RPM() { // else the machine is the slower
			r.Warnings.Add("rating", fmt.Sprintf("the ideal %.0f rpm is above what %s is rated for, %v: the speed is held under it", math.Floor(wanted.RPM()), limits[0].of, limits[0].rpm))
		}
		set := in.Drive.Spindle.Set(ask).Set
		r.RPM = &set
		if in.RPM != nil && set.RPM() != in.RPM.RPM() {
			r.Warnings.Add("no-such-speed", fmt.Sprintf("%s has no %v: it runs at %.0f rpm", r.machine(), *in.RPM, set.RPM()))
		}
	}
	if r.RPM != nil && r.RPM.RPM() > r.IdealRPM.RPM()*(1+1e-9) {
		r.tooFast(*r.RPM)
	}
	if r.RPM != nil {
		v := SurfaceSpeed(*r.RPM, r.governs)
		r.ActualSpeed = &v
	}
	for _, l := range limits {
		asked := r.RPM
		if in.RPM != nil && (asked == nil || in.RPM.RPM() > asked.RPM()) {
			asked = in.RPM
		}
		if asked != nil && asked.RPM() > l.rpm.RPM() {
			r.fails.Add(problem.New(problem.OverRating, "rpm", *asked, fmt.Sprintf("%s is rated for %v at the most: do not run it", l.of, l.rpm)))
			break
		}
	}
	r.ends()
}

// tooFast says what to do when the speed is above the ideal one.
func (r *Result) tooFast(set units.SpindleSpeed) {
	v := SurfaceSpeed(set, r.governs).MetresPerMinute()
	text := fmt.Sprintf("%.0f rpm is faster than the ideal %.0f", set.RPM(), math.Floor(r.IdealRPM.RPM()))
	if r.Inputs.RPM == nil {
		text = fmt.Sprintf("the lowest speed, %.0f rpm, is faster than the ideal %.0f", set.RPM(), math.Floor(r.IdealRPM.RPM()))
	}
	switch {
	case r.Inputs.Operation == Tap:
		text += ": turn the tap by hand"
	case r.Inputs.Operation == Grind:
		text += ": a smaller drive wheel is what slows a belt"
	case v <= r.SpeedHigh.MetresPerMinute():
		text += ", still inside the range: take light cuts"
	case r.Inputs.Tool != Carbide:
		text += " and above the range: a carbide tool stands it, or take it in light cuts and resharpen"
	default:
		text += " and above the range: use a slower machine"
	}
	r.Warnings.Add("too-fast", text)
}

func (r *Result) ends() {
	if r.Inputs.To == nil {
		return
	}
	for _, d := range []units.Length{r.Inputs.Diameter, *r.Inputs.To} {
		e := End{Diameter: d}
		if d.Sign() > 0 {
			ideal := SpindleSpeed(r.CuttingSpeed, d)
			e.IdealRPM = &ideal
			if s := r.Inputs.Drive.Spindle; s != nil {
				set := s.Set(ideal).Set
				if l := r.Inputs.ratings(); len(l) > 0 && l[0].rpm.RPM() < set.RPM() {
					set = s.Set(l[0].rpm).Set
				}
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
func (r *Result) machine() string {
	if r.Inputs.Drive.Machine == "" {
		return "this machine"
	}
	return "the " + r.Inputs.Drive.Machine.Name()
}

// spindleKey returns the shop file's key for the machine's speeds.
func (r *Result) spindleKey() string {
	switch r.Inputs.Drive.Machine {
	case "":
		return "give the speed with --rpm"
	case shop.OnBeltGrinder:
		return "belt_grinder"
	}
	return r.Inputs.Drive.Machine.Key() + ": spindle"
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
func (r *Result) assume(format string, args ...any) {
	r.DefaultsUsed = append(r.DefaultsUsed, fmt.Sprintf(format, args...))
}

// chooseFeed settles the feed: per revolution, and the chip a tooth takes.
func (r *Result) chooseFeed() {
	in := r.Inputs
	if in.Operation == Mill {
		r.teeth = defaultTeeth
		if in.Teeth != nil {
			r.teeth = *in.Teeth
		} else {
			r.assume("a cutter of %d teeth", defaultTeeth)
		}
	}
	var perTooth float64
	switch {
	case in.Feed != nil:
		perTooth = in.Feed.MM()
		source := "as given"
		r.FeedSource = &source
	case in.Finish && slices.Contains([]Operation{Turn, Face, Bore}, in.Operation):
		perTooth = finishFeed
		source := noSource
		r.FeedSource, r.PrintedFeeds = &source, "a finishing cut"
	default:
		f, ok := feedFor(r.material, in.Operation, in.Tool, in.Diameter)
		if !ok {
			if in.Operation == Thread || in.Operation == Tap {
				r.Warnings.Add("no-feed", "the feed is the thread's pitch: give it with --feed, such as 1.25mm/rev")
			}
			return
		}
		perTooth = max(math.Round(f.Chosen/feedStep), 1) * feedStep
		r.FeedSource, r.PrintedFeeds = &f.Source, f.Printed
	}
	r.setFeed(perTooth)
}

func (r *Result) setFeed(perTooth float64) {
	f := units.MillimetresPerRev(perTooth * float64(r.teeth))
	rate := units.Number(f.MM() * r.turns().RPM())
	lips := perTooth
	if r.Inputs.Operation == Drill {
		lips /= 2 // a twist drill has two lips
	}
	chip := units.FromFloat(lips)
	r.Feed, r.FeedRate, r.Chip = &f, &rate, &chip
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }
