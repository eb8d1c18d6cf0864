// Package render puts a result on a terminal, into a file or on paper. It is
// the only home of the table and page libraries and is imported by the command
// line alone.
//
// A format is one row of formats and one function. Those for people write a
// page: the sheet worded in the unit that was asked for.
package render

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Format is a way to write a result.
type Format string

// The formats that other packages name.
const (
	Table    Format = "table"
	JSON     Format = "json"
	CSV      Format = "csv"
	Markdown Format = "md"
	SVG      Format = "svg"
	PDF      Format = "pdf"
)

// format is a row of the formats: its name, the ending of its files, and what
// writes a result in it.
type format struct {
	name   Format
	ending string
	write  func(b *bytes.Buffer, r sheet.Result, look Look) error
}

func formats() []format {
	return []format{
		{Table, ".txt", writeTerminal},
		{JSON, ".json", writeJSON},
		{CSV, ".csv", writeCSV},
		{Markdown, ".md", writeMarkdown},
		{SVG, ".svg", writeSVG},
		{PDF, ".pdf", writePDF},
	}
}

// Formats lists every format by name.
func Formats() []Format {
	var names []Format
	for _, f := range formats() {
		names = append(names, f.name)
	}
	return names
}

// ParseFormat reads a format's name.
func ParseFormat(text string) (Format, error) {
	var wrong check.List
	check.OneOf(&wrong, "format", Format(text), Formats())
	return Format(text), wrong.Err()
}

// row returns the format's row.
func (f Format) row() format { return formats()[slices.Index(Formats(), f)] }

// Ending returns the ending of a file in the format.
func (f Format) Ending() string { return f.row().ending }

// ByEnding returns the format of a file with the ending, "" for an unknown one.
func ByEnding(ending string) Format {
	for _, f := range formats() {
		if f.ending == ending {
			return f.name
		}
	}
	return ""
}

// Look is how a result is to look: the format and what a person chose.
type Look struct {
	Format  Format
	Units   units.Unit // for tables and pages; JSON and CSV are always in mm
	Width   int        // columns of the terminal; 0 when there is none
	Color   bool
	Working bool         // show the formulas with their numbers
	Given   []sheet.Fact // what was understood from the question
	Shop    string       // which shop was used

	// Key words the name of a flag inside a sentence; nil leaves it as it is.
	Key func(name string) string

	// For pages: the paper (A4 where not given) and what stands at the foot.
	// A hash is short and empty where there is no such file.
	Paper              Paper
	Version            string
	PartHash, ShopHash string
}

// flag words the name of a flag.
func (l Look) flag(name string) string {
	if l.Key == nil {
		return name
	}
	return l.Key(name)
}

// Bytes renders r. It fails with a problem where r cannot be written in the
// format (SVG needs a drawing), and with any other error where it cannot be
// encoded, which is a defect.
func Bytes(r sheet.Result, look Look) ([]byte, error) {
	var b bytes.Buffer
	err := look.Format.row().write(&b, r, look)
	return b.Bytes(), err
}

// writeJSON writes the result as one JSON object, with the shop's name as its
// last key when a shop was used.
func writeJSON(b *bytes.Buffer, r sheet.Result, look Look) error {
	text, err := encode(r)
	if err != nil {
		return err
	}
	if look.Shop != "" {
		name, err := encode(look.Shop)
		if err != nil {
			return err
		}
		text = append(append(text[:len(text)-1:len(text)-1], `,"shop":`...), append(name, '}')...)
	}
	if err := json.Indent(b, text, "", "  "); err != nil {
		return fmt.Errorf("encoding the result: %w", err)
	}
	b.WriteByte('\n')
	return nil
}

// encode returns v as JSON on one line, < > and & as they are.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, fmt.Errorf("encoding the result: %w", err)
	}
	return bytes.TrimSpace(b.Bytes()), nil
}

// writeCSV writes the sheet's first table, or its facts as one row, with the
// JSON keys as headings; lengths in mm, angles in degrees, in full.
func writeCSV(b *bytes.Buffer, r sheet.Result, _ Look) error {
	w := csv.NewWriter(b)
	if err := w.WriteAll(keyed(r.Sheet())); err != nil {
		return fmt.Errorf("writing CSV: %w", err)
	}
	return nil
}

// keyed returns a sheet's first table, or its facts as one row, as text for
// machines under the JSON keys.
func keyed(s sheet.Sheet) [][]string {
	t := sheet.Table{Rows: [][]sheet.Value{nil}}
	for _, f := range s.Facts {
		if f.Key != "" {
			t.Cols = append(t.Cols, sheet.Column{Key: f.Key})
			t.Rows[0] = append(t.Rows[0], f.Value)
		}
	}
	if len(s.Tables) > 0 {
		t = s.Tables[0]
	}
	lines := make([][]string, 1+len(t.Rows))
	for _, c := range t.Cols {
		lines[0] = append(lines[0], c.Key)
	}
	for i, row := range t.Rows {
		for _, v := range row {
			lines[1+i] = append(lines[1+i], exact(v))
		}
	}
	return lines
}
