package curves

import (
	"fmt"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Bulge is the side an arc bends to.
type Bulge string

// The two sides.
const (
	Out Bulge = "out"
	In  Bulge = "in"
)

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
	Cross  *shop.Dial    `json:"-"`
}

// Step is one place of the tool: At along the axis from the first diameter, of
// the middle of the nose, and the diameter the cross slide is set to, with the
// nose touched off on a diameter. A round nose that goes over the axis is set
// to a diameter below 0. Dial is nil without a dial; DiaSet is what its line
// gives.
type Step struct {
	N      int           `json:"n"`
	At     units.Length  `json:"at_mm"`
	Dia    units.Length  `json:"dia_mm"`
	Dial   *string       `json:"dial"`
	DiaSet *units.Length `json:"dia_set_mm"`
}

// Result is the steps and the largest cusp left between them.
type Result struct {
	Inputs Input        `json:"inputs"`
	Length units.Length `json:"length_mm"`
	Steps  []Step       `json:"steps"`
	Cusp   units.Length `json:"cusp_mm"`
	sheet.Remarks

	arc  arc
	zero units.Length
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
// and where more than 2000 steps would come out.
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
	angles, err := in.angles(a)
	if err != nil {
		return Result{}, err
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
		return Result{}, problem.New(problem.OutOfRange, "step", in.Step, fmt.Sprintf("the nose of %v leaves a wall between such steps: take smaller ones", in.Nose))
	}
	r.Cusp = units.FromFloat(worst)
	r.dials()
	r.Caution(cautions.EyeProtection, cautions.Files, cautions.Manual)
	return r, nil
}

func (in Input) check() error {
	var list problem.List
	bad := func(key string, found any, want string) { list.Add(problem.New(problem.OutOfRange, key, found, want)) }
	if in.Radius.Sign() <= 0 {
		bad("radius", in.Radius, "must be above 0")
	}
	if in.From.Sign() < 0 {
		bad("from-dia", in.From, "a diameter cannot be negative")
	}
	if in.To.Sign() < 0 {
		bad("to-dia", in.To, "a diameter cannot be negative")
	}
	if in.Length != nil && in.Length.Sign() <= 0 {
		bad("length", in.Length, "the length must be above 0")
	}
	if in.Nose.Sign() < 0 {
		bad("nose", in.Nose, "a nose radius cannot be negative: 0 is a pointed tool")
	}
	if in.Bulge != Out && in.Bulge != In {
		list.Add(problem.New(problem.Unknown, "bulge", string(in.Bulge), "write out or in").Near([]string{"out", "in"}))
	}
	if in.Bulge == In && in.Nose.Sign() > 0 && in.Nose.Cmp(in.Radius) >= 0 {
		bad("nose", in.Nose, fmt.Sprintf("does not fit into a hollow of %v", in.Radius))
	}
	if (in.Step == nil) == (in.Cusp == nil) {
		list.Add(problem.New(problem.Missing, "step", nil, "needs exactly one of --step and --cusp"))
	}
	if in.Step != nil && in.Step.Sign() <= 0 {
		bad("step", in.Step, "must be above 0")
	}
	if in.Cusp != nil && in.Cusp.Sign() <= 0 {
		bad("cusp", in.Cusp, "must be above 0")
	}
	return list.Err()
}

