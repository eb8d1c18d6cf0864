package feeds

import (
	_ "embed"
	"strconv"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/book/materials"
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
func beltSpeed(m *materials.Material) (materials.Figure, bool) {
	if f, ok := belts()[m.Name]; ok {
		return f, true
	}
	f, ok := belts()[string(m.Group)]
	return f, ok
}
