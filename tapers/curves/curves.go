// Package curves turns a dome, a ball or an arc by steps: the cross slide is
// set to one diameter after the other, the carriage to the place that belongs
// to it, and what stands between the steps is filed off.
//
// The arc has the radius R about a middle in the plane of the drawing. Where
// only its two diameters are given, a bulge out has its middle on the axis (a
// dome or a ball) and a bulge in is a fillet: it runs out along the smaller
// diameter. With a length given the arc is the one of that radius through both
// ends.
//
// A round nose of the radius r is guided on the circle R + r about the same
// middle, or R - r for a bulge in, so that it touches the arc at every step.
// Two neighbouring places, the angle e apart, leave a cusp of
//
//	(R + r)·cos(e/2) - sqrt(r² - (R + r)²·sin²(e/2)) - R
//
// above a bulge out, and for a bulge in
//
//	R - (R - r)·cos(e/2) - sqrt(r² - (R - r)²·sin²(e/2))
//
// A pointed tool turns a staircase instead; its corner stands at the larger of
// two neighbouring radii over the place of the smaller one. Nothing is ever cut
// below the arc.
package curves

import (
	"math"
	"slices"
	"sort"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// Bulge is the side an arc bends to.
type Bulge string

// The two sides.
const (
	Out Bulge = "out"
	In  Bulge = "in"
)

// Bulges are the words for a side.
var Bulges = []Bulge{Out, In}

// Input is an arc from one diameter to another and how it is stepped: by Step
// along the axis, or as finely as the Cusp asks. Nose is the tool's nose
// radius, 0 for a pointed one. Length is nil for a dome, a ball or a fillet.
type Input struct {
	Radius units.Length  `json:"radius_mm"`
	From   units.Length  `json:"from_dia_mm"`
	To     units.Length  `json:"to_dia_mm"`
	Length *units.Length `json:"length_mm,omitempty"`
	Bulge  Bulge         `json:"bulge"`
	Nose   units.Length  `json:"nose_mm"`
	Step   *units.Length `json:"step_mm,omitempty"`
	Cusp   *units.Length `json:"cusp_mm,omitempty"`
	// SmallEnd is the end of the lathe that the smaller diameter is at, the first of two
	// that are equal: the tailstock where not given. Along is the slide whose dial shows
	// the places, the finer that reaches where not given.
	SmallEnd tapers.End     `json:"small_end"`
	Along    string         `json:"along,omitempty"`
	Cross    *shop.Dial     `json:"-"`
	Carriage *shop.Dial     `json:"-"`
	Compound *shop.Compound `json:"-"`
	// Room is what the lathe takes; nil where whoever asks asks that of the whole work.
	Room *tapers.Room `json:"-"`
}

// Step is one place of the tool: At along the axis from the first diameter, of
// the middle of the nose, and the diameter the cross slide is set to, with the
// nose touched off on a diameter. A round nose that goes over the axis is set
// to a diameter below 0. AtDial and Dial are what the two dials show, from their
// zeros, and AtSet and DiaSet what their lines give; nil without a dial. DiaSet
// belongs to the place that was set. Cut is its number in the order they are cut,
// nil where the dial cannot tell it from its neighbour.
type Step struct {
	N      int           `json:"n" show:"n"`
	Cut    *int          `json:"cut" show:"cut"`
	At     units.Length  `json:"at_mm" show:"at"`
	AtDial *string       `json:"at_dial" show:"along"`
	AtSet  *units.Length `json:"at_set_mm" show:"at"`
	Dia    units.Length  `json:"dia_mm" show:"dia"`
	Dial   *string       `json:"dial" show:"cross slide's dial"`
	DiaSet *units.Length `json:"dia_set_mm" show:"cuts"`
}

// Result is the steps and the largest cusp left between them: exactly, and at most
// when they are set by the dials.
type Result struct {
	Inputs  Input         `json:"inputs"`
	Cusp    units.Length  `json:"cusp_mm" show:"left to file" as:"up" note:"the highest cusp, square to the arc"`
	CuspSet *units.Length `json:"cusp_set_mm" show:"by these dials" as:"up" note:"at most; nothing is below the arc"`
	Length  units.Length  `json:"length_mm" show:"length of the arc" note:"along the axis"`
	Along   *string       `json:"along_slide" show:"places by the dial of"`
	Steps   []Step        `json:"steps"`
	sheet.Remarks

	arc    arc
	zero   units.Length
	start  float64   // the first end along the axis, from the arc's own zero
	angles []float64 // of the steps
	set    []float64 // of the places that the dials give
	order  []side
}

// maxSteps bounds the table.
const maxSteps = 2000

// arc is a circle of the radius R about (z, r), as far as it is cut. sign is +1
// where the surface stands on the far side of the middle from the axis (out),
// -1 for a bulge in. Places on it are angles from straight out (or in), growing
// with z.
type arc struct {
	R, z, r, sign float64
	from, to      float64 // angles
}

func (a arc) at(angle, more float64) (z, r float64) {
	s, c := math.Sincos(angle)
	return a.z + (a.R+a.sign*more)*s, a.r + a.sign*(a.R+a.sign*more)*c
}

// Of returns the steps of an arc.
//
// Radius is above 0, the diameters 0 or more, Nose 0 or more and for a bulge in
// less than the radius; exactly one of Step and Cusp is given, above 0. It fails
// where no such arc exists, where it turns back under itself or passes the axis,
// where a step is no shorter than the arc, and where more than 2000 steps would come out.
func Of(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	a, err := in.arc()
	if err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, arc: a}
	z0, _ := a.at(a.from, 0)
	z1, _ := a.at(a.to, 0)
	r.Length = units.FromFloat(z1 - z0)
	if in.Step != nil && r.Length.Cmp(*in.Step) <= 0 {
		return Result{}, problem.New(problem.OutOfRange, "step", in.Step, "no shorter than the arc, which is ", r.Length,
			" along the axis: nothing of it would be cut between its ends; take a smaller one")
	}
	angles := in.angles(a)
	if len(angles) > maxSteps {
		key, found := "step", in.Step
		if in.Cusp != nil {
			key, found = "cusp", in.Cusp
		}
		return r, problem.New(problem.OutOfRange, key, found, "makes more than ", maxSteps, " steps: take a larger one")
	}
	worst := 0.0
	for i, t := range angles {
		z, rad := a.at(t, in.Nose.MM())
		r.Steps = append(r.Steps, Step{N: i + 1, At: units.FromFloat(z - z0), Dia: units.FromFloat(2 * (rad - in.Nose.MM()))})
		if i > 0 {
			worst = math.Max(worst, in.cusp(a, angles[i-1], t))
		}
	}
	if math.IsInf(worst, 1) {
		return Result{}, problem.New(problem.OutOfRange, "step", in.Step,
			"the nose of ", in.Nose, " leaves a wall between such steps: take smaller ones")
	}
	r.Cusp = units.FromFloat(worst)
	r.start, r.angles, r.set = z0, angles, make([]float64, len(angles))
	r.dials()
	r.takes()
	r.Caution(cautions.EyeProtection, cautions.Files, cautions.Manual)
	return r, nil
}

