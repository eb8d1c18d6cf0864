package charts

import (
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/threads/drill"
)

// tapDrills lists the usual tap drills and clearance holes of metric and of
// unified threads, those of the sheet's unit first.
func tapDrills(in Input) (Chart, error) {
	c := Chart{title: "Tap drills and clearance holes", notes: []say.Text{
		"Full: 100 % is 1.299038 P; ISO: 100 % is 1.082532 P. " +
			"Metric drills are those of ISO 2306, inch drills the nearest to 75 %.",
		"Clearance holes: ISO 273 fine, medium and coarse; inch close, normal and loose.",
		say.Of("Forming taps need larger holes: setover thread drill with ", say.Key("forming"), "."),
	}}
	c.Tables = []Table{{"Metric, coarse and fine", tapped(units.MM)}, {"UNC and UNF", tapped(units.Inch)}}
	if in.Units == units.Inch {
		slices.Reverse(c.Tables)
	}
	return c, nil
}

// tapped lists the threads of a unit, with their sizes in it.
func tapped(u units.Unit) any {
	in := "_" + u.String()
	hole := func(l *units.Length) sheet.Value {
		if l == nil {
			return nil
		}
		return l.Always(u)
	}
	var list [][]cell
	for _, r := range drill.Chart(u) {
		var clear drill.Clearance
		if r.Clearance != nil {
			clear = *r.Clearance
		}
		list = append(list, []cell{
			{"thread", "thread", say.Of(r.Thread)},
			{"drill", "drill", say.Of(r.Drill)},
			{"size" + in, "size", r.Size.Always(u)},
			{"percent", "full", sheet.Num(float64(r.Percent), 0, "%")},
			{"percent_iso", "ISO", sheet.Num(float64(r.PercentISO), 0, "%")},
			{"close" + in, "close", hole(clear.Close)},
			{"medium" + in, "medium", hole(clear.Medium)},
			{"free" + in, "free", hole(clear.Free)},
		})
	}
	return rows(list)
}
