package render

import (
	"bytes"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/pkg/twwarp"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
)

// narrowest is how far a column of words may be squeezed.
const narrowest = 12

// gap stands between two columns.
const gap = "  "

// writeTerminal writes the sheet as plain text, fitted to look.Width columns
// when that is not 0.
func writeTerminal(b *bytes.Buffer, s sheet.Sheet, look Look) error {
	p := printer{b: b, look: look}
	p.heading(s.Title)
	if len(s.Given) > 0 {
		p.item("given: ", givenText(s, look))
	}
	if s.Shop != "" {
		p.item("shop:  ", s.Shop)
	}
	for _, f := range s.Fails {
		p.gap()
		p.item(p.bold("NO: "), f)
	}
	if len(s.Facts) > 0 {
		p.gap()
		if err := p.table(factGrid(s.Facts, look.Units), false); err != nil {
			return err
		}
	}
	for _, t := range s.Tables {
		p.gap()
		if t.Title != "" {
			p.heading(t.Title)
		}
		if err := p.table(gridOf(t, look.Units), true); err != nil {
			return err
		}
	}
	p.list("Working", "  ", workingLines(s))
	p.list("Notes", "- ", s.Notes)
	for _, w := range s.Warnings {
		p.gap()
		p.item("warning: ", w.Text)
	}
	p.list("Caution", "! ", s.Cautions)
	return nil
}

func remark(text string) string {
	if text == "" {
		return ""
	}
	return " (" + text + ")"
}

// givenText returns what was understood from the question as one line.
func givenText(s sheet.Sheet, look Look) string {
	words := make([]string, len(s.Given))
	for i, f := range s.Given {
		words[i] = f.Label
		if f.Value == nil {
			continue
		}
		if text := factText(f.Value, look.Units); !strings.HasSuffix(f.Label, text) {
			words[i] += remark(text)
		}
	}
	return strings.Join(words, ", ")
}

func workingLines(s sheet.Sheet) []string {
	lines := make([]string, len(s.Working))
	for i, w := range s.Working {
		lines[i] = w.Text()
	}
	return lines
}

// printer writes lines of text within the terminal's width.
type printer struct {
	b    *bytes.Buffer
	look Look
}

func (p printer) line(s string) {
	p.b.WriteString(strings.TrimRight(s, " "))
	p.b.WriteByte('\n')
}

// heading writes a title in bold.
func (p printer) heading(title string) {
	for _, l := range wrap(problem.Printable(title), p.look.Width) {
		p.line(p.bold(l))
	}
}

func (p printer) gap() { p.b.WriteByte('\n') }

func (p printer) bold(s string) string {
	if p.look.Color && s != "" {
		return "\x1b[1m" + s + "\x1b[0m"
	}
	return s
}

// item writes text behind a mark; further lines hang under its first word.
func (p printer) item(mark, text string) {
	width := twwidth.Width(mark)
	for i, part := range strings.Split(problem.Printable(text), "\n") {
		for j, l := range wrap(part, p.look.Width-width) {
			if i == 0 && j == 0 {
				p.line(mark + l)
			} else {
				p.line(strings.Repeat(" ", width) + l)
			}
		}
	}
}

func (p printer) list(title, mark string, items []string) {
	if len(items) == 0 {
		return
	}
	p.gap()
	p.heading(title)
	for _, s := range items {
		p.item(mark, s)
	}
}

// wrap breaks text at spaces into lines of at most width columns; a width
// under narrowest means no limit.
func wrap(text string, width int) []string {
	if width < narrowest {
		return []string{text}
	}
	return lines(text, width)
}

// lines breaks text at blanks into lines of at most width columns, or of its
// longest word where that is more.
func lines(text string, width int) []string {
	if twwidth.Width(text) <= width {
		return []string{text}
	}
	list, _ := twwarp.WrapString(text, width)
	return list
}

// table writes a grid. A grid wider than the terminal has its columns of words
// and its headings wrapped, and if that is not enough is cut into tables one
// below the other that repeat the first column.
func (p printer) table(g grid, headings bool) error {
	for i, part := range fit(g, p.look.Width) {
		if i > 0 {
			p.gap()
		}
		if !headings {
			p.plain(part)
			continue
		}
		if err := p.draw(part); err != nil {
			return err
		}
	}
	return nil
}

// plain writes a grid of words without headings or rules. It does by hand what
// the table library would: starting that library takes longer than most
// answers, and most answers are such a list.
func (p printer) plain(g grid) {
	w := widths(g)
	for _, row := range g.rows {
		cells, height := make([][]string, len(row)), 0
		for i, cell := range row {
			cells[i] = strings.Split(cell, "\n")
			height = max(height, len(cells[i]))
		}
		for line := range height {
			text, at := "", 0
			for i, c := range cells {
				if line < len(c) {
					text += strings.Repeat(" ", at-twwidth.Width(text)) + c[line]
				}
				at += w[i] + len(gap)
			}
			p.line(text)
		}
	}
}