// takes asks whether the lathe has room for the work, which may swell to more than both its
// ends are.
func (r *Result) takes() {
	in := r.Inputs
	if in.Room == nil {
		return
	}
	w := tapers.Stands{LongKey: "length", Long: &r.Length, AcrossKey: "from-dia", Across: new(units.Max(in.From, in.To))}
	if in.Length == nil {
		w.LongKey = "radius"
	}
	if in.From.Less(in.To) {
		w.AcrossKey = "to-dia"
	}
	in.Room.Take(&r.Remarks, w)
	swells := func(most *units.Length, over string) bool {
		no := most != nil && most.Less(r.largest()) && w.Across.Cmp(*most) <= 0
		if no {
			r.No(problem.New(problem.TravelShort, "radius", in.Radius, "the arc swells to ", r.largest().Up(),
				" and does not swing over the ", say.Text(over), ", which clears ", *most))
		}
		return no
	}
	if !swells(in.Room.OverBed, "bed") {
		swells(in.Room.OverSlide, "cross slide")
	}
}

func (in Input) check() error {
	var bad check.List
	bad.Above0("radius", in.Radius, "length", in.Length)
	bad.NotBelow0("from-dia", in.From)
	bad.NotBelow0("to-dia", in.To)
	bad.NotBelow0("nose", in.Nose)
	check.OneOf(&bad, "bulge", in.Bulge, Bulges)
	bad.Refuse(in.Bulge == In && in.Nose.Sign() > 0 && in.Nose.Cmp(in.Radius) >= 0,
		problem.OutOfRange, "nose", in.Nose, "does not fit into a hollow of ", in.Radius)
	bad.ExactlyOne(check.If("step", in.Step), check.If("cusp", in.Cusp))
	bad.Above0("step", in.Step, "cusp", in.Cusp)
	if in.SmallEnd != "" {
		check.OneOf(&bad, "small-end", in.SmallEnd, tapers.Ends)
	}
	if in.Along != "" {
		check.OneOf(&bad, "along", in.Along, AlongSlides)
	}
	return bad.Err()
}

