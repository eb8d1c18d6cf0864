// Package way says which way to cut a taper suits it and this lathe: with the
// compound in one go or in bites, with the tailstock set over, with the work
// turned end for end, or with a form tool.
//
// Each is asked of the package that knows it: compound and swivel for the first
// two, tailstock for the third, and both again with the small end at the other end
// of the lathe for the fourth. A form tool is as wide as the side is long, and so
// is only for a short one; it is ground to a step of an angle and told to half of
// that.
//
// The best is the quickest of those that keep what is asked. Where none does it is
// the one that may leave the least. What is not known, since something was not
// said, comes after what can be done, and what cannot be done last.
//
// How long it takes is a guess, for comparing one way with another: what is set up
// is charged as is usual, and every pass is charged for its path, with what the
// tool runs before it and past it, at the feed and back:
//
//	t = Σ path/(f·n) + path/v
//
// f is the feed and n the speed that suit the material and the largest diameter,
// on this lathe; a handle is wound no faster than a hand does, and v is a hand's
// speed back. Measuring and putting the angle right are not in it: they are alike
// for all.
//
// Source: elementary; the figures are rows of setup/book/practice.
package way

import (
	"cmp"
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// Kind is a way to cut a taper.
type Kind string

// The ways.
const (
	InOneGo   Kind = "compound"
	InBites   Kind = "bites"
	SetOver   Kind = "tailstock"
	EndForEnd Kind = "end-for-end"
	FormTool  Kind = "form-tool"
)

var names = map[Kind]string{
	InOneGo: "compound, in one go", InBites: "compound, in bites", SetOver: "tailstock set over",
	EndForEnd: "turned end for end", FormTool: "form tool",
}

// Words implements say.Quantity.
func (k Kind) Words() (mm, inch string) { return names[k], names[k] }

// Input is a taper and what is known of the work and the lathe. Between is the
// length of the work between the contacts of its centre holes, nil where it is not
// said. Stock is the diameter before the first pass, nil for the large end's or in
// a bore the small end's. Material "" is mild steel. What the shop does not have is
// nil.
type Input struct {
	tapers.Input
	SmallEnd tapers.End    `json:"small_end"`
	Internal bool          `json:"internal"`
	Between  *units.Length `json:"between_mm,omitempty"`
	Stock    *units.Length `json:"stock_mm,omitempty"`
	Within   *units.Length `json:"within_mm,omitempty"`
	Material string        `json:"material"`
	Tool     feeds.Tool    `json:"tool"`

	fouling.Place
	Tools swivel.Tools     `json:"-"`
	Bars  []shop.BoringBar `json:"-"`
	Drive shop.Drive       `json:"-"`
}

// Way is one of the ways. Possible is nil where it is not known: WhyNot then says
// what would tell. Error is the most that the far end may be out on the diameter,
// Keeps whether that is within what was asked. Change is what has to be done otherwise
// than was asked before it can be, nil for nothing: asked of the compound as it is, it is a
// no. By is what cuts it once the work is
// turned end for end.
type Way struct {
	Way      Kind          `json:"way" show:"way"`
	By       *Kind         `json:"by" show:"by"`
	Possible *bool         `json:"possible" show:"possible"`
	Error    *units.Length `json:"error_mm" show:"may leave" as:"up"`
	Keeps    *bool         `json:"keeps" show:"near enough"`
	SetUp    *units.Number `json:"set_up_min" show:"set up" as:"0 min"`
	Cut      *units.Number `json:"cut_min" show:"cut" as:"0 min"`
	Time     *units.Number `json:"time_min" show:"together" as:"0 min"`
	Setting  say.Text      `json:"setting"`
	Change   *say.Text     `json:"change" show:"only if you"`
	Trouble  []say.Text    `json:"trouble"`
	WhyNot   []say.Text    `json:"why_not"`

	kept bool
}

// Result is the ways side by side, the best first.
type Result struct {
	Inputs Input         `json:"inputs"`
	Best   *Kind         `json:"best" show:"the best"`
	Within units.Length  `json:"within_mm"`
	Error  *units.Length `json:"error_mm" show:"may leave" as:"up"`
	Time   *units.Number `json:"time_min" show:"time, a guess" as:"0 min"`
	Passes int           `json:"passes"`
	Ways   []Way         `json:"ways"`
	tapers.Taper
	sheet.Remarks

	guess say.Text
}

// Choose returns the ways to cut a taper, the best first. It fails where
// tapers.Solve does, and on a taper of which only the slope is known; on a place
// that cannot be, an unknown material, and a stock that the taper does not come out
// of. The answer is no where no way does it, and where none keeps what was asked.
func Choose(in Input) (Result, error) {
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return Result{}, err
	}
	var bad check.List
	check.OneOf(&bad, "small-end", in.SmallEnd, tapers.Ends)
	bad.Add(in.Place.Check())
	bad.Above0("between", in.Between, "within", in.Within, "stock", in.Stock)
	if t.Length == nil {
		bad.Add(tapers.NeedsSizes("length", "the ways to cut it need"))
	}
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	stock := in.Stock
	in.Material, in.Tool = cmp.Or(in.Material, "low-carbon-steel"), cmp.Or(in.Tool, feeds.HSS)
	if in.Stock == nil {
		in.Stock = t.Large
		if in.Internal { // which is bored so far before it is tapered
			in.Stock = t.Small
			stock = in.Stock
		}
	}
	j := &job{in: in, Taper: t, stock: stock, within: in.Input.Within(in.Within, in.Tools.Unit)}
	if err := j.run(); err != nil {
		return Result{}, err
	}
	as, err := j.standing(in.SmallEnd, in.Place)
	if err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, Taper: t, Within: j.within, Passes: len(j.passes), guess: j.guess()}
	round, err := j.turned(as)
	if err != nil {
		return Result{}, err
	}
	r.Ways = append(as.ways, round, j.formTool())
	slices.SortStableFunc(r.Ways, better)
	r.pick()
	r.Warnings = append(r.Warnings, as.warnings...)
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// better puts the ways in order.
func better(a, b Way) int {
	class := func(w Way) int {
		switch {
		case w.Possible == nil:
			return 2
		case !*w.Possible:
			return 3
		case w.kept:
			return 0
		}
		return 1
	}
	if c := cmp.Compare(class(a), class(b)); c != 0 || class(a) > 1 {
		return c
	}
	if class(a) == 1 {
		return cmp.Or(a.Error.Cmp(*b.Error), cmp.Compare(*a.Time, *b.Time))
	}
	return cmp.Or(cmp.Compare(math.Round(float64(*a.Time)), math.Round(float64(*b.Time))), a.Error.Cmp(*b.Error))
}

