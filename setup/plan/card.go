package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/certify"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/rules"
	"setover/setup/plan/work"
)

// The words of a card: how the work is held, what is set, and why no way was
// found.

// holding says how the work stands, and how far out of the jaws: "chuck on the bar
// as bought, jaws from z -17 mm to 11 mm, right end out; 114 mm stands out of the
// jaws' face at z 11 mm".
func (u SetUp) holding() say.Text {
	setup := u.setup
	if setup.State.Tilted && u.State.Tilt != nil { // as it is set
		setup.State.Tilt = op.DegOf(*u.State.Tilt)
	}
	if u.State.TiltX != nil {
		setup.State.Tilt = op.DegOf(*u.State.TiltX)
	}
	if u.State.TiltY != nil {
		setup.State.TiltY = op.DegOf(*u.State.TiltY)
	}
	t := holding(setup)
	if u.Grip != nil && u.Grip.Over == certify.Card {
		t += "; over card or copper"
	}
	if u.JawFace != nil && u.StickOut != nil {
		t += say.Of("; ", u.StickOut.Length(), " stands out of the jaws' face at z ", u.JawFace.Length())
	}
	return t
}

// holding says how the work stands: "chuck on the bar as bought, left end out".
func holding(s op.Setup) say.Text {
	t := say.Of(s.Device)
	if s.State.Shim {
		t += " with a shim"
	}
	if s.On.Shape != op.NoSurface {
		t += " on " + surface(s.On)
	}
	if s.Device.Jaws() {
		t += say.Of(", jaws from z ", s.Held.From.Length(), " to ", s.Held.To.Length())
	}
	if s.Out != "" {
		t += say.Of(", ", s.Out, " end out")
	}
	if s.State.Up != "" {
		t += ", " + blockLies(s)
	}
	if s.Device == op.Centres && s.Out != "" {
		t += say.Of(", the dog on the ", other(s.Out), " end")
	}
	if words := supportWords[s.Support]; words != "" && s.Device != op.Centres {
		t += ", " + words
	}
	if s.Steady != 0 {
		t += say.Of(" at z ", s.Steady.Length())
	}
	if special := state(s.State); special != "" {
		t += "; " + special
	}
	return t
}

// supportWords says what holds the end that stands out.
var supportWords = map[op.Support]say.Text{
	op.AtCentre: "that end on a centre", op.AtMouth: "that end on a centre in the bore's mouth",
	op.AtSteady: "in the steady",
}

// surfaceWords says what a surface is called that there is one of.
var surfaceWords = map[op.Shape]say.Text{
	op.Bar: "the bar as bought", op.CentreHoles: "the centre holes", op.Faces: "the sawn faces",
	op.Sides: "the two long sides", op.EndFaces: "the two ends", op.BaseAndTop: "base and top",
}

// surface says what the work is held on.
func surface(s op.Surface) say.Text {
	span := op.Span{From: s.From.Length(), To: s.To.Length()}
	switch s.Shape {
	case op.Cylinder:
		return say.Of("the ", s.Dia.Length(), " cylinder, ", span)
	case op.Hole:
		return say.Of("the ", s.Dia.Length(), " bore, ", span)
	case op.Cone:
		return say.Of("taper ", span)
	case op.Polygon:
		return say.Of("the flats, ", span)
	}
	return surfaceWords[s.Shape]
}

// blockLies says how a block lies in the vice: "front against the fixed jaw, bottom down on
// parallels, top up".
func blockLies(s op.Setup) say.Text {
	t := say.Of(s.State.Fixed, " against the fixed jaw, ")
	switch up := say.Of(s.State.Up, " up"); {
	case s.State.Tilted || s.On.Stage == work.Bought:
		return t + up
	case s.State.Upright():
		return t + "upright by a square, " + up
	default:
		return t + say.Of(s.State.Up.Opposite(), " down on parallels, ") + up
	}
}

