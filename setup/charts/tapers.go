package charts

import (
	"setover/setup/sheet"
	"setover/setup/units"
	"setover/tapers"
	"setover/tapers/compound"
)

// taperLength is the length a mark's error is shown over.
var taperLength = units.Millimetres(100)

// commonTapers lists tapers in common use with their slopes, and where this
// shop's compound is set to cut them with the small end at the tailstock. The
// ratios are the conical tapers of ISO 1119 (from memory) with the shop's
// other everyday ones; the angles are included angles.
func commonTapers(in Input) (sheet.Result, error) {
	c := Chart{Name: "tapers", Title: "Common tapers", notes: []string{
		"1:N, percent and taper per foot are on the diameter. The half angle is from the axis to the side: what a compound is swung by.",
		"Scale readings are for the small end at the tailstock, tool on the operator's side, handle as setover taper compound says.",
		"A taper without a mark is off this scale, or too slight for it: set it with an indicator.",
	}}
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "name", Head: "taper"},
		{Key: "ratio", Head: "1 in"},
		{Key: "taper_per_foot_in", Head: "per foot"},
		{Key: "half_angle_deg", Head: "half angle"},
		{Key: "included_angle_deg", Head: "included"},
		{Key: "reading_deg", Head: "scale reads"},
		{Key: "mark_deg", Head: "nearest mark"},
		{Key: "diameter_error_mm", Head: "mark adds per 100 mm"},
	}}
	ask := compound.Input{SmallEnd: tapers.AtTailstock}
	if in.Shop != nil && in.Shop.Lathe != nil {
		ask.Compound = in.Shop.Lathe.Compound
	}
	if ask.Compound == nil {
		c.Warnings.Add("not-checked", "no compound in this shop: no mark was looked for (lathe: compound)")
	}
	var none units.Length
	for _, slope := range slopes() {
		ask.Input = slope.Input
		ask.Small, ask.Length = &none, &taperLength
		r, err := compound.Set(ask)
		if err != nil {
			return nil, err
		}
		row := []sheet.Value{
			sheet.Text(slope.name), sheet.Num(float64(r.Ratio), 3, ""), sheet.Num(float64(r.PerFoot), 4, "in"),
			sheet.Ang(r.HalfAngle), sheet.Deg(r.Included), nil, nil, nil,
		}
		if r.Reading != nil {
			row[5] = sheet.Deg(*r.Reading)
		}
		if r.Mark != nil && r.SetHalfAngle.Deg() > 1e-9 { // at 0 the mark would cut a cylinder
			row[6], row[7] = sheet.Deg(*r.Mark), sheet.Fine(*r.DiameterError)
		}
		t.Add(row...)
	}
	c.Tables = []Table{{t}}
	return c, nil
}

// slope is a taper by its name on the chart.
type slope struct {
	name string
	tapers.Input
}

// slopes returns the tapers of the chart, the slightest first.
func slopes() []slope {
	var list []slope
	for _, s := range [][2]string{
		{"1:100", "1:100"},
		{"1:50, metric taper pin", "1:50"},
		{"1:48, inch taper pin", "1:48"},
		{"1:30", "1:30"},
		{"1:20, metric shank, Jarno", "1:20"},
		{"1:16, pipe thread", "1:16"},
		{"1:12", "1:12"},
		{"1:10", "1:10"},
		{"1:5", "1:5"},
		{"1:3", "1:3"},
		{"7:24, milling arbor", "7:24"},
	} {
		r, err := tapers.ParseRatio(s[1])
		if err != nil {
			panic(err)
		}
		list = append(list, slope{s[0], tapers.Input{Ratio: &r}})
	}
	for _, s := range [][2]string{
		{"16°, spring collet", "16deg"},
		{"30°", "30deg"},
		{"45°", "45deg"},
		{"60°, lathe centre", "60deg"},
		{"82°, inch countersink", "82deg"},
		{"90°, metric countersink", "90deg"},
		{"120°", "120deg"},
	} {
		a := units.MustAngle(s[1])
		list = append(list, slope{s[0], tapers.Input{Included: &a}})
	}
	return list
}
