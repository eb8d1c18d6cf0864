// Package tables reads the reference tables that are built into the program:
// CSV with a heading, one fact a row, its source in the row. Lines that start
// with # are comments.
package tables

import (
	"encoding/csv"
	"strings"
)

// Rows returns a table's rows by column name. It panics when the text is no
// table: it is our own.
func Rows(name, text string) []map[string]string {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		panic("tables: " + name + ": " + err.Error())
	}
	rows := make([]map[string]string, len(all)-1)
	for i, line := range all[1:] {
		rows[i] = map[string]string{}
		for c, cell := range line {
			rows[i][all[0][c]] = cell
		}
	}
	return rows
}
