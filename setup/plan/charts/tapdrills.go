package charts

import (
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/threads/drill"
)

// tapDrills lists the usual tap drills and clearance holes of metric and of
// unified threads, those of the sheet's unit first.
func tapDrills(in Input) (sheet.Result, error) {
	c := Chart{Name: "tap-drills", Title: "Tap drills and clearance holes"}
	other := units.Inch
	if in.Units == units.Inch {
		other = units.MM
	}
	c.Tables = []Table{{tapTable(in.Units)}, {tapTable(other)}}
	c.notes = []string{
		"Full: 100 % is 1.299038 P; ISO: 100 % is 1.082532 P. Metric drills are those of ISO 2306, inch drills the nearest to 75 %.",
		"Clearance holes: ISO 273 fine, medium and coarse; inch close, normal and loose.",
		"Forming taps need larger holes: setover thread drill --forming.",
	}
	return c, nil
}

func tapTable(u units.Unit) sheet.Table {
	title, in := "Metric, coarse and fine", "_"+u.String()
	if u == units.Inch {
		title = "UNC and UNF"
	}
	t := sheet.Table{Title: title, Cols: []sheet.Column{
		{Key: "thread", Head: "thread"},
		{Key: "drill", Head: "drill"},
		{Key: "size" + in, Head: "size"},
		{Key: "percent", Head: "full"},
		{Key: "percent_iso", Head: "ISO"},
		{Key: "close" + in, Head: "close"},
		{Key: "medium" + in, Head: "medium"},
		{Key: "free" + in, Head: "free"},
	}}
	hole := func(l *units.Length) sheet.Value {
		if l == nil {
			return nil
		}
		return sheet.LenIn(*l, u)
	}
	for _, r := range drill.Chart(u) {
		var c drill.Clearance
		if r.Clearance != nil {
			c = *r.Clearance
		}
		t.Add(sheet.Text(r.Thread.String()), sheet.Text(r.Drill), sheet.LenIn(r.Size, u),
			sheet.Num(float64(r.Percent), 0, "%"), sheet.Num(float64(r.PercentISO), 0, "%"), hole(c.Close), hole(c.Medium), hole(c.Free))
	}
	return t
}
