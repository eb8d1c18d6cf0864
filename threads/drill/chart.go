package drill

import (
	"slices"
	"strings"

	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/threads"
)

// Row is a line of a wall chart: a thread, its usual tap drill with its
// percentages, and its clearance holes (nil where no source gives any).
type Row struct {
	Thread     threads.Designation
	Drill      string
	Size       units.Length
	Percent    units.Number
	PercentISO units.Number
	Clearance  *Clearance
}

// fine are the fine metric threads of a wall chart.
const fine = `
	M3x0.35 M4x0.5 M5x0.5 M6x0.75 M8x1 M8x0.75 M10x1.25 M10x1 M12x1.5 M12x1.25
	M12x1 M14x1.5 M16x1.5 M16x1 M18x1.5 M20x1.5 M20x1 M22x1.5 M24x2 M24x1.5`

// Chart returns the tap drills of a wall chart: for mm the coarse threads M1
// to M36 and the common fine ones, for inches UNC and UNF as far as drills go.
func Chart(u units.Unit) []Row {
	var rows []Row
	listed := strings.Fields(fine)
	for _, d := range threads.All() {
		on := d.Series == "UNC" || d.Series == "UNF"
		if u == units.MM {
			on = d.Series == "coarse" && d.Major.Cmp(units.Millimetres(36)) <= 0 || slices.Contains(listed, d.String())
		}
		if x, made := Usual(d); on && made {
			rows = append(rows, Row{
				Thread: d, Drill: x.Name, Size: x.Dia, Clearance: ClearanceHoles(d),
				Percent: units.Number(Percent(d, x.Dia)), PercentISO: units.Number(PercentISO(d, x.Dia)),
			})
		}
	}
	return rows
}

// Usual returns the tap drill that charts print: for metric threads that of ISO
// 2306, d - P to the nearest 0.1 mm (0.05 mm under P 0.5), an even tenth where
// two are as near but the lower one with P 0.75; for the others the number,
// letter or fractional drill nearest to 75 %. ok is false where no drill is
// made so large.
//
// Source: ISO 2306; the inch rule reproduces trade charts, see the tests.
func Usual(d threads.Designation) (x drills.Drill, ok bool) {
	if d.Form.Inch() || d.Form.Tapping != threads.ByCharts {
		inch, hole := inchDrills(), Hole(d, 75)
		return drills.Nearest(inch, hole), hole.Cmp(inch[len(inch)-1].Dia) <= 0
	}
	l := d.Major.Minus(d.Pitch.Length(1))
	switch {
	case d.Pitch.Cmp(units.MustPitch("0.5mm")) < 0:
		l = l.RoundTo(units.MustLength("0.05mm"), units.Nearest)
	case d.Pitch.Equal(units.MustPitch("0.75mm")):
		l = l.RoundTo(units.MustLength("0.1mm"), units.Down)
	default:
		l = units.FromDecimal(l.Decimal().RoundBank(1))
	}
	return drills.Of(l), true
}