// state says what is special about a set-up, "" where nothing is.
func state(s op.State) say.Text {
	switch deg := func(d op.Deg) sheet.Value { return sheet.Deg(d.Angle()) }; {
	case s.Rolled:
		if s.Roll != 0 {
			return say.Of("rolled to ", s.Roll.Angle(), ", clockwise seen from the right end")
		}
		return say.Of("rolled to ", s.Roll.Angle())
	case s.Swung && s.Compound > 0:
		return say.Of("compound at a half angle of ", deg(s.Compound), ", growing toward the tailstock")
	case s.Swung:
		return say.Of("compound at a half angle of ", deg(-s.Compound), ", shrinking toward the tailstock")
	case s.Offset > 0:
		return say.Of("tailstock set over ", s.Offset.Length(), " toward you")
	case s.Offset < 0:
		return say.Of("tailstock set over ", (-s.Offset).Length(), " away from you")
	case s.Tilted:
		return tilted(s)
	case s.Lead != op.Lead{}:
		return say.Of("geared for ", s.Lead.Pitch())
	}
	return ""
}

// tilted says how the work is tilted.
func tilted(s op.State) say.Text {
	switch x, y := sheet.Deg(s.Tilt.Angle()), sheet.Deg(s.TiltY.Angle()); {
	case s.Tilt != 0 && s.TiltY != 0:
		return say.Of("tilted ", x, " along x, then ", y, " along y")
	case s.TiltY != 0:
		return say.Of("tilted ", y, " along y")
	case s.Tilt != 0 && s.Up != part.NoFace:
		return say.Of("tilted ", x, " along x")
	case s.Tilt != 0:
		return say.Of("tilted ", x)
	}
	return "level"
}

// unheld says why there is no way to hold the part.
func unheld() problem.Problem {
	return problem.New(problem.CannotBeHeld, "", nil, "nothing to hold it on when it is turned end for end: "+
		"no cylinder without facets or thread is long enough for the jaws (", practice.GripLeast.Length(), " and ",
		say.Num(practice.GripPart.Number(), 1), " of its diameter at the least)")
}

// collision names the operations that wait for one another and the rules that
// make them.
func (d *attempt) collision(ring []int) problem.Problem {
	var words []say.Text
	for i, b := range ring {
		a := ring[(i+1)%len(ring)]
		at := slices.IndexFunc(d.pairs, func(p rules.Before) bool { return p.A == a && p.B == b })
		words = append(words, say.Of(d.ops[a].Name, " before ", d.ops[b].Name, " (", d.pairs[at].Code, ")"))
	}
	return problem.New(problem.RulesCollide, "", say.Join(words, ", "), "no order keeps all of these").In(d.madeOf())
}

// hollow says of a tube what is through it.
func (b Blank) hollow() say.Text {
	if b.Bore == nil {
		return ""
	}
	return say.Of(", a tube with ", *b.Bore, " through it")
}

// sawnTo says how long the bar is sawn, and what of it a piece takes where more than one
// comes off it.
func (b Blank) sawnTo(s *sheet.Sheet) {
	s.Fact("sawn to", b.Span.Length().Length().Up(), "length")
	if b.Fed {
		s.Fact("a piece takes", b.Length.Up(), "of it")
	}
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (r Result) PartHash() string { return r.Inputs.Part.Hash }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Route card: ", r.Inputs.Name)
	s.Show(&r.Material)
	s.Show(&r.Quantity)
	if b := r.Blank; b.Diameter != nil {
		s.Fact("bar", b.Diameter.Up(), "diameter", b.hollow())
		b.sawnTo(s)
	} else if b.Across != nil {
		s.Fact("bar", b.Across.Up(), "across flats, ", string(b.Shape))
		b.sawnTo(s)
	} else if b.X != nil {
		s.Fact("block sawn to x", b.X.Up())
		s.Fact("y", b.Y.Up())
		s.Fact("z", b.Z.Up())
	}
	if len(r.Operations) == 0 {
		return *s
	}
	s.Working = r.working()
	t := r.Totals
	s.Fact("set-ups", sheet.Count(t.Setups))
	s.Fact("time", sheet.Num(float64(t.Minutes), 0, "min"), "cutting and set-ups, a guess; for one part")
	if r.Inputs.Done > 0 {
		s.Fact("left to do", sheet.Num(float64(t.Left), 0, "min"))
	}
	if r.Quantity > 1 {
		s.Fact("batch", sheet.Num(float64(t.Batch), 0, "min"), "all ", r.Quantity, ": every set-up put up once, ",
			sheet.Num(float64(t.Once), 0, "min"), " of it; each piece put in, its tools changed and cut")
	}
	if p, ok := r.worst(); ok {
		s.Fact("furthest off", p.Error().Fine(), p.Words, ": ", p.Because)
	}
	s.Table(r.Operations, "Order of work")
	s.Table(r.reasons(), "Why in this order")
	r.cards(s)
	s.Table(r.outcome(), "The part that will come out")
	s.Table(r.Kit, "Kit")
	s.Note("Blank: ", r.Blank.Because, ".")
	if r.Blank.X != nil {
		s.Note("x and y run from the left front edges of the finished block, z up from its base.")
	} else {
		s.Note("z runs from the left end of the drawing; " +
			"a roll is counted counter-clockwise seen from the right end, 0 is up.")
	}
	if list := r.unchecked(); len(list) > 0 {
		s.Note("Not checked, since the shop's file does not say: ", say.Join(list, "; "), ".")
	}
	s.Note("Dial positions are counted from zero as named, and approached from one side.")
	if by := r.fedByHand(); len(by) > 0 {
		s.Note("The feed is by hand on the ", say.Join(by, " and the "),
			" (power_feed): turn the wheel evenly, at what is printed; the minutes are for that.")
	}
	return *s
}

