package way

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/form"
	"setover/tapers/fouling"
	"setover/tapers/tailstock"
)

// job is what all the ways are asked about.
type job struct {
	in Input
	tapers.Taper
	within      units.Length
	stock       *units.Length // what is said of it
	passes      []compound.Pass
	rough, last pace
}

// stands is how the taper stands in the lathe, and the ways to cut it so.
type stands struct {
	on       compound.Result
	ways     []Way
	warnings sheet.Warnings
}

// standing asks the compound and the tailstock for a taper that is small at an end
// of the lathe.
func (j *job) standing(end tapers.End, place fouling.Place) (stands, error) {
	passes := j.onCompound(end, fouling.Place{Lathe: place.Lathe, Brief: true})
	passes.Stock = j.in.Stock
	p, err := compound.Set(passes)
	if err != nil {
		return stands{}, j.asStock(err)
	}
	j.passes = p.Passes
	r, err := compound.Set(j.onCompound(end, place))
	if err != nil {
		return stands{}, err
	}
	s := stands{on: r}
	for _, w := range r.Warnings {
		if w.Code == "not-checked" {
			s.warnings = append(s.warnings, w)
		}
	}
	one, bites, err := j.compounds(end, place, r)
	if err != nil {
		return stands{}, err
	}
	over, err := j.setOver(end)
	s.ways = []Way{one, bites, over}
	return s, err
}

// asStock puts what is said of the depth of a pass, which is not asked here, under
// the stock.
func (j *job) asStock(err error) error {
	var list problem.List
	list.Add(err)
	for i := range list {
		if p := &list[i]; p.At.Key == "depth" {
			p.Want = say.Of("at ", p.Found, " a side it ", p.Want)
			p.At.Key, p.Found = "stock", say.Of(j.in.Stock)
		}
	}
	return list.Err()
}

// onCompound is what the compound is asked of a taper that stands so, as whoever asks it alone
// would: of the stock it is told what is said of that.
func (j *job) onCompound(end tapers.End, place fouling.Place) compound.Input {
	return compound.Input{
		Input: j.in.Input, SmallEnd: end, Internal: j.in.Internal, Stock: j.stock, Place: place, Bars: j.in.Bars,
		Within: j.in.Within, Judged: true, Tools: j.in.Tools,
	}
}

// no is a way that cannot be, and why; unknown one of which it is not known, and
// what would tell.
func no(k Kind, why ...say.Text) Way {
	return Way{Way: k, Possible: new(false), Trouble: []say.Text{}, WhyNot: why}
}

func unknown(k Kind, why ...say.Text) Way {
	w := no(k, why...)
	w.Possible = nil
	return w
}

// can is a way that can be: how it is set, what the far end may be out by, and the
// minutes of setting up and cutting.
func (j *job) can(k Kind, setting say.Text, off units.Length, up, cut float64, trouble ...say.Text) Way {
	w := Way{
		Way: k, Possible: new(true), Error: &off, Setting: setting, Trouble: trouble, WhyNot: []say.Text{},
		SetUp: new(units.Number(up)), Cut: new(units.Number(cut)), Time: new(units.Number(up + cut)),
	}
	w.kept = off.Minus(j.within).Cmp(told) <= 0
	w.Keeps = &w.kept
	return w
}

// told is the least by which an error is more than what is asked.
var told = units.MustLength("0.000001mm")

// sentence makes one of a reason: "Offset 12.4 mm: the tailstock moves only 5 mm
// that way."
func sentence(p problem.Problem) say.Text {
	if p.Found == "" {
		return say.Of(p.Want, ".").Capital()
	}
	return say.Of(p.At.Key, " ", p.Found, ": ", p.Want, ".").Capital()
}

// refused returns why an answer is no, but for what it does not keep.
func refused(list problem.List, but ...problem.Code) (why []say.Text) {
	for _, p := range list {
		if p.At.Key != "within" && !slices.Contains(but, p.Code) {
			why = append(why, sentence(p))
		}
	}
	return why
}

