package cut

import (
	"math/big"

	"setover/setup/base/check"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// DialInput is a thread, the leadscrew and the thread dial: the gears it can
// carry and how many marks it has. Leadscrew is nil and Gears empty when they
// are not known.
type DialInput struct {
	Thread
	Leadscrew *units.Pitch `json:"leadscrew_mm"`
	Gears     []int        `json:"gears"`
	Marks     int          `json:"marks"`
}

// DialMarks is one dial gear and the marks at which the half-nuts may be
// closed, counted from 1, the mark of the first pass. It is empty when only
// keeping them closed serves.
type DialMarks struct {
	Gear  int        `json:"gear" show:"dial gear"`
	Marks []int      `json:"marks" show:"marks"`
	Say   sheet.Text `json:"say" show:"that is"` // the same in words
}

// DialResult is the marks for each dial gear. Closes is the shortest way along
// the bed between places where the half-nuts close on the same groove. Teeth
// is what a dial gear's teeth must be a multiple of to serve at all.
type DialResult struct {
	Inputs DialInput    `json:"inputs"`
	Marks  []DialMarks  `json:"marks"`
	Keep   bool         `json:"keep_closed"`
	Closes units.Pitch  `json:"closes_every_mm" show:"the half-nuts close every" note:"along the bed, on the same groove"`
	Teeth  units.Number `json:"gear_teeth_multiple_of" show:"dial gear" as:"0" note:"its teeth must be a multiple of this"`
	sheet.Remarks
}

// Dial returns which marks of the thread dial serve. With the half-nuts open,
// one turn of a dial with G teeth is G threads of the leadscrew, so mark k of M
// is k·G/M threads on. The half-nuts close there only if that is a whole
// number, and the tool meets its groove only if the way, k·G·L/M, is a whole
// number of leads P:
//
//	k·G/M and k·G·L/(M·P) whole
//
// A mark comes round again after a whole turn, so k = M must serve too; when it
// does not the half-nuts stay closed. Else the least k that serves divides M
// and is the step from mark to mark. It is exact. Marks one step apart from any
// other first mark serve as well.
//
// It fails when the leadscrew is not known, a gear is not 5 to 200 teeth or
// the marks are not 1 to 24.
//
// Source: F. D. Jones, Turning and Boring (1914), principle of the thread
// indicator.
func Dial(in DialInput) (DialResult, error) {
	var list check.List
	screw, err := needScrew(in.Leadscrew)
	list.Add(err)
	for _, g := range in.Gears {
		list.Between("dial-gears", g, 5, 200, "teeth of a dial gear")
	}
	if len(in.Gears) > 0 {
		list.Between("marks", in.Marks, 1, 24, "marks of a thread dial")
	}
	if err := list.Err(); err != nil {
		return DialResult{}, err
	}
	r := DialResult{Inputs: in, Marks: []DialMarks{}}
	perScrew := new(big.Rat).Quo(screw.Rat(), in.Lead.Rat()) // leads in one thread of the leadscrew
	q := new(big.Rat).SetInt(perScrew.Denom())
	teeth, _ := q.Float64()
	r.Teeth = units.Number(teeth)
	r.Closes = units.PitchOf(q.Mul(q, screw.Rat()))
	r.Keep = len(in.Gears) > 0
	for _, g := range in.Gears {
		m := DialMarks{Gear: g, Marks: marksOf(int64(g), int64(in.Marks), perScrew)}
		m.Say = in.say(m.Marks)
		r.Keep = r.Keep && len(m.Marks) == 0
		r.Marks = append(r.Marks, m)
	}
	switch {
	case len(in.Gears) == 0:
		r.NotChecked("lathe: thread_dial", "no thread dial in this shop: which marks serve was not looked for")
	case r.Keep:
		r.Warn("keep-closed", "no mark serves: keep the half-nuts closed until the thread is done, ",
			"draw the tool back and reverse the spindle")
		r.Caution(cautions.ScrewedChuck)
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// marksOf returns the marks that serve with a dial gear, from mark 1.
func marksOf(gear, marks int64, perScrew *big.Rat) []int {
	serves := func(k int64) bool {
		threads := big.NewRat(k*gear, marks)
		return threads.IsInt() && threads.Mul(threads, perScrew).IsInt()
	}
	list := []int{}
	if !serves(marks) {
		return list
	}
	step := int64(1)
	for !serves(step) {
		step++
	}
	for k := int64(0); k < marks; k += step {
		list = append(list, int(k)+1)
	}
	return list
}

// Sheet implements sheet.Result.
func (r DialResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Thread dial for ", in.Designation, " on a leadscrew of ", *in.Leadscrew)
	s.Figures()
	if len(r.Marks) > 0 {
		s.Table(r.Marks, "Close the half-nuts at")
	}
	s.Work("leads in one thread of the leadscrew", "L/P", in.Leadscrew.MM()/in.Lead.MM(), "",
		sheet.Let("L", in.Leadscrew.MM()), sheet.Let("P", in.Lead.MM()))
	switch {
	case r.Teeth == 1:
		s.Note("One thread of the leadscrew is a whole number of leads: wherever the half-nuts close, ",
			"the tool meets its groove, with no dial.")
	case len(r.Marks) > 0 && !r.Keep:
		s.Note("Mark 1 stands for the mark of the first pass: from another first mark the same steps serve.")
		s.Note("The half-nuts also close between these marks, where the tool splits the thread: wait for the mark.")
	}
	if in.several() && len(r.Marks) > 0 {
		s.Note("Several starts: these marks hold for one start; the lead is ", in.Lead, ".")
	}
	return *s
}

// say returns the marks in the trade's words.
func (in DialInput) say(marks []int) sheet.Text {
	switch {
	case len(marks) == 0:
		return "none: keep the half-nuts closed"
	case len(marks) == in.Marks:
		return "any mark"
	case len(marks) == 1:
		return "the same mark every time"
	case len(marks) == 2:
		return "the same mark or the one opposite"
	case marks[1]-marks[0] == 2:
		return "every second mark"
	}
	return say.Of("every ", marks[1]-marks[0], " marks")
}