// fedByHand returns the machines that a feed is printed for and that have no power feed,
// as they come.
func (r Result) fedByHand() []shop.Machine {
	var list []shop.Machine
	for _, o := range r.Operations {
		fed := slices.ContainsFunc(o.Settings, func(s op.Setting) bool { return s.Name == "feed" })
		if fed && r.found.Shop.FeedsByHand(o.Machine) && !slices.Contains(list, o.Machine) {
			list = append(list, o.Machine)
		}
	}
	return list
}

// working returns the shown working of every step.
func (r Result) working() []sheet.Step {
	var list []sheet.Step
	for _, o := range r.Operations {
		list = append(list, o.op.Working...)
	}
	return list
}

// comes is a line of the part that will come out.
type comes struct {
	Feature say.Text    `json:"feature" show:"feature"`
	Drawn   sheet.Value `json:"drawn_mm" show:"drawn"`
	Low     sheet.Value `json:"low_mm" show:"from"`
	High    sheet.Value `json:"high_mm" show:"to"`
	Out     sheet.Value `json:"out_mm" show:"out"`
	OK      bool        `json:"ok" show:"kept"`
	Because say.Text    `json:"because" show:"because"`
}

func (r Result) outcome() []comes {
	var list []comes
	for _, p := range r.Predicted {
		c := comes{p.Words, p.Drawn, p.Low.Up(), p.High.Down(), p.Out, p.OK(), p.Because}
		if p.Kind == limits.Angle {
			c.Drawn, c.Low, c.High, c.Out = sheet.Deg(p.DrawnAngle), sheet.Deg(p.LowAngle), sheet.Deg(p.HighAngle),
				sheet.Deg(p.OutAngle)
		}
		list = append(list, c)
	}
	return list
}

// worst returns the predicted size that is furthest off the drawing, and
// whether any is off.
func (r Result) worst() (op.Predicted, bool) {
	var worst op.Predicted
	for _, p := range r.Predicted {
		if p.Kind != limits.Angle && p.Kind != limits.ThreadBlank && worst.Error().Abs().Less(p.Error().Abs()) {
			worst = p
		}
	}
	return worst, worst.Error().Sign() != 0
}

// reason is a rule that the order of work names.
type reason struct {
	Code   string `json:"code" show:"rule"`
	Reason string `json:"reason" show:"since"`
}

func (r Result) reasons() []reason {
	var list []reason
	for _, rule := range append(rules.Table(), rules.Spoiling()) {
		if slices.ContainsFunc(r.Operations, func(o Operation) bool { return o.Because.names(rule.Code) }) {
			list = append(list, reason{rule.Code, rule.Reason})
		}
	}
	return append(list, reason{
		"free",
		"no rule ties it to its neighbours: it stands where it saves a set-up, a grip or a tool change",
	})
}

// line is a line of a card: an operation, or one thing that is set in it.
type line struct {
	N    sheet.Value `json:"n" show:"n"`
	What say.Text    `json:"name" show:"what"`
	Set  say.Text    `json:"value" show:"set to"`
	Note say.Text    `json:"say" show:"note"`
}