// compounds returns the compound in one go and in bites.
func (j *job) compounds(end tapers.End, place fouling.Place, r compound.Result) (one, bites Way, err error) {
	if j.in.Lathe.Compound == nil {
		const why = "No compound is known (lathe: compound)."
		return unknown(InOneGo, why), unknown(InBites, why), nil
	}
	var change []say.Text
	var otherwise *say.Text
	more := 0.0
	if r.Finding != nil && len(r.Fouls) > 0 {
		other, what, minutes, err := j.clears(end, place, r)
		if err != nil || what == "" {
			why := refused(r.Fails())
			return no(InOneGo, why...), no(InBites, why...), err
		}
		r, more, otherwise = other, minutes, &what
		change = []say.Text{say.Of("As it stands it fouls: ", what, ".")}
	}
	if why := refused(r.Fails()); len(why) > 0 {
		return no(InOneGo, why...), no(InBites, why...), nil
	}
	up := swung(r.Method) + more
	setting := say.Of("Swing the compound: ", r.Setting, ".")
	back := say.Text("Set the compound back afterwards.")
	if r.Bites == nil {
		const why = "How far the slide goes is not known (lathe: compound: travel)."
		return unknown(InOneGo, why), unknown(InBites, why), nil
	}
	n, screw := *r.Bites, j.in.Lathe.Compound.Screw
	if n == 1 {
		one = j.can(InOneGo, setting, r.FarEnd, up, j.byCompound(1, screw), append(change, back)...)
		one.Change = otherwise
		return one, no(InBites, "The slide reaches the whole slope: nothing is gained by bites."), nil
	}
	one = no(InOneGo, say.Of("The slope of ", r.SlideTravel.Up(), " is longer than the slide, ",
		r.TravelAvailable.Down(), "."))
	if len(r.Joints) == 0 {
		return one, no(InBites, say.Of("It would take ", n, " bites.")), nil
	}
	var step units.Length
	for _, joint := range r.Joints {
		step = units.Max(step, joint.Step.Abs())
	}
	moves := float64(n-1) * practice.BiteMinutes.Number()
	joints := say.Text("the dials' lines meet at every joint.")
	if seen := units.MustLength("0.0005mm"); seen.Cmp(step) <= 0 {
		joints = say.Of("a joint may stand out by ", step.Up(), " on the diameter.")
	}
	bites = j.can(InBites, setting, r.FarEnd.Plus(step), up+moves, j.byCompound(n, screw), append(change,
		say.Of("Cut it in ", n, " bites: after each wind the slide back and move the carriage and the cross slide on; ",
			joints), back)...)
	bites.Change = otherwise
	return one, bites, nil
}

// clears returns the taper on the compound with what fouls mended in the way that
// is the least trouble, the work not turned round, what is done and its minutes;
// "" where nothing does. What is mended was put to the test where it was found.
func (j *job) clears(end tapers.End, place fouling.Place, r compound.Result) (
	mended compound.Result, what say.Text, minutes float64, err error,
) {
	i := slices.IndexFunc(r.Alternatives, func(a fouling.Alternative) bool { return a.FromJaws == nil })
	if i < 0 {
		return r, "", 0, nil
	}
	a := r.Alternatives[i]
	minutes = practice.ToolMinutes.Number()
	if a.Moved {
		minutes += practice.RechuckMinutes.Number()
	}
	if a.ToolTrail != nil {
		minutes += practice.FormGrindMinutes.Number()
	}
	mended, err = compound.Set(j.onCompound(end, held(place, a)))
	return mended, a.Say, minutes, err
}

// held is a place with the tool held as an alternative has it, which clears.
func held(place fouling.Place, a fouling.Alternative) fouling.Place {
	place.Arrangement, place.FromJaws, place.CentreAt = a.Arrangement, nil, nil
	return place
}

// setOver returns the tailstock set over.
func (j *job) setOver(end tapers.End) (Way, error) {
	if j.in.Internal {
		return no(SetOver, "A bore is not cut between centres."), nil
	}
	in := tailstock.Input{
		Input: j.in.Input, Between: j.in.Between, SmallEnd: end, Within: j.in.Within, Lathe: j.in.Lathe,
		Unit: j.in.Tools.Unit,
	}
	asked := in.Between
	if asked == nil { // the least it can be: the taper, and an end for the dog
		in.Between = new(j.Length.Plus(practice.DogWidth.Length()))
	}
	r, err := tailstock.Set(in)
	if err != nil {
		return Way{}, err
	}
	if why := refused(r.Fails()); len(why) > 0 {
		return no(SetOver, why...), nil
	}
	switch {
	case r.Possible == nil:
		key := say.Text("toward")
		if end == tapers.AtHeadstock {
			key = "away"
		}
		return unknown(SetOver,
			say.Of(say.Shorter("How far the tailstock is set over is not known", "Not known how far"),
				" (lathe: tailstock: setover: ", key, ").")), nil
	case asked == nil:
		return unknown(SetOver, say.Of(say.Shorter(say.Of("Work up to ", r.Longest.Down(),
			" between the centres is cut so: say how long it is"), "Say how long the work is"), " with ", say.Key("between"),
			".")), nil
	}
	trouble := []say.Text{
		"Both ends take a centre and one a dog; ball centres are best. Bring the tailstock back true afterwards.",
	}
	if j.Small.Less(practice.ThinEnd.Length()) {
		trouble = append(trouble, say.Of("An end of less than ", practice.ThinEnd.Length(),
			" takes no centre: leave a stub on it for one."))
	}
	for _, w := range r.Warnings {
		if w.Code == "dog" {
			trouble = append(trouble, say.Of(w.Text, ".").Capital())
		}
	}
	set := say.Of("Set the tailstock over ", r.Offset, " ", r.Way(), ", by ", r.Method, ".")
	return j.can(SetOver, set, r.DiameterOff, over(r.Method), j.byCarriage(r.Between), trouble...), nil
}

