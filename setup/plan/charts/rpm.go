package charts

import (
	"strings"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// speedTable is one table of the chart: an operation, the machine it is done
// on, and the diameters that are common there.
type speedTable struct {
	op       feeds.Operation
	title    string
	mm, inch string
}

func speedTables() []speedTable {
	return []speedTable{
		{feeds.Turn, "Turning", "5 10 16 20 25 32 40 50 80 100", "1/4 3/8 1/2 3/4 1 1-1/4 1-1/2 2 3 4"},
		{feeds.Drill, "Drilling", "1.5 2 3 4 5 6 7 8 10 13", "1/16 3/32 1/8 5/32 3/16 1/4 5/16 3/8 7/16 1/2"},
	}
}

// chartedMaterials are one or two of a kind, as many as leave the chart on one
// page.
func chartedMaterials() []string {
	return []string{
		"low-carbon-steel", "free-machining-steel", "annealed-tool-steel", "stainless-304", "cast-iron", "free-cutting-brass",
		"tin-bronze", "copper", "aluminium-6061", "titanium-grade-5", "acetal", "glass-epoxy-laminate",
	}
}

// speeds lists what this shop's machines run at for common materials and
// diameters, with the speeds that suit marked.
func speeds(in Input) (Chart, error) {
	c := Chart{title: "Speeds of this shop's machines, high-speed steel", notes: []say.Text{
		"rev/min. Dot: it suits. !: even the lowest is too fast. Plain: less than half of what suits. " +
			"Carbide runs at least twice as fast.",
	}}
	for _, t := range speedTables() {
		machines := feeds.MachinesFor(t.op, "")
		drive := shop.Drive{}
		if in.Shop != nil {
			drive = in.Shop.Drive(machines...)
		}
		title := say.Of(t.title, ", diameters in ", in.Units)
		if drive.Spindle != nil {
			title += say.Of(", on the ", drive.Machine)
		} else {
			c.NotChecked(machines[0].Key()+": spindle",
				strings.ToLower(t.title), ": no machine with speeds in this shop, these are the ideal speeds")
		}
		list, err := t.rows(drive, in.Units)
		if err != nil {
			return c, err
		}
		c.Tables = append(c.Tables, Table{title, rows(list)})
	}
	return c, nil
}

// rows returns the table's cells.
func (t speedTable) rows(drive shop.Drive, u units.Unit) ([][]cell, error) {
	text := t.mm
	if u == units.Inch {
		text = t.inch
	}
	words := strings.Fields(text)
	table, err := feeds.Speeds(t.op, drive, chartedMaterials(), sizes(text, u))
	var list [][]cell
	for _, speeds := range table {
		row := []cell{{"material", "material", plainTitle(speeds[0].Material)}}
		for i, s := range speeds {
			key := strings.NewReplacer("/", "_", "-", "_", ".", "_").Replace("d_" + words[i] + "_" + u.String())
			row = append(row, cell{key, words[i], mark(s)})
		}
		list = append(list, row)
	}
	return list, err
}

// plainTitle is a material's title without what it says more exactly.
func plainTitle(title string) say.Text {
	if i := strings.IndexAny(title, ",("); i > 0 {
		title = title[:i]
	}
	return say.Text(strings.TrimSpace(title))
}

// mark writes a speed with its mark: the machine's, or the ideal one in whole
// turns.
func mark(c feeds.Cell) say.Text {
	if c.RPM == nil {
		return say.Of(int(c.Ideal.RPM()))
	}
	speed := say.Num(c.RPM.RPM(), 0)
	switch c.Fit {
	case feeds.Suits:
		return "•" + speed
	case feeds.Fast:
		return "!" + speed
	}
	return speed
}
