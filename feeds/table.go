package feeds

import (
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// Cell is one speed of a chart: for a material and a diameter the ideal speed,
// what the machine runs at, and how that suits. RPM is nil and Fit empty
// without a machine.
type Cell struct {
	Material string
	Diameter units.Length
	Ideal    units.SpindleSpeed
	RPM      *units.SpindleSpeed
	Fit      Fit
}

// Fit says how a machine's speed suits a cut.
type Fit string

// The fits. A speed is slow when its surface speed is less than half of the
// low end of the material's range, and fast above the ideal.
const (
	Suits Fit = "suits"
	Slow  Fit = "slow"
	Fast  Fit = "fast"
)

// Speeds returns the speeds of an operation with high-speed-steel tools for
// materials (rows) and diameters (columns) on a machine. It fails where Choose
// does.
func Speeds(op Operation, drive shop.Drive, names []string, diameters []units.Length) ([][]Cell, error) {
	var rows [][]Cell
	for _, name := range names {
		var row []Cell
		for _, d := range diameters {
			r, err := Choose(Input{Operation: op, Material: name, Diameter: d, Drive: drive})
			if err != nil {
				return nil, err
			}
			c := Cell{Material: r.material.Title, Diameter: d, Ideal: r.IdealRPM, RPM: r.RPM}
			if r.ActualSpeed != nil {
				c.Fit = fit(r)
			}
			row = append(row, c)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func fit(r Result) Fit {
	switch v := r.ActualSpeed.MetresPerMinute(); {
	case v > r.CuttingSpeed.MetresPerMinute()*(1+1e-9) || len(r.Fails()) > 0:
		return Fast
	case v < r.SpeedLow.MetresPerMinute()/2:
		return Slow
	}
	return Suits
}