// pick takes the first as the best, and says no where there is none.
func (r *Result) pick() {
	best := r.Ways[0]
	switch {
	case best.Possible == nil:
		r.Warn("not-known", "no way is known to do it: ", best.says())
		return
	case !*best.Possible:
		r.No(problem.New(problem.NotReachable, "taper", nil, "no way on this lathe cuts it"))
		return
	}
	r.Best, r.Error, r.Time = &best.Way, best.Error, best.Time
	if best.kept {
		return
	}
	why := say.Of("no way here keeps ", r.Within.Wrung(), ": the best may leave ", best.Error.Up())
	if r.Inputs.Within != nil {
		r.No(problem.New(problem.NotReachable, "within", r.Inputs.Within, why))
		return
	}
	r.Warn("within", why, "; cut it, measure it and put the angle right")
}

// name is what a sentence calls a way.
func (w Way) name() say.Text {
	if w.By != nil {
		return say.Of(w.Way, ", ", w.By)
	}
	return say.Of(w.Way)
}

// says is how a way is set and what it asks, or why it is none.
func (w Way) says() say.Text {
	list := w.WhyNot
	if len(list) == 0 {
		list = append([]say.Text{w.Setting}, w.Trouble...)
	}
	return say.Join(list, " ")
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Ways to cut this taper")
	s.Brief = true
	s.Remark(&r.Error, "at the far end, on the diameter; ", r.Within.Wrung(), " is asked for")
	s.Remark(&r.Time, "setting up and cutting")
	if r.Best != nil {
		s.Behind(&r.Best, &r.Error, &r.Time, &r.HalfAngle) // the first row says so
	}
	s.Behind(&r.Included, &r.Ratio, &r.Percent, &r.PerFoot, &r.Large, &r.Small, &r.Length, &r.SlopeLength)
	s.Figures()
	within := say.Shorter("", say.Of("; ", r.Within.Wrung(), " may be left"))
	s.Table(r.Ways, "Side by side, the best first", within).WithoutEmpty().Leave("by", "keeps", "set_up_min", "cut_min")
	for i, w := range r.Ways {
		text := say.Of(w.name().Capital(), ": ", w.says())
		if i > 0 && r.Best != nil && w.Possible != nil { // what would tell is said
			text = say.Aside(text)
		}
		s.Note(text)
	}
	if r.Best == nil {
		return *s
	}
	whole := say.Text("For the whole procedure ask for the compound or the tailstock alone.")
	if slices.ContainsFunc(r.Ways, func(w Way) bool { return w.Possible == nil }) { // which takes its place
		whole = say.Aside(whole)
	}
	s.Note(say.Aside("The best is the quickest that keeps ", r.Within.Wrung(), ", or where none does the one that may ",
		"leave the least. "), whole)
	s.Aside(r.guess)
	return *s
}