// cards adds one table a set-up: how it is held, and for each operation what is
// set.
func (r Result) cards(s *sheet.Sheet) {
	for _, up := range r.Setups {
		var lines []line
		for _, n := range up.Operations {
			for _, l := range r.Operations[n-1].lines() {
				if l.What != checked || !slices.Contains(lines, l) { // what holds of the grip is said once
					lines = append(lines, l)
				}
			}
		}
		s.Table(lines, "Set-up ", up.N, ", ", up.Machine, ": ", up.holding())
		for _, n := range up.Operations {
			r.Operations[n-1].positions(s)
		}
	}
}

// deed is one thing that the hand does in an operation.
type deed struct {
	N  int      `json:"n" show:"n"`
	Do say.Text `json:"do" show:"do"`
}

// positions adds a table of what the hand does in an operation, one thing after the other, and
// one of the positions of an operation that has many: the steps of an arc.
func (o Operation) positions(s *sheet.Sheet) {
	var list []deed
	for i, do := range o.Steps {
		list = append(list, deed{i + 1, do})
	}
	if len(list) > 0 {
		s.Table(list, "Step ", o.N, ", ", o.Name, ": in order")
	}
	if !o.many() {
		return
	}
	var lines []line
	for _, d := range o.Dials {
		l := dialLine(d)
		l.What = d.What
		lines = append(lines, l)
	}
	s.Table(lines, "Step ", o.N, ", ", o.Name, ": every position").Without("n")
}

// many reports whether an operation's positions have a table of their own.
func (o Operation) many() bool { return o.Kind == op.Curve && len(o.Dials) > 0 }

// checked is what a line of a card is called that says what was checked.
const checked say.Text = "  checked"

// lines writes an operation, its settings, dial positions and checks.
func (o Operation) lines() []line {
	var note say.Text
	if o.Minutes > 0 {
		note = "under 1 min"
		if least := 0.5; float64(o.Minutes) >= least {
			note = say.Of("about ", say.Num(float64(o.Minutes), 0), " min")
		}
	}
	list := []line{{sheet.Count(o.N), o.Name, o.Tool.Name, note}}
	for _, s := range o.Settings {
		list = append(list, line{say.Text(""), "  " + s.Name, say.Of(s.Value), s.Say})
	}
	if o.many() {
		first, last := o.Dials[0], o.Dials[len(o.Dials)-1]
		list = append(list, line{
			say.Text(""), "  positions", say.Of(len(o.Dials)),
			say.Of(first.What, " … ", last.What, ": the table of this step"),
		})
	} else {
		for _, d := range o.Dials {
			list = append(list, dialLine(d))
		}
	}
	for _, c := range o.Checks {
		word := say.Text("  NO")
		switch {
		case c.OK && c.Quiet:
			continue
		case c.OK:
			word = checked
		}
		list = append(list, line{say.Text(""), word, say.Of(c.Value), say.Of(c.Limit)})
	}
	return list
}

// dialLine writes a position: how the hand counts it, and where the line of the
// dial is not where it should be.
func dialLine(d op.Dial) line {
	if d.Set == nil {
		if d.Readout != nil {
			return line{say.Text(""), "  " + d.What, say.Of(d.Readout), say.Of(d.Slide, shown(d))}
		}
		return line{say.Text(""), "  " + d.What, say.Of(d.Exact), say.Of(d.Slide, ", no dial")}
	}
	note := say.Of(d.Slide, ", ", d.Exact)
	if lost := d.Set.Minus(d.Exact); lost.RoundTo(units.MustLength("0.001mm"), units.Nearest).Sign() != 0 {
		note += say.Of(" (the line is ", lost.Fine(), ")")
	}
	return line{say.Text(""), "  " + d.What, say.Text(d.Mark), note + shown(d)}
}

// shown says what a readout shows at a position, zeroed where the dial is; on the
// cross slide also where it counts on the diameter.
func shown(d op.Dial) say.Text {
	switch {
	case d.Readout == nil:
		return ""
	case d.Slide == op.CrossSlide:
		return say.Of("; readout ", d.Readout, ", or ", d.Readout.Times(2), " on the diameter")
	case d.Set == nil:
		return " by the readout"
	}
	return say.Of("; readout ", d.Readout)
}
