package plan

import (
	"cmp"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
)

// ProjectInput is a project and the shop that makes it. Each of what was Measured
// names the part.
type ProjectInput struct {
	Project  *part.Project `json:"-"`
	Shop     *shop.Shop    `json:"-"`
	Name     string        `json:"project"`
	Measured []Measure     `json:"measured,omitempty"`
}

// ProjectPart is a part of the project with its plan.
type ProjectPart struct {
	Key  string `json:"key" show:"part"`
	Plan Result `json:"plan"`
}

// Meeting is how two parts meet. FaceOff is the most that is faced off a
// screwed part's seat to bring its flats or holes in line; SeatAt is where a
// bore stops on a cone, z of the part it is on, and Bore what it is bored to there.
type Meeting struct {
	What    say.Text      `json:"what" show:"what"`
	Method  Lining        `json:"method,omitempty"`
	FaceOff *units.Length `json:"worst_face_off_mm" show:"face off"`
	SeatAt  *units.Length `json:"seat_at_mm" show:"seat at z"`
	Bore    *units.Length `json:"bore_mm" show:"bore"`
	How     say.Text      `json:"how" show:"how"`
}

// PartBefore is a step of a part that is done before one of another, and the rule that
// says so. A step is 0 where the part has no plan.
type PartBefore struct {
	Part       string `json:"part"`
	Step       int    `json:"step"`
	Before     string `json:"before"`
	BeforeStep int    `json:"before_step"`
	Code       string `json:"code"`
	Reason     string `json:"reason"`
}

// Given is what a step of a part takes from another part.
type Given struct {
	Part string    `json:"part" show:"part"`
	Step int       `json:"step" show:"step"`
	Name say.Text  `json:"name" show:"operation"`
	What say.Text  `json:"what" show:"what"`
	Set  op.Figure `json:"value" show:"set to"`
	Say  say.Text  `json:"say" show:"note"`
}

// Visit is a set-up of a part in the order of the whole project. N counts what is set
// up on the machines: a set-up that Stands, since it served another part last, has the
// number that it had. Setup is the number in the part's own plan, 0 for a step that
// only the project has.
type Visit struct {
	N          int          `json:"n" show:"set-up"`
	Machine    shop.Machine `json:"machine" show:"machine"`
	Part       string       `json:"part" show:"part"`
	Setup      int          `json:"set_up" show:"its set-up"`
	Operations []int        `json:"operations" show:"steps"`
	Stands     bool         `json:"stands" show:"stands already"`
	Held       say.Text     `json:"held" show:"how"`
}

// ProjectKit is a tool that is needed, and the parts that it is for.
type ProjectKit struct {
	Name   say.Text `json:"name" show:"tool"`
	Needed say.Text `json:"needed" show:"needed"`
	For    []string `json:"for" show:"for"`
	Have   bool     `json:"have" show:"on hand"`
}

// ProjectTotals is what the project comes to: how often something is set up on a
// machine, Apart the same where each part is made by itself, and the minutes that are
// saved. Exact says that no order of the parts' set-ups costs less.
type ProjectTotals struct {
	Setups int          `json:"set_ups" show:"set-ups" note:"for all parts, made together"`
	Apart  int          `json:"set_ups_apart" show:"made one by one"`
	Saved  units.Number `json:"saved_min" show:"saved" as:"0 min" note:"of putting up"`
	Exact  bool         `json:"exact"`
}

// ProjectResult is every part planned, and how they meet.
type ProjectResult struct {
	Inputs  ProjectInput  `json:"inputs"`
	Parts   []ProjectPart `json:"parts"`
	Order   []string      `json:"order"`
	Before  []PartBefore  `json:"before"`
	Fits    []Meeting     `json:"fits"`
	Given   []Given       `json:"given"`
	Setups  []Visit       `json:"set_ups"`
	Totals  ProjectTotals `json:"totals"`
	Kit     []ProjectKit  `json:"kit"`
	Minutes units.Number  `json:"time_min"`
	sheet.Remarks
}

// MakeProject plans every part of a project, works out how they meet, and finds the
// order of all their set-ups in which each part can be fitted to those before and the
// machines are set up as seldom as can be. It fails where Make does, on a fit whose
// thread does not exist, and on what was measured on no part.
func MakeProject(in ProjectInput) (ProjectResult, error) {
	in.Name = in.Project.Name
	r := ProjectResult{
		Inputs: in, Parts: []ProjectPart{}, Order: []string{}, Before: []PartBefore{}, Fits: []Meeting{}, Given: []Given{},
		Setups: []Visit{}, Kit: []ProjectKit{},
	}
	if err := in.checkMeasured(); err != nil {
		return ProjectResult{}, err
	}
	for _, p := range in.Project.Parts {
		one, err := in.made(p)
		if err != nil {
			return ProjectResult{}, err
		}
		r.Parts = append(r.Parts, ProjectPart{p.Key, one})
		r.Minutes += one.Totals.Batch
		for _, f := range one.Fails() {
			f.At.Key = strings.TrimSuffix(p.Key+": "+f.At.Key, ": ")
			r.No(f)
		}
		for _, w := range one.Warnings {
			r.Warn(w.Code, p.Key, ": ", w.Text)
		}
		r.Caution(one.Cautions...)
		r.needs(p.Key, one.Kit)
	}
	var meets [][]meet
	for _, f := range in.Project.Fits {
		m, ways, err := r.meeting(f)
		if err != nil {
			return ProjectResult{}, placed(err, f.At)
		}
		r.Fits, meets = append(r.Fits, m), append(meets, ways)
	}
	r.weave(meets)
	return r, nil
}

