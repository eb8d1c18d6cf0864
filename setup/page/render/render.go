// Package render puts a result on a terminal, into a file or on paper. It is
// the only home of the table and page libraries and is imported by the command
// line alone.
package render

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Format is a way to write a result.
type Format string

// The formats.
const (
	Table    Format = "table"
	JSON     Format = "json"
	CSV      Format = "csv"
	Markdown Format = "md"
	SVG      Format = "svg"
	PDF      Format = "pdf"
)

// Formats lists every format by name.
func Formats() []string {
	return []string{string(Table), string(JSON), string(CSV), string(Markdown), string(SVG), string(PDF)}
}

// ParseFormat reads a format's name.
func ParseFormat(text string) (Format, error) {
	for _, f := range Formats() {
		if f == text {
			return Format(f), nil
		}
	}
	return "", problem.New(problem.Unknown, "format", text, "not a format: write "+strings.Join(Formats(), ", ")).Near(Formats())
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

// Bytes renders r. It fails with a problem where r cannot be written in the
// format (SVG needs a drawing), and with any other error where it cannot be
// encoded, which is a defect.
func Bytes(r sheet.Result, look Look) ([]byte, error) {
	var b bytes.Buffer
	var err error
	switch look.Format {
	case JSON:
		err = writeJSON(&b, r, look)
	case CSV:
		err = writeCSV(&b, page(r, look))
	case Markdown:
		err = writeMarkdown(&b, page(r, look), look)
	case Table:
		err = writeTerminal(&b, page(r, look), look)
	case SVG:
		err = writeSVG(&b, page(r, look))
	case PDF:
		err = writePDF(&b, page(r, look), look)
	default:
		panic("render: unknown format " + string(look.Format))
	}
	return b.Bytes(), err
}

// page returns the sheet of r with what the renderer adds to every sheet.
func page(r sheet.Result, look Look) sheet.Sheet {
	s := r.Sheet()
	s.Given, s.Shop = look.Given, look.Shop
	if !look.Working {
		s.Working = nil
	}
	u := look.Units
	if look.Format == CSV {
		u = units.MM
	}
	w := problem.Wording{Unit: u, Key: look.Key}
	for _, p := range r.Fails() {
		s.Fails = append(s.Fails, p.Worded(w))
	}
	return s.Worded(w)
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
	text = []byte(problem.Wording{Key: look.Key}.Text(say.Text(text)))
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
func writeCSV(b *bytes.Buffer, s sheet.Sheet) error {
	var rows [][]string
	if len(s.Tables) > 0 {
		t := s.Tables[0]
		head := make([]string, len(t.Cols))
		for i, c := range t.Cols {
			head[i] = c.Key
		}
		rows = append(rows, head)
		for _, r := range t.Rows {
			line := make([]string, len(r))
			for i, v := range r {
				line[i] = exact(v)
			}
			rows = append(rows, line)
		}
	} else {
		var head, line []string
		for _, f := range s.Facts {
			if f.Key != "" {
				head, line = append(head, f.Key), append(line, exact(f.Value))
			}
		}
		rows = [][]string{head, line}
	}
	w := csv.NewWriter(b)
	if err := w.WriteAll(rows); err != nil {
		return fmt.Errorf("writing CSV: %w", err)
	}
	return nil
}
