package feeds

import (
	_ "embed"
	"strconv"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
)

//go:embed belt.csv
var beltCSV string

// belts returns the speeds of abrasive belts by a material's name or group.
var belts = sync.OnceValue(func() map[string]materials.Figure {
	list := map[string]materials.Figure{}
	for _, row := range tables.Rows("belt.csv", beltCSV) {
		perMinute := func(key string) float64 {
			v, err := strconv.ParseFloat(row[key], 64)
			if err != nil {
				panic("feeds: belt.csv: " + err.Error())
			}
			return v * 60 // from m/s
		}
		list[row["what"]] = materials.Figure{
			Low: perMinute("low"), High: perMinute("high"), Chosen: perMinute("chosen"),
			Unit: "m/min", Printed: row["low"] + " to " + row["high"] + " m/s", Source: row["src"],
		}
	}
	return list
})

// beltSpeed returns the speed of a belt on a material: its own row, else its
// group's. Every group has one.
func beltSpeed(m *materials.Material) materials.Figure {
	if f, ok := belts()[m.Name]; ok {
		return f
	}
	return belts()[string(m.Group)]
}

// scaled returns a figure times a factor, which stands behind what is printed,
// with the rule's source behind its own.
func scaled(f materials.Figure, factor float64, source string) materials.Figure {
	if factor == 1 && source == noSource {
		return f
	}
	f.Low, f.High, f.Chosen = f.Low*factor, f.High*factor, f.Chosen*factor
	if factor != 1 {
		f.Printed += " x " + strconv.FormatFloat(factor, 'g', 3, 64)
	}
	f.Source += "; " + source
	return f
}

// speedFor returns the cutting speed in m/min: the material's own figure, else
// by the rules. ok is false where nothing gives one.
func speedFor(m *materials.Material, op Operation, tool Tool) (f materials.Figure, ok bool) {
	if op == Grind {
		return beltSpeed(m), true
	}
	if f, ok = m.CuttingSpeed(string(op), string(tool)); ok {
		return f, true
	}
	if r := op.facts().speed; r.base != "" {
		if f, ok = speedFor(m, r.base, tool); ok {
			return scaled(f, r.factor, r.source), true
		}
	}
	for _, t := range tools {
		if t.tool == tool && tool != HSS {
			if f, ok = speedFor(m, op, HSS); ok {
				return scaled(f, t.factor, t.source), true
			}
		}
	}
	return materials.Figure{}, false
}

// figureDrill is the drill that a material's drilling feed is for, in mm: the
// middle of 1/8 to 1/4 in.
const figureDrill = 4.7625

// feedFor returns the feed in mm/rev, for milling in mm/tooth: the material's
// figure, else by the rules. A drill's grows with its diameter, as in the
// shop's rule of 0.001 in a revolution for each 1/16 in. ok is false where the
// feed is a pitch, the hand's, or the belt's.
func feedFor(m *materials.Material, op Operation, tool Tool, dia units.Length) (f materials.Figure, ok bool) {
	if f, ok = m.Feed(string(op), string(tool)); ok {
		switch op {
		case Drill:
			return scaled(f, dia.MM()/figureDrill, "norseman"), true
		case Mill:
			if most := practice.ChipOfCutter.Number() * dia.MM(); most < f.Chosen {
				return scaled(f, most/f.Chosen, noSource), true
			}
		}
		return f, true
	}
	if r := op.facts().feed; r.base != "" {
		if f, ok = feedFor(m, r.base, tool, dia); ok {
			return scaled(f, r.factor, r.source), true
		}
	}
	if tool == Carbon {
		return feedFor(m, op, HSS, dia)
	}
	return materials.Figure{}, false
}
