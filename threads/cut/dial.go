package cut

import (
	"fmt"
	"math/big"
	"strings"

	"setover/setup/base/problem"
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
	Gear  int    `json:"gear"`
	Marks []int  `json:"marks"`
	Say   string `json:"say"` // the same in words
}

// DialResult is the marks for each dial gear. Closes is the shortest way along
// the bed between places where the half-nuts close on the same groove. Teeth
// is what a dial gear's teeth must be a multiple of to serve at all.
type DialResult struct {
	Inputs DialInput    `json:"inputs"`
	Marks  []DialMarks  `json:"marks"`
	Keep   bool         `json:"keep_closed"`
	Closes units.Pitch  `json:"closes_every_mm"`
	Teeth  units.Number `json:"gear_teeth_multiple_of"`
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
	var list problem.List
	screw, err := needScrew(in.Leadscrew)
	list.Add(err)
	for _, g := range in.Gears {
		if g < 5 || g > 200 {
			list.Add(problem.New(problem.OutOfRange, "dial-gears", g, "a dial gear has 5 to 200 teeth"))
		}
	}
	if len(in.Gears) > 0 && (in.Marks < 1 || in.Marks > 24) {
		list.Add(problem.New(problem.OutOfRange, "marks", in.Marks, "a thread dial has 1 to 24 marks"))
	}
	if len(list) > 0 {
		return DialResult{}, list
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
		r.Warnings.Add("not-checked", "no thread dial in this shop: which marks serve was not looked for (lathe: thread_dial)")
	case r.Keep:
		r.Warnings.Add("keep-closed", "no mark serves: keep the half-nuts closed until the thread is done, draw the tool back and reverse the spindle")
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
	for at := int64(0); at < marks; at += step {
		list = append(list, int(at)+1)
	}
	return list
}

// Sheet implements sheet.Result.
func (r DialResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{
		Title:    fmt.Sprintf("Thread dial for %s on a leadscrew of %v", in.Designation, in.Leadscrew),
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	if len(r.Marks) > 0 {
		t := sheet.Table{Title: "Close the half-nuts at", Cols: []sheet.Column{
			{Key: "gear", Head: "dial gear"}, {Key: "marks", Head: "marks"}, {Key: "say", Head: "that is"},
		}}
		for _, m := range r.Marks {
			t.Add(sheet.Count(m.Gear), sheet.Text(strings.Trim(fmt.Sprint(m.Marks), "[]")), sheet.Text(m.Say))
		}
		s.Tables = append(s.Tables, t)
	}
	s.Facts = []sheet.Fact{
		{Key: "closes_every_mm", Label: "the half-nuts close every", Value: sheet.Len(r.Closes.Length(1)), Remark: "along the bed, on the same groove"},
		{Key: "gear_teeth_multiple_of", Label: "dial gear", Value: sheet.Num(float64(r.Teeth), 0, ""), Remark: "its teeth must be a multiple of this"},
	}
	s.Working = []sheet.Step{sheet.Work("leads in one thread of the leadscrew", "L/P", in.Leadscrew.MM()/in.Lead.MM(), "",
		sheet.Let("L", in.Leadscrew.MM()), sheet.Let("P", in.Lead.MM()))}
	switch {
	case r.Teeth == 1:
		s.Notes = append(s.Notes, "One thread of the leadscrew is a whole number of leads: wherever the half-nuts close, the tool meets its groove, with no dial.")
	case len(r.Marks) > 0 && !r.Keep:
		s.Notes = append(s.Notes,
			"Mark 1 stands for the mark of the first pass: from another first mark the same steps serve.",
			"The half-nuts also close between these marks, where the tool splits the thread: wait for the mark.")
	}
	if in.Lead.Cmp(in.Pitch) != 0 && len(r.Marks) > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("Several starts: these marks hold for one start; the lead is %v.", in.Lead))
	}
	return s
}

// say returns the marks in the trade's words.
func (in DialInput) say(marks []int) string {
	switch {
	case len(marks) == 0:
		return "none: keep the half-nuts closed"
	case len(marks) == in.Marks:
		return "any mark"
	case len(marks) == 1:
		return "the same mark every time"
	}
	if len(marks) == 2 {
		return "the same mark or the one opposite"
	}
	if step := marks[1] - marks[0]; step > 2 {
		return fmt.Sprintf("every %d marks", step)
	}
	return "every second mark"
}