// arc returns the arc that is meant.
func (in Input) arc() (arc, error) {
	R, r0, r1 := in.Radius.MM(), in.From.MM()/2, in.To.MM()/2
	a := arc{R: R, sign: 1}
	if in.Bulge == In {
		a.sign = -1
	}
	length := 0.0
	switch {
	case in.Length != nil:
		length = in.Length.MM()
		chord := math.Hypot(length, r1-r0)
		if chord > 2*R {
			return a, problem.New(problem.Impossible, "radius", in.Radius, fmt.Sprintf("the ends are %s mm apart: at least half of that", units.FromFloat(chord).Fixed(units.MM, 3, units.Up)))
		}
		off := a.sign * math.Sqrt(R*R-chord*chord/4)
		a.z, a.r = length/2+off*(r1-r0)/chord, (r0+r1)/2-off*length/chord
	case in.Bulge == Out:
		most := units.Max(in.From, in.To)
		if in.Radius.Times(2).Less(most) {
			return a, problem.New(problem.Impossible, "radius", in.Radius, fmt.Sprintf("a ball of this radius is nowhere %v wide: give a length for an arc off the axis", most))
		}
		h0, h1 := math.Sqrt(R*R-r0*r0), math.Sqrt(R*R-r1*r1) // from the middle to each end
		switch {
		case r0 < r1:
			a.z, length = h0, h0-h1
		case r0 > r1:
			a.z, length = -h0, h1-h0
		default:
			a.z, length = h0, 2*h0
		}
	default:
		rise := math.Abs(r1 - r0)
		if rise == 0 || rise > R {
			return a, problem.New(problem.Impossible, "radius", in.Radius, fmt.Sprintf("a fillet rises by at most its radius, and this one by %s mm: give a length for another arc", units.FromFloat(rise).Fixed(units.MM, 3, units.Nearest)))
		}
		length = math.Sqrt(R*R - (R-rise)*(R-rise))
		a.r = math.Min(r0, r1) + R
		if r0 > r1 {
			a.z = length
		}
	}
	// An end on the far side of the middle: the arc turns back there.
	if a.sign*(r0-a.r) < -1e-9 || a.sign*(r1-a.r) < -1e-9 {
		return a, problem.New(problem.Impossible, "radius", in.Radius, "the arc would turn back under itself before it reaches its end: part it in two, or take a larger radius")
	}
	angle := func(z float64) float64 { return math.Asin(math.Max(-1, math.Min(1, (z-a.z)/R))) }
	a.from, a.to = angle(0), angle(length)
	if lowest := a.r - R; in.Bulge == In && a.from < 0 && a.to > 0 && lowest < 0 {
		return a, problem.New(problem.Impossible, "radius", in.Radius, fmt.Sprintf("the hollow would pass the axis by %s mm", units.FromFloat(-lowest).Fixed(units.MM, 3, units.Up)))
	}
	return a, nil
}

// angles returns the places of the steps. The widest or narrowest place is
// always one, so that between two neighbours the arc only rises or only falls.
func (in Input) angles(a arc) ([]float64, error) {
	cuts := []float64{a.from}
	if a.from < -1e-9 && a.to > 1e-9 {
		cuts = append(cuts, 0)
	}
	cuts = append(cuts, a.to)
	angles := cuts[:1:1]
	for i := range cuts[1:] {
		part, err := in.part(a, cuts[i], cuts[i+1])
		if err != nil {
			return nil, err
		}
		angles = append(angles, part...)
	}
	if len(angles) > maxSteps {
		return nil, in.tooMany()
	}
	return angles, nil
}

func (in Input) tooMany() error {
	key, found := "step", in.Step
	if in.Cusp != nil {
		key, found = "cusp", in.Cusp
	}
	return problem.New(problem.OutOfRange, key, found, fmt.Sprintf("makes more than %d steps: take a larger one", maxSteps))
}

