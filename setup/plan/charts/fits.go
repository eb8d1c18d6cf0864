package charts

import (
	"fmt"
	"strings"

	"setover/setup/base/units"
	"setover/setup/bench/fits"
	"setover/setup/page/sheet"
)

// The classes and sizes of the fits chart: the common holes and shafts, and
// the upper ends of the ranges, fine enough for s, which changes within the
// standard's main steps above 50 mm.
var (
	fitClasses = []string{"H7", "H8", "H9", "H11", "d9", "f7", "g6", "h6", "h9", "k6", "n6", "p6", "s6"}
	fitSizes   = []int64{3, 6, 10, 18, 30, 50, 65, 80, 100, 120}
)

// fitLimits lists the limits of the common classes, and the preferred fits
// with what they are good for.
func fitLimits(Input) (sheet.Result, error) {
	c := Chart{Name: "fits", Title: "Limits and fits", notes: []string{
		"Limits in µm from the nominal size (ISO 286). A range of sizes has its upper end in it: 30 mm belongs to 18-30.",
		"Never press into laminate or wood: glue it.",
	}}
	limits := sheet.Table{Title: "Limits, µm", Cols: []sheet.Column{{Key: "range_mm", Head: "above-to, mm"}}}
	for _, class := range fitClasses {
		part := "shaft_"
		if class[0] >= 'A' && class[0] <= 'Z' {
			part = "hole_"
		}
		limits.Cols = append(limits.Cols, sheet.Column{Key: part + strings.ToLower(class) + "_um", Head: class})
	}
	from := int64(0)
	for _, to := range fitSizes {
		row := []sheet.Value{sheet.Text(fmt.Sprintf("%d-%d", from, to))}
		from = to
		for _, text := range fitClasses {
			class, err := fits.ParseClass(text)
			if err != nil {
				return nil, err
			}
			upper, lower, err := class.Deviations(units.Millimetres(to))
			if err != nil {
				return nil, err
			}
			row = append(row, sheet.Text(microns(upper)+"/"+microns(lower)))
		}
		limits.Add(row...)
	}
	preferred := sheet.Table{Title: "Preferred fits, at 20 mm", Cols: []sheet.Column{
		{Key: "fit", Head: "fit"}, {Key: "clearance_min_mm", Head: "tightest"}, {Key: "clearance_max_mm", Head: "loosest"}, {Key: "advice", Head: "what for"},
	}}
	for _, fit := range fits.Preferred() {
		spec, err := fits.ParseSpec("20mm "+fit, units.MM)
		if err != nil {
			return nil, err
		}
		r, err := fits.Of(fits.Input{Spec: spec})
		if err != nil {
			return nil, err
		}
		preferred.Add(sheet.Text(fit), sheet.Fine(*r.ClearanceMin), sheet.Fine(*r.ClearanceMax), sheet.Text(r.Advice))
	}
	c.Tables = []Table{{limits}, {preferred}}
	return c, nil
}

// microns returns a deviation as the trade writes it: "+21", "0", "-7".
func microns(l units.Length) string {
	text := l.Decimal().Shift(3).String()
	if l.Sign() > 0 {
		return "+" + text
	}
	return text
}
