package charts

import (
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/standard"
)

// taperLength is the length a mark's error is shown over.
var taperLength = units.Millimetres(100)

// commonTapers lists tapers in common use with their slopes, and where this
// shop's compound is set to cut them with the small end at the tailstock. The
// ratios are conical tapers of ISO 1119 (from memory); those with a name have
// their sources in tapers/standard.
func commonTapers(in Input) (sheet.Result, error) {
	c := Chart{Name: "tapers", Title: "Common tapers", notes: []string{
		"1:N and taper per foot are on the diameter; the half angle is from the axis to the side.",
		"Scale readings are for the small end at the tailstock; a taper without a mark is set with an indicator.",
	}}
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "name", Head: "taper"},
		{Key: "ratio", Head: "one in"},
		{Key: "taper_per_foot_in", Head: "per foot"},
		{Key: "half_angle_deg", Head: "half angle"},
		{Key: "included_angle_deg", Head: "included"},
		{Key: "reading_deg", Head: "scale reads"},
		{Key: "mark_deg", Head: "nearest mark"},
		{Key: "diameter_error_mm", Head: "mark adds per 100 mm"},
	}}
	ask := compound.Input{SmallEnd: tapers.AtTailstock}
	if in.Shop != nil && in.Shop.Lathe != nil {
		ask.Lathe = *in.Shop.Lathe
	}
	if ask.Lathe.Compound == nil {
		c.Warnings.Add("not-checked", "no compound in this shop: no mark was looked for (lathe: compound)")
	}
	list, err := slopes()
	if err != nil {
		return nil, err
	}
	var none units.Length
	for _, slope := range list {
		ask.Input = tapers.Input{HalfAngle: &slope.half, Small: &none, Length: &taperLength}
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
		if r.Mark != nil {
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
	half units.Angle
}

// slopes returns the tapers of the chart: those with a name in the trade, then
// ratios and included angles.
func slopes() ([]slope, error) {
	var list []slope
	for _, name := range [][2]string{ // what stands for a family of one slope has the family's name
		{"MT0", "MT0"},
		{"MT1", "MT1"},
		{"MT2", "MT2"},
		{"MT3", "MT3"},
		{"MT4", "MT4"},
		{"MT5", "MT5"},
		{"MT6", "MT6"},
		{"JT1", "JT1"},
		{"JT2", "JT2"},
		{"JT6", "JT6"},
		{"JT33", "JT33"},
		{"Jarno, metric 1:20", "Jarno6"},
		{"7/24", "7/24-40"},
		{"pin, metric, 1:50", "PIN-1:50-6"},
		{"pin, inch, 1:48", "PIN-1:48-6"},
		{"NPT, 1:16", "NPT"},
		{"R8", "R8"},
		{"5C", "5C"},
		{"ER", "ER"},
	} {
		s, err := standard.Find(name[1])
		if err != nil {
			return nil, err
		}
		list = append(list, slope{name[0], s.HalfAngle})
	}
	for _, text := range []string{"1:12", "1:10", "1:5", "1:3"} {
		r, err := tapers.ParseRatio(text)
		if err != nil {
			return nil, err
		}
		list = append(list, slope{text, tapers.HalfAngleOfRatio(r)})
	}
	for _, text := range []string{"30°", "45°", "60°", "82°", "90°"} {
		list = append(list, slope{text + " included", units.MustAngle(text).Half()})
	}
	return list, nil
}
