package cut

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/gears"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
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
	Pitch      units.Pitch  `json:"pitch_mm"`
	PPM        units.Number `json:"error_ppm"`
	Per100     units.Number `json:"error_mm_per_100mm"`
	IdlerRight bool         `json:"idler_right_hand"`
	IdlerLeft  bool         `json:"idler_left_hand"`
}

// GearsResult is every train that serves, the best first.
type GearsResult struct {
	Inputs GearsInput   `json:"inputs"`
	Trains []PitchTrain `json:"trains"`
	sheet.Remarks

	target *big.Rat // ratio of the train from stud to leadscrew
	fails  problem.List
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
	var list problem.List
	screw, err := needScrew(in.Leadscrew)
	list.Add(err)
	if in.Wheels == nil {
		list.Add(problem.New(problem.NotAvailable, "gears", nil,
			"the wheels are needed: write --gears 20,25,..., or lathe: change_gears in the shop file"))
	}
	stud := int64(1)
	if in.StudRatio != nil {
		stud = *in.StudRatio
	}
	if stud < 1 || stud > 20 {
		list.Add(problem.New(problem.OutOfRange, "stud_ratio", stud, "the turns of the spindle to one of the stud are 1 to 20"))
	}
	if in.MaxError != nil && in.MaxError.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "max-error", in.MaxError, "the largest error cannot be negative"))
	}
	if len(list) > 0 {
		return GearsResult{}, list
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
	r := GearsResult{Inputs: in, Trains: []PitchTrain{}, target: ratioFor(in.Lead, screw, stud)}
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
	if len(found) == 0 && len(r.fails) == 0 {
		r.Warnings.Add("no-train", "no two wheels of these make a train that meshes on the banjo")
	}
	if in.Space == nil {
		r.Warnings.Add("not-checked", "whether the wheels clear the shafts beside them was not checked (lathe: banjo: clearance)")
	}
	r.Caution(cautions.GearCover, cautions.Manual)
	return r, nil
}

// ratioFor returns i = P·s/L.
func ratioFor(lead, screw units.Pitch, stud int64) *big.Rat {
	i := new(big.Rat).Quo(lead.Rat(), screw.Rat())
	return i.Mul(i, new(big.Rat).SetInt64(stud))
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
	want := "no train of these wheels comes so near"
	if len(best) > 0 {
		want = fmt.Sprintf("no train of these wheels comes so near: the best is %s, %+.1f ppm out", best[0].Text(), best[0].PPM())
	}
	r.fails.Add(problem.New(problem.NotReachable, "max-error", r.Inputs.MaxError.String()+" ppm", want))
}

// Fails implements sheet.Result.
func (r GearsResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r GearsResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{
		Title:    fmt.Sprintf("Change gears for %s on a leadscrew of %v", in.Designation, in.Leadscrew),
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	t := sheet.Table{Title: "Trains, stud to leadscrew", Cols: []sheet.Column{
		{Key: "drivers", Head: "drivers"},
		{Key: "driven", Head: "driven"},
		{Key: "pitch_mm", Head: "pitch"},
		{Key: "error_ppm", Head: "error"},
		{Key: "error_mm_per_100mm", Head: "in 100 mm"},
		{Key: "idler_right_hand", Head: "idler RH"},
		{Key: "idler_left_hand", Head: "idler LH"},
	}}
	for _, p := range r.Trains {
		t.Add(sheet.Text(words(p.Drivers)), sheet.Text(words(p.Driven)),
			sheet.Num(p.Pitch.MM(), 6, "mm"),
			sheet.Number{V: float64(p.PPM), Places: 1, Unit: "ppm", Signed: true},
			sheet.Number{V: float64(p.Per100), Places: 4, Unit: "mm", Signed: true},
			sheet.YesNo(p.IdlerRight), sheet.YesNo(p.IdlerLeft))
	}
	s.Tables = []sheet.Table{t}
	stud := 1.0
	if in.StudRatio != nil {
		stud = float64(*in.StudRatio)
	}
	i, _ := r.target.Float64()
	s.Working = append(s.Working, sheet.Work("i", "P*s/L", i, "",
		sheet.Let("P", in.Lead.MM()), sheet.Let("s", stud), sheet.Let("L", in.Leadscrew.MM())))
	if len(r.Trains) > 0 {
		best := r.Trains[0]
		s.Facts = []sheet.Fact{{Key: "train", Label: "best train", Value: sheet.Text(best.Text()), Remark: "driver/driven, stud to leadscrew"}}
		formula, vars := wheelFormula(best.Train)
		s.Working = append(s.Working, sheet.Work("pitch", "L/s*"+formula, best.Pitch.MM(), "mm",
			append(vars, sheet.Let("L", in.Leadscrew.MM()), sheet.Let("s", stud))...))
	}
	if in.Lead.Cmp(in.Pitch) != 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("Several starts: the gears cut the lead, %v.", in.Lead))
	}
	if in.Space != nil {
		s.Notes = append(s.Notes, fmt.Sprintf("Trains in which a wheel comes within %d teeth of the shaft beside it are left out.", *in.Space))
	}
	s.Notes = append(s.Notes,
		"The first driver goes on the stud and drives the first driven wheel; the next driver sits with that one; the last driven wheel goes on the leadscrew.",
		"Idlers are for a stud that turns as the spindle does and a right-hand leadscrew; a tumbler reverse does the same as one idler more. Two wheels alone mostly need an idler to reach: an odd number for right-hand, an even one for left-hand.",
	)
	return s
}

// standardPitches are the pitches a chart of change gears lists: ISO 261's in
// mm and those of the inch series in threads per inch.
const standardPitches = `
	0.2mm 0.25mm 0.3mm 0.35mm 0.4mm 0.45mm 0.5mm 0.6mm 0.7mm 0.75mm 0.8mm 1mm 1.25mm 1.5mm 1.75mm 2mm 2.5mm 3mm 3.5mm 4mm 4.5mm 5mm 5.5mm 6mm
	80tpi 72tpi 64tpi 56tpi 48tpi 44tpi 40tpi 36tpi 32tpi 28tpi 27tpi 26tpi 24tpi 20tpi 19tpi 18tpi 16tpi 14tpi 13tpi 12tpi 11.5tpi 11tpi 10tpi 9tpi 8tpi 7tpi 6tpi 5tpi 4.5tpi 4tpi`

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
		most := decimal.New(1000, 0)
		in.MaxError = &most
	}
	var rows []ChartRow
	var missing error
	for _, text := range strings.Fields(standardPitches) {
		p := units.MustPitch(text)
		in.Thread = Thread{Designation: p.String(), Pitch: p, Lead: p}
		row := ChartRow{Pitch: p}
		r, err := Gears(in)
		if l, ok := err.(problem.List); ok && l[0].Code == problem.NotAvailable {
			missing = err
		} else if err != nil {
			return nil, err
		}
		if len(r.fails) == 0 && len(r.Trains) > 0 {
			row.Train = &r.Trains[0]
		}
		rows = append(rows, row)
	}
	return rows, missing
}

// words returns wheels as "60 127".
func words(wheels []int) string { return strings.Trim(fmt.Sprint(wheels), "[]") }

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
