package sheet_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// A formula is filled with its numbers, letter by letter and word by word.
func TestWork(t *testing.T) {
	for _, tc := range []struct {
		name, formula string
		value         float64
		unit          string
		vars          []sheet.Var
		want          string
	}{
		{"a", "atan((D - d)/(2*l))", 4.763641690726178, "deg", []sheet.Var{
			sheet.Let("D", 30), sheet.Let("d", 20),
			sheet.Let("l", 60),
		}, "a = atan((D - d)/(2*l)) = atan((30 - 20)/(2*60)) = 4.763642 deg"},
		{"x", "D2 - D", 1, "mm", []sheet.Var{sheet.Let("D", 3), sheet.Let("D2", 4)}, "x = D2 - D = 4 - 3 = 1 mm"},
		{"x", "a*cos(a)", 0, "", []sheet.Var{sheet.Let("a", 90), sheet.Let("c", 5)}, "x = a*cos(a) = 90*cos(90) = 0"},
		{"x", "5 - b", 8, "mm", []sheet.Var{sheet.Let("b", -3)}, "x = 5 - b = 5 - (-3) = 8 mm"},
		{"x", "2 + 3", 5, "", nil, "x = 2 + 3 = 5"},
		{"x", "b^2", 1e-14, "mm", []sheet.Var{sheet.Let("b", 1e-7)}, "x = b^2 = 0.0000001^2 = 0 mm"},
		{"x", "b", 1e15, "", []sheet.Var{sheet.Let("b", 1e15)}, "x = b = 1000000000000000 = 1000000000000000"},
		{"x", "b", math.Copysign(0, -1), "", []sheet.Var{sheet.Let("b", math.Copysign(0, -1))}, "x = b = 0 = 0"},
		{"x", "b", -1e-9, "mm", []sheet.Var{sheet.Let("b", -1e-9)}, "x = b = (-0.000000001) = 0 mm"},
		{
			"first reading", "blank/2 + A", 35.3, "mm",
			[]sheet.Var{sheet.Let("blank", 36.6), sheet.Let("A", 17)},
			"first reading = blank/2 + A = 36.6/2 + 17 = 35.3 mm",
		},
	} {
		if got := sheet.Work(tc.name, tc.formula, tc.value, tc.unit, tc.vars...).Text(); got != tc.want {
			t.Errorf("got  %s\nwant %s", got, tc.want)
		}
	}
}

// Lists in JSON are lists, none too, and marks stay as they are.
func TestLists(t *testing.T) {
	var r sheet.Remarks
	encoded := func() string {
		var b strings.Builder
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		if err := e.Encode(r); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if got, want := encoded(), `{"warnings":[],"cautions":[]}`+"\n"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	r.Warnings.Add("not-checked", "a < b & c")
	r.Caution("Eyes.", "Hands.", "Eyes.")
	r.Caution("Hands.")
	if got, want := encoded(), `{"warnings":[{"code":"not-checked","text":"a < b & `+
		`c"}],"cautions":["Eyes.","Hands."]}`+"\n"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if fails := r.Fails(); len(fails) != 0 {
		t.Errorf("an answer without a no of its own says no: %v", fails)
	}
}

// A row that does not fit its table is a defect.
func TestTableAdd(t *testing.T) {
	table := sheet.Table{Title: "Holes", Cols: []sheet.Column{{Key: "n", Head: "hole"}, {Key: "at_mm", Head: "at"}}}
	table.Add(sheet.Count(1), units.MustLength("10").Nearest())
	for _, row := range [][]sheet.Value{{}, {sheet.Count(2)}, {sheet.Count(2), nil, nil}} {
		func() {
			defer func() {
				if r := recover(); r != "sheet: a row that does not fit the columns of Holes" {
					t.Errorf("%v: recovered %v", row, r)
				}
			}()
			table.Add(row...)
		}()
	}
	if len(table.Rows) != 1 {
		t.Errorf("%d rows", len(table.Rows))
	}
}

// A number in a cell is a number in JSON, whatever it is shown with.
func TestNumberJSON(t *testing.T) {
	got, err := json.Marshal([]sheet.Value{sheet.Num(2.5, 0, "%"), sheet.Number{V: 0.1 + 0.2, Signed: true}})
	if want := "[2.5,0.3]"; err != nil || string(got) != want {
		t.Errorf("%s %v, want %s", got, err, want)
	}
}

// What can be shown.
func TestSound(t *testing.T) {
	for v, want := range map[float64]bool{0: true, -1e300: true, math.Inf(1): false, math.Inf(-1): false} {
		if got := (sheet.Number{V: v}).Sound(); got != want {
			t.Errorf("%v: %v", v, got)
		}
	}
	if (sheet.Number{V: math.NaN()}).Sound() {
		t.Error("NaN can be shown")
	}
}
