package feeds

import (
	"setover/setup/shop"
	"setover/setup/units"
)

// Cell is one speed of the wall chart: for a material and a diameter the ideal
// speed, what the machine runs at, and whether that is inside the material's
// range. RPM is nil without a machine.
type Cell struct {
	Material  string              `json:"material"`
	Diameter  units.Length        `json:"diameter_mm"`
	Ideal     units.SpindleSpeed  `json:"ideal_rpm"`
	RPM       *units.SpindleSpeed `json:"rpm"`
	Reachable bool                `json:"reachable"`
}

// Speeds returns the speeds of an operation for materials (rows) and diameters
// (columns) on a machine. A cell is reachable when the machine has a speed,
// not above a rating, whose surface speed is at most the ideal and at least
// half of the low end of the range.
//
// It fails where Choose does.
func Speeds(op Operation, tool Tool, drive shop.Drive, names []string, diameters []units.Length) ([][]Cell, error) {
	var rows [][]Cell
	for _, name := range names {
		var row []Cell
		for _, d := range diameters {
			r, err := Choose(Input{Operation: op, Material: name, Diameter: d, Tool: tool, Drive: drive})
			if err != nil {
				return nil, err
			}
			c := Cell{Material: r.Inputs.Material, Diameter: d, Ideal: r.IdealRPM, RPM: r.RPM}
			if r.ActualSpeed != nil && len(r.fails) == 0 {
				v := r.ActualSpeed.MetresPerMinute()
				c.Reachable = v <= r.CuttingSpeed.MetresPerMinute()*(1+1e-9) && v >= r.SpeedLow.MetresPerMinute()/2
			}
			row = append(row, c)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// CommonMaterials are the materials of the wall chart, one or two of a kind.
func CommonMaterials() []string {
	return []string{
		"low-carbon-steel", "free-machining-steel", "annealed-tool-steel", "stainless-304", "cast-iron", "free-cutting-brass",
		"tin-bronze", "copper", "aluminium-6061", "titanium-grade-5", "acetal", "glass-epoxy-laminate", "hardwood",
	}
}

// CommonDiameters are the diameters of the wall chart, in mm.
func CommonDiameters() []units.Length {
	var list []units.Length
	for _, mm := range []int64{3, 5, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 80, 100} {
		list = append(list, units.Millimetres(mm))
	}
	return list
}
