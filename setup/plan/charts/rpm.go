package charts

import (
	"fmt"
	"math"
	"strings"

	"setover/feeds"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// speedTable is one table of the chart: an operation, the machine it is done
// on, and the diameters that are common there.
type speedTable struct {
	op         feeds.Operation
	title      string
	mm, inches []string
}

func speedTables() []speedTable {
	return []speedTable{
		{
			feeds.Turn, "Turning",
			[]string{"5", "10", "16", "20", "25", "32", "40", "50", "80", "100"},
			[]string{"1/4", "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "3", "4"},
		},
		{
			feeds.Drill, "Drilling",
			[]string{"1.5", "2", "3", "4", "5", "6", "7", "8", "10", "13"},
			[]string{"1/16", "3/32", "1/8", "5/32", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2"},
		},
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
func speeds(in Input) (sheet.Result, error) {
	c := Chart{Name: "rpm", Title: "Speeds of this shop's machines, high-speed steel", notes: []string{
		"rev/min. Dot: it suits. !: even the lowest is too fast. Plain: less than half of what suits. Carbide runs at least twice as fast.",
	}}
	for _, t := range speedTables() {
		drive := shop.Drive{}
		if in.Shop != nil {
			drive = in.Shop.Drive(feeds.MachinesFor(t.op, "")...)
		}
		table, err := speedsOf(t, drive, in.Units)
		if err != nil {
			return nil, err
		}
		c.Tables = append(c.Tables, Table{table})
		if drive.Spindle == nil {
			key := feeds.MachinesFor(t.op, "")[0].Key() + ": spindle"
			c.Warnings.Add("not-checked", strings.ToLower(t.title)+": no machine with speeds in this shop, these are the ideal speeds ("+key+")")
		}
	}
	return c, nil
}

func speedsOf(st speedTable, drive shop.Drive, u units.Unit) (sheet.Table, error) {
	sizes := st.mm
	if u == units.Inch {
		sizes = st.inches
	}
	title := fmt.Sprintf("%s, diameters in %v", st.title, u)
	if drive.Spindle != nil {
		title += ", on the " + drive.Machine.Name()
	}
	t := sheet.Table{Title: title, Cols: []sheet.Column{{Key: "material", Head: "material"}}}
	var diameters []units.Length
	for _, s := range sizes {
		d, err := units.ParseLength(s+u.String(), u)
		if err != nil {
			return t, err
		}
		diameters = append(diameters, d)
		t.Cols = append(t.Cols, sheet.Column{Key: strings.NewReplacer("/", "_", "-", "_", ".", "_").Replace("d_" + s + "_" + u.String()), Head: s})
	}
	rows, err := feeds.Speeds(st.op, drive, chartedMaterials(), diameters)
	for _, row := range rows {
		cells := []sheet.Value{sheet.Text(short(row[0].Material))}
		for _, c := range row {
			cells = append(cells, sheet.Text(mark(c)))
		}
		t.Add(cells...)
	}
	return t, err
}

// short is a material's title without what it says more exactly.
func short(title string) string {
	if i := strings.IndexAny(title, ",("); i > 0 {
		title = title[:i]
	}
	return strings.TrimSpace(title)
}

// mark writes a speed with its mark.
func mark(c feeds.Cell) string {
	if c.RPM == nil {
		return fmt.Sprintf("%.0f", math.Floor(c.Ideal.RPM()))
	}
	return map[feeds.Fit]string{feeds.Suits: "•", feeds.Fast: "!"}[c.Fit] + fmt.Sprintf("%.0f", c.RPM.RPM())
}
