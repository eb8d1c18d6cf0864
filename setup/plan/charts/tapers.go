package charts

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/standard"
)

// taperLength is the length a mark's error is shown over.
var taperLength = units.Millimetres(100)

// taper is a taper of the chart, and where the compound is set for it.
type taper struct {
	Name     string        `json:"name" show:"taper"`
	Ratio    units.Number  `json:"ratio" show:"one in" as:"3"`
	PerFoot  units.Number  `json:"taper_per_foot_in" show:"per foot" as:"4 in"`
	Half     units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Included units.Angle   `json:"included_angle_deg" show:"included"`
	Reading  *units.Angle  `json:"reading_deg" show:"scale reads"`
	Mark     *units.Angle  `json:"mark_deg" show:"nearest mark"`
	Adds     *units.Length `json:"diameter_error_mm" show:"mark adds per 100 mm" as:"fine"`
}

// commonTapers lists tapers in common use with their slopes, and where this
// shop's compound is set to cut them with the small end at the tailstock. The
// ratios are conical tapers of ISO 1119 (from memory); those with a name have
// their sources in tapers/standard.
func commonTapers(in Input) (Chart, error) {
	c := Chart{title: "Common tapers", notes: []say.Text{
		"1:N and taper per foot are on the diameter; the half angle is from the axis to the side.",
		"Scale readings are for the small end at the tailstock; a taper without a mark is set with an indicator.",
	}}
	ask := compound.Input{SmallEnd: tapers.AtTailstock}
	if in.Shop != nil && in.Shop.Lathe != nil {
		ask.Lathe = *in.Shop.Lathe
	}
	if ask.Lathe.Compound == nil {
		c.NotChecked("lathe: compound", "no compound in this shop: no mark was looked for")
	}
	slopes, err := slopes()
	if err != nil {
		return c, err
	}
	var none units.Length
	var list []taper
	for _, s := range slopes {
		ask.Input = tapers.Input{HalfAngle: &s.half, Small: &none, Length: &taperLength}
		r, err := compound.Set(ask)
		if err != nil {
			return c, err
		}
		x := taper{s.name, r.Ratio, r.PerFoot, r.HalfAngle, r.Included, r.Reading, r.Mark, nil}
		if r.Mark != nil {
			x.Adds = r.DiameterError
		}
		list = append(list, x)
	}
	c.Tables = []Table{{"", list}}
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
	// What stands for a family of one slope has the family's name.
	for _, name := range [][2]string{
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