// impossible returns the problem of a radius that makes no such arc.
func (in Input) impossible(want ...any) error {
	return problem.New(problem.Impossible, "radius", in.Radius, want...)
}

// arc returns the arc that is meant.
func (in Input) arc() (arc, error) {
	R, r0, r1 := in.Radius.MM(), in.From.MM()/2, in.To.MM()/2
	a := arc{R: R, sign: 1}
	if in.Bulge == In {
		a.sign = -1
	}
	of := in.fillet
	switch {
	case in.Length != nil:
		of = in.through
	case in.Bulge == Out:
		of = in.ball
	}
	length, err := of(&a, r0, r1)
	if err != nil {
		return a, err
	}
	// An end on the far side of the middle: the arc turns back there.
	if a.sign*(r0-a.r) < -1e-9 || a.sign*(r1-a.r) < -1e-9 {
		return a, in.impossible("the arc would turn back under itself before it reaches its end: ",
			"part it in two, or take a larger radius")
	}
	angle := func(z float64) float64 { return math.Asin(math.Max(-1, math.Min(1, (z-a.z)/R))) }
	a.from, a.to = angle(0), angle(length)
	if lowest := a.r - R; in.Bulge == In && a.from < 0 && a.to > 0 && lowest < 0 {
		return a, in.impossible("the hollow would pass the axis by ", units.FromFloat(-lowest).Up())
	}
	return a, nil
}

// through places the middle of an arc through both ends, the length apart.
func (in Input) through(a *arc, r0, r1 float64) (length float64, err error) {
	length = in.Length.MM()
	chord := math.Hypot(length, r1-r0)
	if chord > 2*a.R {
		return 0, in.impossible("the ends are ", units.FromFloat(chord).Up(), " apart: at least half of that")
	}
	off := a.sign * math.Sqrt(a.R*a.R-chord*chord/4)
	a.z, a.r = length/2+off*(r1-r0)/chord, (r0+r1)/2-off*length/chord
	return length, nil
}

// ball places the middle of a dome or a ball, on the axis.
func (in Input) ball(a *arc, r0, r1 float64) (length float64, err error) {
	if most := units.Max(in.From, in.To); in.Radius.Times(2).Less(most) {
		return 0, in.impossible("a ball of this radius is nowhere ", most, " wide: give a length for an arc off the axis")
	}
	h0, h1 := math.Sqrt(a.R*a.R-r0*r0), math.Sqrt(a.R*a.R-r1*r1) // from the middle to each end
	switch {
	case r0 < r1:
		a.z, length = h0, h0-h1
	case r0 > r1:
		a.z, length = -h0, h1-h0
	default:
		a.z, length = h0, 2*h0
	}
	return length, nil
}

// fillet places the middle of a fillet, which runs out along the smaller
// diameter.
func (in Input) fillet(a *arc, r0, r1 float64) (length float64, err error) {
	rise := math.Abs(r1 - r0)
	if rise == 0 || rise > a.R {
		return 0, in.impossible("a fillet rises by at most its radius, and this one by ", units.FromFloat(rise),
			": give a length for another arc")
	}
	length = math.Sqrt(a.R*a.R - (a.R-rise)*(a.R-rise))
	a.r = math.Min(r0, r1) + a.R
	if r0 > r1 {
		a.z = length
	}
	return length, nil
}