// made plans a part of the project. Where no boring bar goes in, what seats on a cone is made as
// it is by itself.
func (in ProjectInput) made(p part.ProjectPart) (Result, error) {
	ask := Input{Part: in.fitted(p), Shop: in.Shop, Measured: in.before(p.Key)}
	one, err := Make(ask)
	if err != nil || len(one.Fails()) == 0 || ask.Part == p.Part {
		return one, err
	}
	ask.Part = p.Part
	if other, err := Make(ask); err == nil && len(other.Fails()) == 0 {
		return other, nil
	}
	return one, nil
}

// needs adds a part's kit to that of the project: a tool that is there is named once,
// with what each needs it for.
func (r *ProjectResult) needs(key string, kit []Kit) {
	for _, k := range kit {
		i := slices.IndexFunc(r.Kit, func(p ProjectKit) bool { return p.Name == k.Name && p.Have == k.Have })
		if i < 0 {
			r.Kit = append(r.Kit, ProjectKit{k.Name, k.Needed, []string{key}, k.Have})
			continue
		}
		p := &r.Kit[i]
		if !slices.Contains(p.For, key) {
			p.For = append(p.For, key)
		}
		if !strings.Contains(string(p.Needed), string(k.Needed)) {
			p.Needed = say.Of(p.Needed, "; ", k.Needed)
		}
	}
}

// part returns a part of the project by its key, and its number; nil and -1 where it
// has none.
func (in ProjectInput) part(key string) (*part.Part, int) {
	for i, p := range in.Project.Parts {
		if p.Key == key {
			return p.Part, i
		}
	}
	return nil, -1
}

// measuredOn returns what was measured on a part.
func (in ProjectInput) measuredOn(key string) (list []Measure) {
	for _, m := range in.Measured {
		if m.Part == key {
			m.Part = ""
			list = append(list, m)
		}
	}
	return list
}

// checkMeasured refuses what was measured on no part of the project.
func (in ProjectInput) checkMeasured() error {
	var keys []string
	for _, p := range in.Project.Parts {
		keys = append(keys, p.Key)
	}
	var list problem.List
	for _, m := range in.Measured {
		if p, _ := in.part(m.Part); p == nil {
			list.Add(problem.New(problem.Unknown, "measured", m.Part, "no part of this project: write ",
				cmp.Or(keys[0], "part"), ":dia@z=diameter; its parts are ", say.Join(keys, ", ")))
		}
	}
	return list.Err()
}

// planned is a part of the project in its table.
type planned struct {
	Key      string       `json:"key" show:"part"`
	Material string       `json:"material" show:"material"`
	Quantity int          `json:"quantity" show:"quantity"`
	Setups   int          `json:"setups" show:"set-ups"`
	Minutes  units.Number `json:"time_min" show:"time" as:"0 min"`
	Blank    say.Text     `json:"blank" show:"blank"`
}

// Sheet implements sheet.Result.
func (r ProjectResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Project: ", r.Inputs.Name)
	var parts []planned
	for _, p := range r.Parts {
		q := p.Plan
		parts = append(parts, planned{p.Key, q.Material, q.Quantity, q.Totals.Setups, q.Totals.Batch, q.Blank.Because})
	}
	s.Table(parts, "Parts").Checked(map[string]sheet.Value{
		"key": sheet.Text("all"), "time_min": sheet.Num(float64(r.Minutes), 0, "min"),
	})
	if len(r.Fits) > 0 {
		s.Table(r.Fits, "Where they meet").WithoutEmpty()
	}
	if len(r.Given) > 0 {
		s.Table(r.Given, "What one part is made to the other by")
	}
	if t := r.Totals; len(r.Setups) > 0 {
		s.Fact("set-ups", sheet.Count(t.Setups), "what stands already is not counted; part after part it is ", t.Apart,
			" counted so")
		s.Fact("time saved", sheet.Num(float64(t.Saved), 0, "min"), "of putting up")
		s.Table(r.lines(), "Set-ups of the whole project")
	}
	for _, p := range r.Parts {
		if len(p.Plan.Operations) > 0 {
			s.Table(p.Plan.Operations, p.Key, ": order of work")
		}
	}
	if len(r.Kit) > 0 {
		s.Table(r.Kit, "Kit")
	}
	if len(r.Order) > 0 {
		s.Note("Make the parts in the order ", say.Join(r.Order, ", "),
			", as far as the list of set-ups does not say otherwise.")
	}
	for _, b := range r.Before {
		if b.Step == 0 || b.BeforeStep == 0 {
			s.Note(b.Part, " before ", b.Before, ": ", b.Reason, " (", b.Code, ").")
			continue
		}
		s.Note(b.Part, ", step ", b.Step, ", before ", b.Before, ", step ", b.BeforeStep, ": ", b.Reason,
			" (", b.Code, ").")
	}
	s.Note("The card of each part, with every setting: setover plan and the part's own file.")
	return *s
}
