// Package practice holds the usual practice of the trade: what is left, added
// or taken where nobody said anything. Every figure is a row of practice.csv
// with what it is and where it comes from; nearly all are common practice that
// no source prints. Whoever has a better figure gives it to the calculator.
//
//	practice.LeaveTurning.Length()      // 0.4 mm
//	practice.RoughDepth.Length(brass)   // 1 mm
//	practice.ReamAllowance.Length(dia)  // 0.2 mm at 8 mm
//
// The keys are constants of types of this package, so a figure that has no row
// cannot be asked for. The table is parsed on first use.
package practice

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/materials"
)

// What a key's figure is: a length, an angle, a feed a revolution or a number
// in the unit of its row; one for all, one for each material (Of), one for each
// size (By), or one for each unit of length (In).
type (
	length   string
	angle    string
	feed     string
	number   string
	lengthOf string
	numberOf string
	lengthBy string
	lengthIn string
)

// Row is a figure of practice. For is empty, a material's name, its group or
// "any"; a size with the word under, to, at or over before it; or a unit.
type Row struct{ Key, For, Value, Unit, What, Source string }

//go:embed practice.csv
var practiceCSV string

// Rows returns the whole table.
func Rows() []Row {
	var list []Row
	for _, r := range tables.Rows("practice.csv", practiceCSV) {
		list = append(list, Row{r["key"], r["for"], r["value"], r["unit"], r["what"], r["src"]})
	}
	return list
}

var table = sync.OnceValue(func() map[string][]Row {
	byKey := map[string][]Row{}
	for _, r := range Rows() {
		byKey[r.Key] = append(byKey[r.Key], r)
	}
	return byKey
})

// read holds what was read once: a plan asks for the same figures many thousand times.
var read sync.Map

// reads returns a length as it is written, parsed on its first use.
func reads(text string) units.Length {
	if l, ok := read.Load(text); ok {
		return l.(units.Length)
	}
	l := units.MustLength(text)
	read.Store(text, l)
	return l
}

// length returns the row's value; number returns it without its unit.
func (r Row) length() units.Length { return reads(r.Value + r.Unit) }

func (r Row) number() float64 {
	v, err := strconv.ParseFloat(r.Value, 64)
	if err != nil {
		panic("practice: " + r.Key + ": " + err.Error())
	}
	return v
}

// one returns the row of a figure that depends on nothing.
func one(key string) Row { return table()[key][0] }

// of returns the row for a material: its own, else its group's, else any. m
// may be nil.
func of(key string, m *materials.Material) Row {
	words := []string{"any"}
	if m != nil {
		words = []string{m.Name, string(m.Group), "any"}
	}
	for _, w := range words {
		for _, r := range table()[key] {
			if r.For == w {
				return r
			}
		}
	}
	panic("practice: " + key + " has no row for any")
}

// Length returns the figure.
func (k length) Length() units.Length { return one(string(k)).length() }

// Angle returns the figure.
func (k angle) Angle() units.Angle { return units.MustAngle(one(string(k)).Value + "deg") }

// Written returns the figure as its row has it, without its unit: what a flag
// is set to.
func (k angle) Written() string { return one(string(k)).Value }

// Written returns the figure as its row has it, without its unit.
func (k number) Written() string { return one(string(k)).Value }

// Feed returns the figure.
func (k feed) Feed() units.Feed { return units.MillimetresPerRev(one(string(k)).number()) }

// Number returns the figure in the unit of its row.
func (k number) Number() float64 { return one(string(k)).number() }

// Of returns so many times the length l, exactly: a figure that counts
// diameters or pitches, made into a length.
func (k number) Of(l units.Length) units.Length {
	return l.Scale(reads(one(string(k)).Value + "mm").Decimal())
}

// Length returns the figure for a material, which may be nil.
func (k lengthOf) Length(m *materials.Material) units.Length { return of(string(k), m).length() }

// Number returns the figure for a material, which may be nil.
func (k numberOf) Number(m *materials.Material) float64 { return of(string(k), m).number() }

// Row returns the row for a material, which may be nil.
func (k numberOf) Row(m *materials.Material) Row { return of(string(k), m) }

// Length returns the figure in a unit: a round one of it.
func (k lengthIn) Length(unit units.Unit) units.Length {
	rows := table()[string(k)]
	for _, r := range rows {
		if r.For == unit.String() {
			return r.length()
		}
	}
	return rows[0].length()
}

// Length returns the figure for a size: that of the first row that holds it.
// Rows that say "at" are points of a line: between them it is straight, and
// beyond the last one's size its value holds.
func (k lengthBy) Length(size units.Length) units.Length {
	rows := table()[string(k)]
	for i, r := range rows {
		word, text, _ := strings.Cut(r.For, " ")
		bound := reads(text)
		switch c := size.Cmp(bound); {
		case word == "over", word == "to" && c <= 0, word == "under" && c < 0:
			return r.length()
		case word == "at" && c <= 0 && i > 0:
			_, text, _ = strings.Cut(rows[i-1].For, " ")
			from := reads(text)
			low, high := rows[i-1].length(), r.length()
			part := size.Minus(from).Over(bound.Minus(from))
			return low.Plus(units.FromFloat(part * high.Minus(low).MM()))
		}
	}
	return rows[len(rows)-1].length()
}
