package cut

import (
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/check"
	"setover/setup/base/gears"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// GearsInput is a thread and the gearing of a lathe. Leadscrew, Wheels and
// Space are nil when the lathe's are not known; StudRatio is the turns of the
// spindle to one of the stud, 1 when nil.
type GearsInput struct {
	Thread
	Leadscrew *units.Pitch     `json:"leadscrew_mm"`
	Wheels    []int            `json:"gears"`
	StudRatio *int64           `json:"stud_ratio"`
	Space     *int64           `json:"banjo_clearance"`
	MaxError  *decimal.Decimal `json:"max_error_ppm,omitempty"`
	Most      int              `json:"wheels"`
	All       bool             `json:"all"`
}

// listed is how many trains are given unless all are asked for.
const listed = 20

// PitchTrain is a train and the pitch it cuts. An error is what is cut minus
// what was asked. IdlerRight and IdlerLeft say whether an idler more goes in
// for a right-hand and a left-hand thread, with the stud turning as the
// spindle does and a right-hand leadscrew.
type PitchTrain struct {
	gears.Train
	Pitch      units.Pitch  `json:"pitch_mm" show:"pitch" as:"6"`
	PPM        units.Number `json:"error_ppm" show:"error" as:"1 signed ppm"`
	Per100     units.Number `json:"error_mm_per_100mm" show:"in 100 mm" as:"4 signed mm"`
	IdlerRight bool         `json:"idler_right_hand" show:"idler RH"`
	IdlerLeft  bool         `json:"idler_left_hand" show:"idler LH"`
}

// GearsResult is every train that serves, the best first.
type GearsResult struct {
	Inputs GearsInput   `json:"inputs"`
	Trains []PitchTrain `json:"trains"`
	sheet.Remarks

	target *big.Rat // ratio of the train from stud to leadscrew
}

// Gears returns the trains of the lathe's change wheels for a thread, the best
// first: the ratio wanted from the stud to the leadscrew is
//
//	i = P·s/L
//
// with P the lead to be cut, L the leadscrew's pitch and s the turns of the
// spindle to one of the stud. The search is exact (package gears). The answer
// is the best 20, or all. With MaxError only trains within it are given; when
// none is, the best are given all the same and the answer is no.
//
// It fails when the leadscrew or the wheels are not known, the stud ratio is
// not 1 to 20, MaxError is negative, and where gears.New does.
func Gears(in GearsInput) (GearsResult, error) {
	var list check.List
	screw, err := needScrew(in.Leadscrew)
	list.Add(err)
	if in.Wheels == nil {
		list.Add(problem.New(problem.NotAvailable, "gears", nil, "the wheels are needed: write ", say.Key("gears"),
			" 20,25,..., or lathe: change_gears in the shop file"))
	}
	list.Between("stud_ratio", in.StudRatio, 1, 20, "turns of the spindle to one of the stud")
	list.NotBelow0("max-error", in.MaxError)
	if err := list.Err(); err != nil {
		return GearsResult{}, err
	}
	var space *int
	if in.Space != nil {
		n := int(*in.Space)
		space = &n
	}
	box, err := gears.New(in.Wheels, in.Most, space)
	if err != nil {
		return GearsResult{}, err
	}
	r := GearsResult{Inputs: in, Trains: []PitchTrain{}, target: in.ratio(screw)}
	query := gears.Query{Keep: listed}
	if in.All {
		query.Keep = 0
	}
	if in.MaxError != nil {
		query.Limit = new(big.Rat).Quo(in.MaxError.Rat(), big.NewRat(1_000_000, 1))
	}
	found, err := box.Search(r.target, query)
	if err == nil && len(found) == 0 && query.Limit != nil {
		found, err = box.Search(r.target, gears.Query{Keep: listed})
		r.outside(found)
	}
	if err != nil {
		return GearsResult{}, err
	}
	for _, f := range found {
		r.Trains = append(r.Trains, cutBy(f, in.Lead))
	}
	if len(found) == 0 && len(r.Fails()) == 0 {
		r.Warn("no-train", "no two wheels of these make a train that meshes on the banjo")
	}
	if in.Space == nil {
		r.NotChecked("lathe: banjo: clearance", "whether the wheels clear the shafts beside them was not checked")
	}
	r.Caution(cautions.GearCover, cautions.Manual)
	return r, nil
}

// stud returns the turns of the spindle to one of the stud.
func (in GearsInput) stud() int64 {
	if in.StudRatio == nil {
		return 1
	}
	return *in.StudRatio
}

// ratio returns i = P·s/L.
func (in GearsInput) ratio(screw units.Pitch) *big.Rat {
	i := new(big.Rat).Quo(in.Lead.Rat(), screw.Rat())
	return i.Mul(i, new(big.Rat).SetInt64(in.stud()))
}

// cutBy returns what a train cuts when the lead was asked for.
func cutBy(f gears.Found, lead units.Pitch) PitchTrain {
	got := new(big.Rat).Mul(lead.Rat(), new(big.Rat).Add(f.Error, big.NewRat(1, 1)))
	p := units.PitchOf(got)
	if lead.IsInch() {
		p = units.PerInch(p.TPI())
	}
	return PitchTrain{
		f.Train, p, units.Number(f.PPM()), units.Number(f.PPM() / 10_000),
		f.Reverses(), !f.Reverses(),
	}
}

// outside says that no train is within the limit.
func (r *GearsResult) outside(best []gears.Found) {
	nearest := sheet.Text("")
	if len(best) > 0 {
		off := sheet.Number{V: best[0].PPM(), Places: 1, Unit: "ppm", Signed: true}
		nearest = say.Of(": the best is ", best[0].Text(), ", ", off, " out")
	}
	limit := say.Of(*r.Inputs.MaxError, " ppm")
	r.No(problem.New(problem.NotReachable, "max-error", limit, "no train of these wheels comes so near", nearest))
}

// Sheet implements sheet.Result.
func (r GearsResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Change gears for ", in.Designation, " on a leadscrew of ", *in.Leadscrew)
	s.Table(r.Trains, "Trains, stud to leadscrew")
	i, _ := r.target.Float64()
	stud, screw := sheet.Let("s", float64(in.stud())), sheet.Let("L", in.Leadscrew.MM())
	s.Work("i", "P*s/L", i, "", sheet.Let("P", in.Lead.MM()), stud, screw)
	if len(r.Trains) > 0 {
		best := r.Trains[0]
		s.Fact("best train", sheet.Text(best.Text()), "driver/driven, stud to leadscrew")
		formula, vars := wheelFormula(best.Train)
		s.Work("pitch", "L/s*"+formula, best.Pitch.MM(), "mm", append(vars, screw, stud)...)
	}
	if in.several() {
		s.Note("Several starts: the gears cut the lead, ", in.Lead, ".")
	}
	if in.Space != nil {
		s.Note("Trains in which a wheel comes within ", *in.Space, " teeth of the shaft beside it are left out.")
	}
	s.Note("The first driver goes on the stud and drives the first driven wheel; the next driver sits with that one; ",
		"the last driven wheel goes on the leadscrew.")
	s.Note("Idlers are for a stud that turns as the spindle does and a right-hand leadscrew; ",
		"a tumbler reverse does the same as one idler more. Two wheels alone mostly need an idler to reach: ",
		"an odd number for right-hand, an even one for left-hand.")
	return *s
}

// standardPitches are the pitches a chart of change gears lists: ISO 261's in
// mm and those of the inch series in threads per inch.
const standardPitches = `
	0.2mm 0.25mm 0.3mm 0.35mm 0.4mm 0.45mm 0.5mm 0.6mm 0.7mm 0.75mm 0.8mm 1mm
	1.25mm 1.5mm 1.75mm 2mm 2.5mm 3mm 3.5mm 4mm 4.5mm 5mm 5.5mm 6mm
	80tpi 72tpi 64tpi 56tpi 48tpi 44tpi 40tpi 36tpi 32tpi 28tpi 27tpi 26tpi 24tpi 20tpi 19tpi
	18tpi 16tpi 14tpi 13tpi 12tpi 11.5tpi 11tpi 10tpi 9tpi 8tpi 7tpi 6tpi 5tpi 4.5tpi 4tpi`

// ChartRow is a standard pitch and the best train for it; nil when none comes
// within the limit.
type ChartRow struct {
	Pitch units.Pitch
	Train *PitchTrain
}

// GearChart returns the best train for every standard pitch, metric then inch,
// fine to coarse, as Gears finds it. in.Thread is not used. Without MaxError a
// train may be out by 1000 ppm, 0.1 mm in 100 mm (common practice, no source).
// It fails where Gears does; where the leadscrew or the wheels are not known
// the pitches are given all the same, without trains.
func GearChart(in GearsInput) ([]ChartRow, error) {
	if in.MaxError == nil {
		most := decimal.NewFromFloat(practice.GearError.Number())
		in.MaxError = &most
	}
	var rows []ChartRow
	var missing error
	for _, text := range strings.Fields(standardPitches) {
		p := units.MustPitch(text)
		in.Thread = bare(p)
		row := ChartRow{Pitch: p}
		r, err := Gears(in)
		if l, ok := err.(problem.List); ok && l[0].Code == problem.NotAvailable {
			missing = err
		} else if err != nil {
			return nil, err
		}
		if len(r.Fails()) == 0 && len(r.Trains) > 0 {
			row.Train = &r.Trains[0]
		}
		rows = append(rows, row)
	}
	return rows, missing
}

// wheelFormula returns a train's ratio in letters, with their numbers.
func wheelFormula(t gears.Train) (string, []sheet.Var) {
	const letters = "abcdef"
	var top, bottom []string
	var vars []sheet.Var
	for i := range t.Drivers {
		a, b := letters[2*i:2*i+1], letters[2*i+1:2*i+2]
		top, bottom = append(top, a), append(bottom, b)
		vars = append(vars, sheet.Let(a, float64(t.Drivers[i])), sheet.Let(b, float64(t.Driven[i])))
	}
	if len(top) == 1 {
		return "a/b", vars
	}
	return strings.Join(top, "*") + "/(" + strings.Join(bottom, "*") + ")", vars
}
