// Package published reads the published figures in testdata/reference for
// tests. Nothing but tests imports it.
package published

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// Dir returns the folder of published figures.
func Dir() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(file), "..", "..", "..", "testdata", "reference")
}

var comments = regexp.MustCompile(`(?m)^# .*\n`)

// Rows returns the rows of a CSV file by column name. Lines that start with #
// and a blank are comments; #7 is a drill.
func Rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(Dir(), name))
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(bytes.NewReader(comments.ReplaceAll(text, nil))).ReadAll()
	if err != nil {
		t.Fatal(name, err)
	}
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

// Example is a worked example: what was asked, with which numbers, and what
// the source prints. Published is nil where the source gives inputs only.
type Example struct {
	Quantity  string            `json:"quantity"`
	Arguments []json.RawMessage `json:"arguments"`
	Published *json.Number      `json:"-"`
	Raw       json.RawMessage   `json:"published"`
	Source    string            `json:"source"`
}

// Num returns argument i as a number.
func (e Example) Num(t testing.TB, i int) float64 {
	t.Helper()
	var v float64
	if err := json.Unmarshal(e.Arguments[i], &v); err != nil {
		t.Fatal(e.Quantity, err)
	}
	return v
}

// Places returns how many decimals the published figure is printed with.
func (e Example) Places() int { return places(string(*e.Published)) }

// Printed returns v with as many decimals as the published figure want has, to
// compare the two as texts.
func Printed(v float64, want string) string { return strconv.FormatFloat(v, 'f', places(want), 64) }

func places(figure string) int {
	_, after, _ := strings.Cut(figure, ".")
	return len(after)
}

// Examples returns the worked examples of a quantity that have a published
// number, and fails when there are none.
func Examples(t testing.TB, quantity string) []Example {
	t.Helper()
	return examples(t, quantity, func(e *Example) bool { return json.Unmarshal(e.Raw, &e.Published) == nil })
}

// Answers returns the worked examples of a quantity that have a published
// answer of any shape, which is in Raw, and fails when there are none.
func Answers(t testing.TB, quantity string) []Example {
	t.Helper()
	return examples(t, quantity, func(*Example) bool { return true })
}

func examples(t testing.TB, quantity string, keep func(*Example) bool) []Example {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(Dir(), "worked_examples.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []Example
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	var list []Example
	for _, e := range all {
		if e.Quantity == quantity && string(e.Raw) != "null" && keep(&e) {
			list = append(list, e)
		}
	}
	if len(list) == 0 {
		t.Fatal("no worked examples of " + quantity)
	}
	return list
}