// fit returns g as one or more grids no wider than width; 0 is no limit. A
// column is never narrower than its longest word or number, so only the first
// column with one other can still be too wide.
func fit(g grid, width int) []grid {
	w := widths(g)
	if width <= 0 || total(w) <= width {
		return []grid{g}
	}
	least := leastWidths(g)
	for total(w) > width {
		widest := -1
		for i := range w {
			if w[i] > least[i] && (widest < 0 || w[i] > w[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		w[widest]--
	}
	g = wrapped(g, w)
	w = widths(g)
	if total(w) <= width || len(w) < 3 {
		return []grid{g}
	}
	var parts []grid
	for from := 1; from < len(w); {
		to, sum := from, w[0]
		for to < len(w) && (to == from || sum+len(gap)+w[to] <= width) {
			sum += len(gap) + w[to]
			to++
		}
		parts = append(parts, columns(g, from, to))
		from = to
	}
	return parts
}

// leastWidths returns how far each column may be squeezed: words to narrowest
// or their longest word, numbers to the longest number, and no heading below
// its longest word.
func leastWidths(g grid) []int {
	least := make([]int, len(g.heads))
	for i, w := range widths(g) {
		if g.words[i] {
			least[i] = min(w, narrowest)
		}
		for _, word := range strings.Fields(g.heads[i]) {
			least[i] = max(least[i], twwidth.Width(word))
		}
		for _, row := range append([][]string{g.check}, g.rows...) {
			if row == nil {
				continue
			}
			parts := []string{row[i]}
			if g.words[i] {
				parts = strings.Fields(row[i])
			}
			for _, s := range parts {
				least[i] = max(least[i], twwidth.Width(s))
			}
		}
	}
	return least
}

// wrapped returns g with its headings and words broken into lines of at most
// the widths w.
func wrapped(g grid, w []int) grid {
	breakRow := func(row []string, all bool) []string {
		if row == nil {
			return nil
		}
		out := slices.Clone(row)
		for i := range out {
			if all || g.words[i] {
				out[i] = strings.Join(lines(out[i], w[i]), "\n")
			}
		}
		return out
	}
	out := grid{title: g.title, heads: breakRow(g.heads, true), words: g.words, check: breakRow(g.check, false)}
	for _, r := range g.rows {
		out.rows = append(out.rows, breakRow(r, false))
	}
	return out
}

// columns returns the first column of g and those from..to-1.
func columns(g grid, from, to int) grid {
	pick := func(row []string) []string {
		if row == nil {
			return nil
		}
		return append([]string{row[0]}, row[from:to]...)
	}
	part := grid{title: g.title, heads: pick(g.heads), check: pick(g.check)}
	part.words = append([]bool{g.words[0]}, g.words[from:to]...)
	for _, r := range g.rows {
		part.rows = append(part.rows, pick(r))
	}
	return part
}

func widths(g grid) []int {
	w := make([]int, len(g.heads))
	for _, row := range append([][]string{g.heads, g.check}, g.rows...) {
		for i, cell := range row {
			for _, l := range strings.Split(cell, "\n") {
				w[i] = max(w[i], twwidth.Width(l))
			}
		}
	}
	return w
}

func total(w []int) int {
	sum := len(gap) * (len(w) - 1)
	for _, n := range w {
		sum += n
	}
	return sum
}

// draw writes one grid with the table library, trailing blanks removed.
func (p printer) draw(g grid) error {
	rule := "-"
	if p.look.Color {
		rule = "─"
	}
	align := make([]tw.Align, len(g.words))
	for i, words := range g.words {
		align[i] = tw.AlignRight
		if words {
			align[i] = tw.AlignLeft
		}
	}
	rendition := tw.Rendition{
		Borders: tw.Border{Left: tw.Off, Right: tw.Off, Top: tw.Off, Bottom: tw.Off},
		Symbols: tw.NewSymbolCustom("rule").WithRow(rule).WithColumn(gap).WithCenter(rule + rule).
			WithMidLeft(rule).WithMidRight(rule),
		Settings: tw.Settings{
			Separators: tw.Separators{BetweenColumns: tw.On, BetweenRows: tw.Off, ShowHeader: tw.On, ShowFooter: tw.On},
			Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On, ShowFooterLine: tw.On},
		},
	}
	text, err := tabulate(g, align, renderer.NewBlueprint(rendition))
	if err != nil {
		return err
	}
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		p.line(l)
	}
	return nil
}

// tabulate is the one place that drives the table library. The renderer says
// how lines are drawn; the rest is the same for the terminal and Markdown.
func tabulate(g grid, align []tw.Align, r tw.Renderer) (string, error) {
	bare := tw.CellPadding{Global: tw.Padding{Overwrite: true}}
	columns := tw.CellAlignment{PerColumn: align}
	var b strings.Builder
	t := tablewriter.NewTable(&b,
		tablewriter.WithRenderer(r),
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithConfig(tablewriter.Config{
			Header: tw.CellConfig{Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone}, Alignment: columns, Padding: bare},
			Row:    tw.CellConfig{Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone}, Alignment: columns, Padding: bare},
			Footer: tw.CellConfig{Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone}, Alignment: columns, Padding: bare},
		}),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithFooterAutoFormat(tw.Off),
		tablewriter.WithTrimSpace(tw.Off),
	)
	t.Header(g.heads)
	if err := t.Bulk(g.rows); err != nil {
		return "", err
	}
	if g.check != nil {
		t.Footer(g.check)
	}
	if err := t.Render(); err != nil {
		return "", err
	}
	return b.String(), nil
}

// Captions returns a titled list of names with their meanings, as help prints
// it.
func Captions(title string, rows [][2]string) string {
	var b bytes.Buffer
	p := printer{b: &b}
	p.line(title + ":")
	wide := 0
	for _, r := range rows {
		wide = max(wide, twwidth.Width(r[0]))
	}
	for _, r := range rows {
		p.line("  " + r[0] + strings.Repeat(" ", wide-twwidth.Width(r[0])) + gap + r[1])
	}
	return b.String()
}
