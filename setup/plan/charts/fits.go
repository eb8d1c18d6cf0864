package charts

import (
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/fits"
)

// The classes and sizes of the fits chart: the common holes and shafts, and
// the upper ends of the ranges, fine enough for s, which changes within the
// standard's main steps above 50 mm.
var (
	fitClasses = []string{"H7", "H8", "H9", "H11", "d9", "f7", "g6", "h6", "h9", "k6", "n6", "p6", "s6"}
	fitSizes   = []int64{3, 6, 10, 18, 30, 50, 65, 80, 100, 120}
)

// preferred is a fit with what it is good for.
type preferred struct {
	Fit      string        `json:"fit" show:"fit"`
	Tightest *units.Length `json:"clearance_min_mm" show:"tightest" as:"fine"`
	Loosest  *units.Length `json:"clearance_max_mm" show:"loosest" as:"fine"`
	Advice   string        `json:"advice" show:"what for"`
}

// fitLimits lists the limits of the common classes, and the preferred fits
// with what they are good for.
func fitLimits(Input) (Chart, error) {
	c := Chart{title: "Limits and fits", notes: []say.Text{
		"Limits in µm from the nominal size (ISO 286). A range of sizes has its upper end in it: 30 mm belongs to 18-30.",
		"Never press into laminate or wood: glue it.",
	}}
	var limits [][]cell
	from := int64(0)
	for _, to := range fitSizes {
		row := []cell{{"range_mm", "above-to, mm", say.Of(from, "-", to)}}
		from = to
		for _, text := range fitClasses {
			class, err := fits.ParseClass(text)
			if err != nil {
				return c, err
			}
			upper, lower, err := class.Deviations(units.Millimetres(to))
			if err != nil {
				return c, err
			}
			part := "shaft_"
			if text[0] >= 'A' && text[0] <= 'Z' {
				part = "hole_"
			}
			row = append(row, cell{part + strings.ToLower(text) + "_um", text, microns(upper) + "/" + microns(lower)})
		}
		limits = append(limits, row)
	}
	var list []preferred
	for _, fit := range fits.Preferred() {
		spec, err := fits.ParseSpec("20mm "+fit, units.MM)
		if err != nil {
			return c, err
		}
		r, err := fits.Of(fits.Input{Spec: spec})
		if err != nil {
			return c, err
		}
		list = append(list, preferred{fit, r.ClearanceMin, r.ClearanceMax, r.Advice})
	}
	c.Tables = []Table{{"Limits, µm", rows(limits)}, {"Preferred fits, at 20 mm", list}}
	return c, nil
}

// microns returns a deviation as the trade writes it: "+21", "0", "-7".
func microns(l units.Length) say.Text {
	text := say.Of(l.Decimal().Shift(3))
	if l.Sign() > 0 {
		return "+" + text
	}
	return text
}