// part returns the steps of a stretch of the arc after its first place.
func (in Input) part(a arc, from, to float64) ([]float64, error) {
	var out []float64
	if in.Step != nil {
		z0, _ := a.at(from, 0)
		z1, _ := a.at(to, 0)
		step := in.Step.MM()
		if (z1-z0)/step > maxSteps {
			return nil, in.tooMany()
		}
		for i := 1; z0+float64(i)*step < z1-1e-9; i++ {
			out = append(out, math.Asin((z0+float64(i)*step-a.z)/a.R))
		}
		return append(out, to), nil
	}
	// Equal angles: the fewest whose cusps are small enough.
	fine := func(n int) bool {
		for i := range n {
			if in.cusp(a, from+(to-from)*float64(i)/float64(n), from+(to-from)*float64(i+1)/float64(n)) > in.Cusp.MM() {
				return false
			}
		}
		return true
	}
	lo, hi := 0, 1 // lo steps are too few, hi enough
	for !fine(hi) {
		if lo, hi = hi, 2*hi; hi > 2*maxSteps {
			return nil, in.tooMany()
		}
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; fine(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	for i := 1; i < hi; i++ {
		out = append(out, from+(to-from)*float64(i)/float64(hi))
	}
	return append(out, to), nil
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

// dials sets every step on the cross slide's dial, zeroed with the tool at the
// largest diameter.
func (r *Result) dials() {
	d := r.Inputs.Cross
	if d == nil {
		r.Warnings.Add("not-checked", "no cross-slide dial in this shop: the diameters are exact (lathe: cross_slide)")
		return
	}
	for _, s := range r.Steps {
		r.zero = units.Max(r.zero, s.Dia)
	}
	for i := range r.Steps {
		s := &r.Steps[i]
		set, turns := d.Set(r.zero.Minus(s.Dia).Half())
		text, dia := turns.String(), r.zero.Minus(set.Set.Times(2))
		s.Dial, s.DiaSet = &text, &dia
	}
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	t := sheet.Table{Title: "Steps, from the first diameter", Cols: []sheet.Column{
		{Key: "n", Head: "n"},
		{Key: "at_mm", Head: "at"},
		{Key: "dia_mm", Head: "set to dia"},
		{Key: "dial", Head: "dial"},
		{Key: "dia_set_mm", Head: "by the dial"},
	}}
	for _, s := range r.Steps {
		row := []sheet.Value{sheet.Count(s.N), sheet.Len(s.At), sheet.Len(s.Dia), nil, sheet.LenOrNone(s.DiaSet)}
		if s.Dial != nil {
			row[3] = sheet.Text(*s.Dial)
		}
		t.Add(row...)
	}
	tool := "pointed tool: each step is turned as a cylinder as far as its place"
	if r.Inputs.Nose.Sign() > 0 {
		tool = "round nose of " + sheet.Inline(r.Inputs.Nose, units.Nearest) + ": its middle stands at each place, counted from the first diameter, and the cross slide where its tip would turn that diameter"
	}
	s := sheet.Sheet{
		Title: "Arc by steps",
		Facts: []sheet.Fact{
			{Key: "cusp_mm", Label: "left to file", Value: sheet.Up(r.Cusp), Remark: "the highest cusp, square to the arc"},
			{Key: "length_mm", Label: "length of the arc", Value: sheet.Len(r.Length), Remark: "along the axis"},
		},
		Tables:   []sheet.Table{t},
		Notes:    []string{"For a " + tool + "."},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	if slices.ContainsFunc(r.Steps, func(s Step) bool { return s.Dia.Sign() < 0 }) {
		s.Notes = append(s.Notes, "A diameter below 0 is set with the tip of the nose past the axis.")
	}
	if r.Inputs.Cross != nil {
		s.Notes = append(s.Notes, fmt.Sprintf("Zero the cross slide's dial with the tool at a diameter of %s, wound in.", sheet.Inline(r.zero, units.Nearest)))
	}
	if nose, n := r.Inputs.Nose.MM(), len(r.Steps); nose > 0 && r.Inputs.Cusp != nil && n > 1 && r.arc.from*r.arc.to >= -1e-9 {
		e := (r.arc.to - r.arc.from) / float64(n-1) * 180 / math.Pi
		R := r.arc.R
		formula := "(R + r)*cos(e/2) - sqrt(r^2 - ((R + r)*sin(e/2))^2) - R"
		if r.arc.sign < 0 {
			formula = "R - (R - r)*cos(e/2) - sqrt(r^2 - ((R - r)*sin(e/2))^2)"
		}
		s.Working = []sheet.Step{sheet.Work("cusp", formula, r.Cusp.MM(), "mm", sheet.Let("R", R), sheet.Let("r", nose), sheet.Let("e", e))}
	}
	return s
}