// angles returns the places of the steps. The widest or narrowest place is
// always one, so that between two neighbours the arc only rises or only falls.
func (in Input) angles(a arc) []float64 {
	cuts := []float64{a.from, a.to}
	if a.from < -1e-9 && a.to > 1e-9 {
		cuts = []float64{a.from, 0, a.to}
	}
	angles := cuts[:1:1]
	for i := range cuts[1:] {
		angles = append(angles, in.part(a, cuts[i], cuts[i+1])...)
	}
	return angles
}

// part returns the steps of a stretch of the arc after its first place, or more
// than there may be.
func (in Input) part(a arc, from, to float64) (out []float64) {
	if in.Step != nil {
		z0, _ := a.at(from, 0)
		z1, _ := a.at(to, 0)
		step := in.Step.MM()
		for i := 1; i <= maxSteps && z0+float64(i)*step < z1-1e-9; i++ {
			out = append(out, math.Asin((z0+float64(i)*step-a.z)/a.R))
		}
		return append(out, to)
	}
	// Equal angles: the fewest whose cusps are small enough.
	place := func(i, n int) float64 { return from + (to-from)*float64(i)/float64(n) }
	n := 1 + sort.Search(maxSteps, func(i int) bool {
		for k := range i + 1 {
			if in.cusp(a, place(k, i+1), place(k+1, i+1)) > in.Cusp.MM() {
				return false
			}
		}
		return true
	})
	for i := 1; i < n; i++ {
		out = append(out, place(i, n))
	}
	return append(out, to)
}

// cusp returns how far what two neighbouring steps leave stands off the arc;
// infinite where the noses do not meet.
func (in Input) cusp(a arc, s, t float64) float64 {
	if nose := in.Nose.MM(); nose > 0 {
		guide := a.R + a.sign*nose
		sin, cos := math.Sincos((t - s) / 2)
		under := nose*nose - guide*guide*sin*sin
		if under < 0 {
			return math.Inf(1)
		}
		return math.Max(0, a.sign*(guide*cos-a.R)-math.Sqrt(under))
	}
	z, r := a.at(s, 0)
	y, q := a.at(t, 0)
	if q < r {
		z, r, y, q = y, q, z, r
	}
	return math.Max(0, a.sign*(math.Hypot(z-a.z, q-a.r)-a.R))
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Arc by steps")
	s.Brief = true
	s.Figures()
	if len(r.Fails()) == 0 {
		r.steps(s)
	}
	rows := slices.DeleteFunc(slices.Clone(r.Steps), func(x Step) bool { return x.Cut == nil })
	slices.SortFunc(rows, func(x, y Step) int { return *x.Cut - *y.Cut })
	table := s.Table(rows, "Cuts, in their order; places are from the first diameter").WithoutEmpty()
	unseen := []string{"n", "at_set_mm"}
	if r.Along != nil { // what the lines come to is what is cut
		unseen = []string{"n", "at_mm", "dia_mm"}
	}
	for i, c := range table.Cols {
		table.Cols[i].Unseen = c.Unseen || slices.Contains(unseen, c.Key)
	}
	if r.Along != nil {
		table.Head("at_dial", *r.Along, "'s dial")
	}
	if r.Inputs.Nose.Sign() > 0 {
		s.Note("For a round nose of ", r.Inputs.Nose, ": its middle stands at each place, counted from the first diameter, ",
			"and the cross slide where its tip would turn that diameter.")
	} else {
		s.Aside("For a pointed tool: each step is turned as a cylinder as far as its place.")
	}
	if slices.ContainsFunc(r.Steps, func(s Step) bool { return s.Dia.Sign() < 0 }) {
		s.Note("A diameter below 0 is set with the tip of the nose past the axis.")
	}
	nose, n := r.Inputs.Nose.MM(), len(r.Steps)
	if nose > 0 && r.Inputs.Cusp != nil && n > 1 && r.arc.from*r.arc.to >= -1e-9 {
		formula := "(R + r)*cos(e/2) - sqrt(r^2 - ((R + r)*sin(e/2))^2) - R"
		if r.arc.sign < 0 {
			formula = "R - (R - r)*cos(e/2) - sqrt(r^2 - ((R - r)*sin(e/2))^2)"
		}
		e := (r.arc.to - r.arc.from) / float64(n-1) * 180 / math.Pi
		s.Step("cusp", formula, r.Cusp, "R", r.arc.R, "r", nose, "e", e)
	}
	return *s
}
