package part

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Reading is a part as it was understood, for showing: what it is and how many
// features of each kind it has.
type Reading struct {
	Name     string         `json:"part" show:"part"`
	From     string         `json:"from"`
	Units    string         `json:"units"`
	Material string         `json:"material" show:"material"`
	Quantity int            `json:"quantity" show:"quantity"`
	General  General        `json:"general" show:"general tolerance" note:"ISO 2768-1"`
	Stock    *Stock         `json:"stock"`
	Bar      *say.Text      `json:"-" key:"stock" show:"stock"`
	Centres  *Centres       `json:"centres" show:"centre holes"`
	Size     []units.Length `json:"size_mm"` // largest diameter and length, or x, y, z
	Largest  *units.Length  `json:"-" key:"diameter_mm" show:"largest diameter"`
	Length   *units.Length  `json:"-" key:"length_mm" show:"length"`
	X        *units.Length  `json:"-" key:"x_mm" show:"x"`
	Y        *units.Length  `json:"-" key:"y_mm" show:"y"`
	Z        *units.Length  `json:"-" key:"z_mm" show:"z"`
	Features `json:"features"`
	sheet.Remarks

	part *Part
}

// Features counts what a part has, by kind.
type Features struct {
	Chamfers  *int `json:"chamfers" show:"chamfers"`
	Arcs      *int `json:"arcs,omitempty" show:"arcs"`
	Facets    *int `json:"facets,omitempty" show:"facets"`
	Bores     *int `json:"bores,omitempty" show:"bores"`
	Threads   *int `json:"threads,omitempty" show:"threads"`
	Slopes    *int `json:"slopes,omitempty" show:"slopes"`
	Holes     *int `json:"holes,omitempty" show:"single holes"`
	Rows      *int `json:"rows,omitempty" show:"rows of holes"`
	Slots     *int `json:"slots,omitempty" show:"slots"`
	Limits    *int `json:"limits" show:"limits of the outside"`
	Processed *int `json:"processes,omitempty" show:"processes"`
}

// count returns how many there are in a list, nil for none.
func count[T any](list []T) *int {
	n := len(list)
	if n == 0 {
		return nil
	}
	return &n
}

// Read returns the part p as it was understood, with the warnings of its file.
func Read(p *Part, warnings sheet.Warnings) Reading {
	r := Reading{
		Name: p.Name, From: p.From, Units: p.Units.String(), Material: p.Material, Quantity: p.Quantity, General: p.General,
		part: p, Remarks: sheet.Remarks{Warnings: warnings},
	}
	if x := p.Round; x != nil {
		largest, length := x.Largest(), x.Length()
		r.Size, r.Largest, r.Length = []units.Length{largest, length}, &largest, &length
		if x.Stock != nil {
			bar := say.Of(*x.Stock)
			r.Stock, r.Bar = x.Stock, &bar
		}
		if x.Centres != "" {
			r.Centres = &x.Centres
		}
		r.Features = Features{
			Chamfers: count(x.Chamfers), Arcs: count(x.Arcs), Facets: count(x.Facets),
			Bores: count(x.Bores), Threads: count(x.Threads),
			Holes: count(x.Holes), Rows: count(x.Rows), Slots: count(x.Slots), Limits: count(x.Limits),
		}
	}
	if x := p.Block; x != nil {
		r.Size, r.X, r.Y, r.Z = []units.Length{x.X, x.Y, x.Z}, &x.X, &x.Y, &x.Z
		r.Features = Features{Slopes: count(x.Slopes), Holes: count(x.Holes), Slots: count(x.Slots)}
	}
	r.Processed = count(p.Processes)
	return r
}

// Verdict is a part file that can be read, and what of it has no place on the
// part.
type Verdict struct{ Reading }

// PartHash returns the short hash of the part's file, for the foot of a page.
func (r Reading) PartHash() string { return r.part.Hash }

// facts returns the sheet with what the part is.
func (r Reading) facts(title ...any) *sheet.Sheet {
	s := sheet.Of(&r, title...)
	s.Remark(&r.Name, r.From)
	s.Figures()
	return s
}

// Sheet implements sheet.Result.
func (v Verdict) Sheet() sheet.Sheet {
	if len(v.Fails()) > 0 {
		return *v.facts("Part file checked: such a part cannot be")
	}
	return *v.facts("Part file checked: no problems")
}

// point is a point of the profile, for the page.
type point struct {
	Z    units.Length `json:"z_mm" show:"z"`
	Dia  units.Length `json:"dia_mm" show:"diameter"`
	Note say.Text     `json:"note" show:"note"`
}

// Sheet implements sheet.Result.
func (r Reading) Sheet() sheet.Sheet {
	s := r.facts("Part: ", r.Name)
	if r.part.Round == nil {
		return *s
	}
	var list []point
	for i, st := range r.part.Round.Profile {
		list = append(list, point{st.Z, st.Dia, r.part.Round.note(i)})
	}
	s.Table(list, "Profile, left to right").Head("note", "")
	return *s
}

// note says what there is at the i-th point of the profile.
func (r Round) note(i int) say.Text {
	st := r.Profile[i]
	var notes []say.Text
	if i > 0 && r.Profile[i-1].Z.Equal(st.Z) {
		notes = append(notes, "shoulder")
	}
	for _, f := range r.Facets {
		switch {
		case len(notes) > 0 || st.Z.Less(f.From) || f.To.Less(st.Z):
		case f.Sides == 2:
			notes = append(notes, say.Of("two flats, ", f.Across, " across"))
		case f.Corners:
			notes = append(notes, say.Of(f.Sides, " sides, across corners"))
		default:
			notes = append(notes, say.Of(f.Sides, " sides, across flats"))
		}
	}
	left, right := r.sides(st.Z)
	for _, c := range r.Chamfers {
		if c.Z.Equal(st.Z) && st.Dia.Equal(units.Max(left, right)) {
			notes = append(notes, say.Of("chamfer of ", c.Size))
		}
	}
	return say.Join(notes, ", ")
}
