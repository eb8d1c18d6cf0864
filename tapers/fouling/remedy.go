package fouling

import (
	"slices"
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// sentence says what is to be done otherwise than now, one thing after the other:
// the slide, the tool, the post, and what is moved by as much as it takes.
func (in Input) sentence(now Arrangement, a Alternative) say.Text {
	var what []say.Text
	switch a.Change {
	case TurnWork:
		near := in.evenly(TurnWork, a, *a.FromJaws)
		what = append(what, say.Of("turn the work end for end, the taper ", near, " from the jaws"))
		now.Handle = a.Handle // follows from the taper
	case NoChange:
		what = append(what, "leave it as it stands")
	}
	if a.Handle != now.Handle {
		what = append(what, say.Of("turn the slide round, handle ", a.Handle))
	}
	what = append(what, a.otherTool(now)...)
	what = append(what, a.otherPost(now)...)
	what = append(what, in.setOtherwise(now, a)...)
	if a.tight() && a.Change != NoChange {
		what[len(what)-1] = say.Of(what[len(what)-1], ", which is tight")
	}
	return inTurn(what)
}

// otherTool says which tool is used where it is another, and where it hangs.
func (a Alternative) otherTool(now Arrangement) []say.Text {
	hung := say.Of(" on the post's ", a.side())
	switch side := a.PostSide != now.PostSide; {
	case a.ToolTrail != nil:
		return []say.Text{a.groundTo()}
	case a.ToolHand != now.ToolHand && side:
		return []say.Text{say.Of("use a ", a.Arrangement, hung)}
	case a.ToolHand != now.ToolHand:
		return []say.Text{say.Of("use a ", a.Arrangement)}
	case side:
		return []say.Text{say.Of("hang the holder", hung)}
	}
	return nil
}

// otherPost says how the post is turned where it is otherwise.
func (a Alternative) otherPost(now Arrangement) []say.Text {
	switch turned := a.PostTurned; {
	case a.PostTurn != now.PostTurn && a.PostTurn == WithSlide:
		return []say.Text{"turn the post with the slide"}
	case a.PostTurn != now.PostTurn:
		return []say.Text{"stand the post square to the work"}
	case turned != nil && (now.PostTurned == nil || *now.PostTurned != *turned):
		return []say.Text{say.Of("turn the post ", turnedBy(*turned), ", seen from above")}
	}
	return nil
}

// setOtherwise says what is set to another figure: the tool in its holder, the
// barrel, the centre and the work in the jaws.
func (in Input) setOtherwise(now Arrangement, a Alternative) (what []say.Text) {
	if over := a.Overhang; over != nil && !over.Equal(in.over(now)) {
		let := "let the tool out to stand "
		if over.Less(in.over(now)) {
			let = "set the tool back to stand "
		}
		what = append(what, say.Of(let, a.figure(MoveTool, *over), " beyond the post, not ", in.over(now)))
	}
	if barrel := a.BarrelOut; barrel != nil && !barrel.Equal(in.barrelOut(now)) {
		to := a.figure(MoveBarrel, *barrel)
		what = append(what, say.Of("run the tailstock's barrel out to ", to, ", not ", in.barrelOut(now)))
	}
	if a.CentreAt != nil {
		to := a.figure(LongerBar, *a.CentreAt)
		what = append(what, say.Of("leave the bar longer, so that the centre stands ", to,
			" from the jaws, not ", in.CentreAt))
	}
	if a.Moved {
		by := in.evenly(MoveWork, a, *a.MoreFromJaws)
		what = append(what, say.Of("stand the work ", by, " further out of the jaws", in.standsOut(a)))
	}
	return what
}

// inTurn joins what is done one after the other.
func inTurn(what []say.Text) say.Text {
	switch n := len(what) - 1; {
	case n < 1:
		return say.Join(what, "")
	default:
		return say.Of(say.Join(what[:n], ", "), ", and ", what[n])
	}
}

// groundTo says what a tool would have to be ground to.
func (a Alternative) groundTo() say.Text {
	edge := "whose edge trails by "
	if a.ToolHand == Neutral {
		edge = "whose edges trail by "
	}
	if a.ToolTrail == nil {
		return ""
	}
	return say.Of("grind a ", a.Arrangement, " ", edge, a.ToolTrail, " from the work")
}

// figure words what a part is set to, on a page in inches as it is set there.
func (a Alternative) figure(c Change, mm units.Length) say.Text {
	in, ok := a.inches.of(c)
	if !ok {
		in = mm
	}
	metric, _ := mm.Words()
	_, inch := in.Words()
	return say.Either(metric, inch)
}

// evenly words how far the work is moved: to the next whole mm or 1/32 in where
// it clears there too, else as it is.
func (in Input) evenly(c Change, a Alternative, exact units.Length) say.Text {
	to := func(step units.Length) units.Length {
		b := a
		even := exact.RoundTo(step, units.Up)
		if c == MoveWork {
			if b.MoreFromJaws = &even; !in.with(b).clear(b.Arrangement, a.wanted()-2*fine) {
				return exact
			}
		}
		return even
	}
	mm, _ := to(practice.FurtherOut.Length()).Up().Words()
	_, inch := to(practice.RuleStep.Length(units.Inch)).Up().Words()
	return say.Either(mm, inch)
}

// standsOut warns where work that is moved out stands out of the jaws by more than
// it should without a centre.
func (in Input) standsOut(a Alternative) say.Text {
	dia := in.Head.MM()
	if in.Work != nil {
		dia = in.Work[0].Dia
	}
	most := practice.Overhang.Number(nil) * dia
	end := in.FromJaws.MM() + in.Length.MM()
	if in.Work != nil {
		end = in.Work[len(in.Work)-1].Z
	}
	end += a.MoreFromJaws.MM()
	if in.CentreAt != nil || dia == 0 || end <= most {
		return ""
	}
	return say.Of(", where it stands out by ", say.Num(end/dia, 1), " times its diameter, so hold its end")
}

// onSheet is how many alternatives a sheet has unless all are asked for.
const onSheet = 3

// List puts what would clear on a sheet: a sentence for each of the best three, or
// a table of all of them where they are asked for. About is what it is about, where
// there are several.
func (c *Finding) List(s *sheet.Sheet, about ...any) {
	list := c.Alternatives
	if c.all && len(list) > 0 {
		what := "What"
		if len(about) > 0 {
			what = "what"
		}
		s.Table(list, append(about, what,
			" clears, the least trouble first; further out until it is not tight")...).
			Without("tool_hand", "post_side", "post_turn", "handle")
		return
	}
	if len(list) > 0 && list[0].Change == NoChange {
		list = list[1:]
	}
	about = about[:len(about):len(about)]
	if len(list) == 0 {
		s.Note(append(about, "Nothing that was tried clears it: the post turned, the tool, the work, the barrel or the ",
			"centre moved, another tool or side, a tool ground for it, the slide or the work turned round.")...)
		return
	}
	best := differing(list)
	further := s.Note // what is for those who want more room than there is stands behind the first
	if len(c.Fouls) == 0 {
		further = s.Aside
	}
	for i, a := range best {
		note := append(about, c.lead(i, len(about) > 0), a.Say)
		if a.Clearance != nil {
			note = append(note, " (", a.Clearance.Down(), " clear)")
		}
		if more := len(list) - len(best); i == len(best)-1 && more > 0 {
			note = append(note, "; ", say.Key("all"), " lists ", more, " more")
		}
		if note = append(note, "."); i == 0 {
			s.Note(note...)
		} else {
			further(note...)
		}
	}
	if keys := c.keys(best); len(keys) > 0 {
		last, with := keys[len(keys)-1], say.Text("")
		if keys = keys[:len(keys)-1]; len(keys) > 0 {
			with = say.Of(say.Join(keys, ", "), " and ")
		}
		further(append(about, "What is set otherwise is asked again with ", with, last, ".")...)
	}
}

// keys names what asks for one of a list again, where the work is not turned and the
// shop's tools do.
func (c *Finding) keys(list []Alternative) (keys []say.Text) {
	now := c.Arrangement
	for _, k := range []struct {
		key string
		set func(a Alternative) bool
	}{
		{"tool-hand", func(a Alternative) bool { return a.ToolHand != now.ToolHand }},
		{"post-side", func(a Alternative) bool { return a.PostSide != now.PostSide }},
		{"post-turn", func(a Alternative) bool { return a.PostTurn != now.PostTurn }},
		{"post-turned", func(a Alternative) bool { return a.PostTurned != nil }},
		{"overhang", func(a Alternative) bool { return a.Overhang != nil }},
		{"barrel-out", func(a Alternative) bool { return a.BarrelOut != nil }},
		{"handle", func(a Alternative) bool { return a.Handle != now.Handle }},
		{"from-jaws", func(a Alternative) bool { return a.Moved }},
		{"centre-at", func(a Alternative) bool { return a.CentreAt != nil || a.Moved && c.centred }},
	} {
		if slices.ContainsFunc(list, func(a Alternative) bool {
			return a.FromJaws == nil && a.ToolTrail == nil && k.set(a)
		}) {
			keys = append(keys, say.Key(k.key))
		}
	}
	return keys
}

// lead is how a sentence of what would clear begins: the first of several, alone or
// after what it is about.
func (c *Finding) lead(i int, about bool) say.Text {
	word := "For more room, "
	switch {
	case i > 0:
		word = "Or "
	case len(c.Fouls) > 0:
		word = "To clear it, "
	}
	if about {
		word = strings.ToLower(word[:1]) + word[1:]
	}
	return say.Of(word)
}

// differing returns the best of a list, no two of which are the same kind of change:
// whoever cannot turn the post is not helped by turning it otherwise. Nor is what
// wants the work out as far as that alone would do, and something else as well.
func differing(list []Alternative) (best []Alternative) {
	seen := map[int]bool{}
	more := func(a Alternative) bool {
		return a.Moved && slices.ContainsFunc(best, func(b Alternative) bool {
			return b.Change == MoveWork && b.MoreFromJaws.Cmp(*a.MoreFromJaws) <= 0
		})
	}
	for _, a := range list {
		if len(best) > 0 && a.tight() && !best[0].tight() {
			continue
		}
		if class := a.class(); !seen[class] && len(best) < onSheet && !more(a) {
			seen[class] = true
			best = append(best, a)
		}
	}
	return best
}

// Explain adds what there is to say of c to the sheet of a result that holds it:
// how the clearance is meant, what would clear where it does not, and the drawing.
func (c *Finding) Explain(s *sheet.Sheet) {
	switch rubs := len(c.Fouls) > 0 && c.Fouls[len(c.Fouls)-1].Deg != nil; {
	case rubs && c.Clearance != nil && c.Clearance.Sign() >= 0:
		s.Remark(&c.Clearance, "of what moves; the tool's trailing edge rubs all the same")
	case len(c.Fouls) > 0:
		s.Remark(&c.Clearance, "it fouls")
	case c.Tight:
		s.Remark(&c.Clearance, "tight: under ", told(practice.TightClear))
	default:
		s.Remark(&c.Clearance, say.Shorter(say.Of("least distance over the whole travel and ",
			told(practice.TravelBeyond), " beyond"), "a guide: bring all by hand to its nearest first"))
	}
	s.Remark(&c.Arrangement, c.Arrangement.Hung(), c.Instead())
	if len(c.Fouls) > 0 || c.Tight || c.all {
		c.List(s)
	}
	s.Drawings = append(s.Drawings, c.Drawing())
	s.Aside(Guide)
}

// Clears says in a step on a short page how near it comes, where it fouls nothing; the others have the
// figure.
func (c *Finding) Clears() say.Text {
	if c.Clearance == nil || len(c.Fouls) > 0 {
		return ""
	}
	guide := ", a guide" // that all is tried by hand first is a caution
	if c.Tight {
		guide = ", which is tight"
	}
	return say.Shorter("", say.Of("; ", c.Clearance.Down(), " clear", guide))
}

// Guide is the note that goes with every clearance.
const Guide = "The clearance is a guide, from a plan view with heights: " +
	"bring every part by hand to its nearest before the first cut."
