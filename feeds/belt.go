package feeds

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"

	"setover/setup/materials"
)

//go:embed belt.csv
var beltCSV string

// belts returns the speeds of abrasive belts by a material's name or group.
var belts = sync.OnceValue(func() map[string]materials.Figure {
	r := csv.NewReader(strings.NewReader(beltCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("feeds: belt.csv: " + err.Error())
	}
	table := map[string]materials.Figure{}
	for _, row := range rows[1:] {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[1+i], 64); err != nil {
				panic("feeds: belt.csv: " + err.Error())
			}
		}
		const perSecond = 60
		table[row[0]] = materials.Figure{
			Low: v[0] * perSecond, High: v[1] * perSecond, Chosen: v[2] * perSecond,
			Unit: "m/min", Printed: row[1] + " to " + row[2] + " m/s", Source: row[4],
		}
	}
	return table
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