// turned returns the taper turned end for end, by the best way that cuts it then.
func (j *job) turned(as stands) (Way, error) {
	place := j.in.Place
	if place.CentreAt != nil {
		return unknown(EndForEnd,
			"Where it would stand with the centre at its other end is not known: ask again with that end out."), nil
	}
	end := tapers.AtHeadstock
	if j.in.SmallEnd == end {
		end = tapers.AtTailstock
	}
	trouble := say.Text("Turn the work round and true it by what is cut already.")
	var otherwise *say.Text
	if place.FromJaws != nil && !j.in.Internal {
		i := slices.IndexFunc(as.on.Alternatives, func(a fouling.Alternative) bool { return a.FromJaws != nil })
		if i < 0 {
			const why = "No way to hold the tool was found that clears the chuck with the work turned round."
			return no(EndForEnd, why), nil
		}
		a := as.on.Alternatives[i]
		place, otherwise = held(place, a), &a.Say
		trouble = say.Of(a.Say, "; true it by what is cut already.").Capital()
	}
	s, err := j.standing(end, place)
	if err != nil {
		return Way{}, err
	}
	slices.SortStableFunc(s.ways, better)
	best := s.ways[0]
	by := best.Way
	if best.Possible == nil || !*best.Possible {
		best.Way, best.WhyNot = EndForEnd, turnedWhy(s.ways)
		return best, nil
	}
	up := float64(*best.SetUp) + practice.RechuckMinutes.Number() + practice.IndicateMinutes.Number()
	w := j.can(EndForEnd, best.Setting, *best.Error, up, float64(*best.Cut),
		append([]say.Text{trouble}, best.Trouble...)...)
	w.By, w.Change = &by, otherwise
	return w, nil
}

// farEnd returns what the far end may be out by on the diameter when a half angle
// that is set may be off either way: 2·l·|tan b - tan a|.
func (j *job) farEnd(set, off units.Angle) units.Length {
	const flat = 89.999
	most := 0.0
	for _, b := range []units.Angle{set.Minus(off), set.Plus(off)} {
		most = max(most, math.Abs(units.Degrees(min(b.Deg(), flat)).Tan()-j.HalfAngle.Tan()))
	}
	return units.FromFloat(2 * j.Length.MM() * most)
}

// turnedWhy joins the reasons of all ways, each once.
func turnedWhy(ways []Way) (list []say.Text) {
	for _, w := range ways {
		for _, why := range w.WhyNot {
			if !slices.Contains(list, why) {
				list = append(list, why)
			}
		}
	}
	return list
}

// formTool returns a tool ground to the angle.
//
//	off = |b - a| + step/2
//
// with b the half angle to the nearest step of a protractor.
func (j *job) formTool() Way {
	most := practice.FormToolSide.Length()
	if most.Less(*j.SlopeLength) {
		return no(FormTool, say.Of("The side is ", j.SlopeLength.Up(), " long: a tool that cuts more than ", most,
			" at once chatters."))
	}
	tool := form.Of(j.HalfAngle, *j.SlopeLength)
	off := j.farEnd(tool.Set, practice.FormToolStep.Angle().Half())
	total := j.in.Stock.Minus(*j.Small).Half()
	if j.in.Internal {
		total = j.Large.Minus(*j.in.Stock).Half()
	}
	up := practice.FormGrindMinutes.Number() + practice.ToolMinutes.Number()
	cut := total.MM()/(practice.FinishFeed.Feed().MM()*j.last.rpm.RPM()) + beside()/practice.HandFeed.Number()
	return j.can(FormTool, tool.Ground(), off, up, cut, form.Square)
}
