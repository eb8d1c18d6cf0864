package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/plan/op"
)

// Refusal is why the part cannot be made as it is planned: a code, the feature or
// the key it is about, the reason, and what would mend it.
type Refusal struct {
	Code     problem.Code `json:"code"`
	Key      string       `json:"key"`
	Reason   say.Text     `json:"reason"`
	Remedies []Remedy     `json:"remedies"`

	told problem.Problem
	of   *op.Op       // the operation that cannot be done, nil where it is none
	by   op.Check     // the check of it that fails
	out  op.Predicted // or the size that it does not keep
}

// refuse says why there is no plan.
func (r *Result) refuse(p problem.Problem) *Refusal {
	f := Refusal{Code: p.Code, Key: p.At.Key, Reason: say.Of(p.Found), Remedies: []Remedy{}, told: p}
	switch {
	case f.Reason == "":
		f.Reason = p.Want
	case p.Want != "":
		f.Reason = say.Of(p.Found, ": ", p.Want)
	}
	r.Refused = append(r.Refused, f)
	return &r.Refused[len(r.Refused)-1]
}

// refuseAll says everything that stands against the plan, each cause once: what the
// shop or the drawing lacks, the steps that cannot be done, the sizes that are not
// kept, and what is not as it is drawn in the end. Of a feature that was spoken of
// the last two follow, and where something is lacking so does what is not made; of
// a bar that is too small all the rest does.
func (r *Result) refuseAll(d *attempt) {
	about := map[string]bool{}
	tell := func(p problem.Problem) *Refusal {
		about[p.At.Key] = true
		return r.refuse(p)
	}
	lacks := lacking(d.no)
	for _, p := range lacks {
		tell(p)
	}
	if d.bar.Less(d.least()) {
		return
	}
	r.refuseSteps(d, tell)
	for _, line := range r.Operations {
		for _, p := range line.op.Predicted {
			if !p.OK() && !about[p.Feature] {
				f := tell(offLimits(p, line.op.Best))
				f.of, f.out = line.op, p
			}
		}
	}
	for _, p := range d.no {
		if p.Code == problem.Complete && len(lacks) == 0 && !about[p.At.Key] {
			tell(r.unmade(p))
		}
	}
}

// lacking returns what the shop or the drawing lacks: of what one line of the
// part's file says, the first and how many more.
func lacking(list problem.List) (told problem.List) {
	more := map[int]int{}
	for _, p := range list {
		same := func(q problem.Problem) bool { return p.At.Line > 0 && q.At == p.At && q.Code == p.Code }
		switch i := slices.IndexFunc(told, same); {
		case p.Code == problem.Complete:
		case i >= 0:
			more[i]++
		default:
			told = append(told, p)
		}
	}
	for i, n := range more {
		told[i].Want = say.Of(told[i].Want, "; and ", n, " more of that line")
	}
	return told
}

// refuseSteps tells of the steps that cannot be done: of a grip, or of a feature,
// each code once.
func (r *Result) refuseSteps(d *attempt, tell func(problem.Problem) *Refusal) {
	type cause struct {
		code problem.Code
		of   any // the grip, or the feature
	}
	told := map[cause]bool{}
	for _, line := range r.Operations {
		for _, c := range line.Checks {
			key := d.about(line.op)
			why := cause{kindOf(c.Code), key}
			if slices.Contains(ofGrip, c.Code) {
				why.of = line.op.Setup.Grip()
			}
			if c.OK || told[why] || c.Code == problem.OutOfLimits { // told of the size
				continue
			}
			told[why] = true
			f := tell(problem.New(c.Code, key, line.step(), c.Sentence()))
			f.of, f.by = line.op, c
		}
	}
}

// step names a line of the card: "step 4, drill 6.8 mm".
func (o Operation) step() say.Text { return say.Of("step ", o.N, ", ", o.Name) }

// unmade says what of the finished part is not the drawing of the step that makes
// it, where one does.
func (r *Result) unmade(p problem.Problem) problem.Problem {
	for _, line := range r.Operations {
		if p.At.File == "" && p.Found == "" && slices.Contains(line.Makes, p.At.Key) {
			return problem.New(p.Code, p.At.Key, line.step(), "it ", p.Want)
		}
	}
	return p
}

// kindOf returns the code that stands for all that say the same of a feature: that
// the tool does not get at it, or that its size is not kept.
func kindOf(c problem.Code) problem.Code {
	switch c {
	case problem.Fouling:
		return problem.ToolSide
	case problem.StartSize:
		return problem.Gouge
	}
	return c
}

// ofGrip are the codes of what is wrong with how the work is held: the grip is the
// cause, whatever is cut in it.
var ofGrip = []problem.Code{
	problem.GripSurface, problem.GripLength, problem.JawRoom, problem.GripRange, problem.Bruise, problem.Overhang,
	problem.Support, problem.SupportV,
}

// about is the id of the feature that an operation makes, of the bore that it begins, or
// of the first stretch of the outside that it cuts; of a block its own.
func (d *attempt) about(o *op.Op) string {
	if len(o.Makes) > 0 {
		return o.Makes[0]
	}
	if n := o.Feature.N; o.Axial && o.Feature.Kind == op.Bore && d.shape != nil && n <= len(d.shape.Bores) {
		return d.shape.Bores[n-1].ID()
	}
	if d.shape != nil {
		if list := d.idsOver(o.Cuts); len(list) > 0 {
			return list[0]
		}
	}
	return o.ID
}

// offLimits is a size that comes out beyond its limits, with the best that can be had.
func offLimits(p op.Predicted, best say.Text) problem.Problem {
	comes, low, high := say.Of(p.Out), say.Of(p.Low), say.Of(p.High)
	if p.DrawnAngle.Deg() != 0 {
		comes, low, high = say.Of(p.OutAngle), say.Of(p.LowAngle), say.Of(p.HighAngle)
	}
	if p.Told.Sign() > 0 {
		comes = say.Of(comes, ", told to ", p.Told.Up(), " either way")
	}
	no := problem.New(problem.OutOfLimits, p.Feature, say.Of(p.Words, " comes to ", comes, " (", p.Because, ")"),
		"the limits are ", low, " to ", high)
	if best != "" {
		no.Want = say.Of(no.Want, "; ", best)
	}
	return no
}
