package render

import (
	"bytes"
	"fmt"
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
func writeTerminal(b *bytes.Buffer, r sheet.Result, look Look) error {
	p, s := printer{b: b, look: look}, pageOf(r, look)
	p.heading(s.title)
	p.item("given: ", s.given)
	p.item("shop:  ", look.Shop)
	for _, f := range s.fails {
		p.gap()
		p.item(p.bold("NO: "), f)
	}
	grids := func(list []grid) error {
		for _, g := range list {
			p.gap()
			p.heading(g.title)
			if err := p.table(g); err != nil {
				return err
			}
		}
		return nil
	}
	if err := grids(s.facts); err != nil {
		return err
	}
	p.steps(s)
	if err := grids(s.tables); err != nil {
		return err
	}
	p.list("Working", "  ", s.working)
	p.list("Notes", "- ", s.notes)
	for i, w := range s.warnings {
		if !s.brief || i == 0 && !s.endsInSteps() {
			p.gap()
		}
		p.item("warning: ", w)
	}
	if s.brief {
		if len(s.warnings) == 0 && !s.endsInSteps() {
			p.gap()
		}
		p.item("", strings.Join(append([]string{"Caution:"}, s.cautions...), " "))
		return nil
	}
	p.list("Caution", "! ", s.cautions)
	return nil
}

// steps writes what is done. A short page has no line to lose before it.
func (p printer) steps(s page) {
	title := "Steps"
	if s.brief {
		title += " (each in full, with the figures behind it: " + p.look.flag("working") + ")"
	}
	if len(s.steps) > 0 && (!s.brief || len(s.facts)+len(s.fails) > 0) {
		p.gap()
	}
	p.numbered(title, s.steps)
}

// endsInSteps reports whether the steps are the last of what is not a warning.
func (p page) endsInSteps() bool {
	return len(p.steps) > 0 && len(p.tables)+len(p.working)+len(p.notes) == 0
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

// heading writes a title in bold; "" writes none.
func (p printer) heading(title string) {
	for _, l := range wrap(problem.Printable(title), p.look.Width) {
		if l != "" {
			p.line(p.bold(l))
		}
	}
}

func (p printer) gap() { p.b.WriteByte('\n') }

func (p printer) bold(s string) string {
	if p.look.Color {
		return "\x1b[1m" + s + "\x1b[0m"
	}
	return s
}

// item writes text behind a mark; further lines hang under its first word.
// Without text it writes nothing.
func (p printer) item(mark, text string) {
	if text == "" {
		return
	}
	width := twwidth.Width(mark)
	for _, part := range strings.Split(problem.Printable(text), "\n") {
		for _, l := range wrap(part, p.look.Width-width) {
			p.line(mark + l)
			mark = strings.Repeat(" ", width)
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

// numbered writes steps that begin with their number, further lines under the
// words.
func (p printer) numbered(title string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(title)
	for _, s := range items {
		number, text, _ := strings.Cut(s, " ")
		p.item(fmt.Sprintf("%-4s", number), text)
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
// below the other that repeat the first column. A column is never narrower than
// its longest word or number, so the first column with one other can still be
// too wide.
func (p printer) table(g grid) error {
	if p.look.Width > 0 {
		s, ok := p.fit(g)
		if !ok && len(g.words) > 2 {
			for i, part := range g.cut(func(g grid) bool { _, ok := p.fit(g); return ok }) {
				if i > 0 {
					p.gap()
				}
				if err := p.table(part); err != nil {
					return err
				}
			}
			return nil
		}
		g = g.picked(slices.Clone)
		g.each(func(c int, head bool, cell *string) {
			if head || g.words[c] {
				*cell = strings.Join(lines(*cell, int(s.widths[c]+1e-6)), "\n")
			}
		})
	}
	if g.heads == nil {
		p.plain(g)
		return nil
	}
	return p.draw(g)
}

// fit sets a grid in the terminal's width: a column of words is squeezed to
// narrowest or to its longest word, and if that is not enough a heading is too.
func (p printer) fit(g grid) (s setting, ok bool) {
	m := measure(g, func(text string, _ bool) float64 { return float64(columns(text)) })
	words := m.headWord
	for _, m.headWord = range [][]float64{m.head, words} {
		s, ok = m.in(1, float64(p.look.Width), float64(len(gap)), func(c int) float64 {
			return max(min(m.cell[c], narrowest), m.word[c])
		})
		if ok {
			break
		}
	}
	return s, ok
}

// columns returns how many columns the widest line of a text takes.
func columns(text string) int {
	most := 0
	for l := range strings.SplitSeq(text, "\n") {
		most = max(most, twwidth.Width(l))
	}
	return most
}

// plain writes a grid of words without headings or rules. It does by hand what
// the table library would: starting that library takes longer than most
// answers, and most answers are such a list.
func (p printer) plain(g grid) {
	w := make([]int, len(g.words))
	g.each(func(c int, _ bool, cell *string) { w[c] = max(w[c], columns(*cell)) })
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

// draw writes one grid with the table library.
func (p printer) draw(g grid) error {
	rule := "-"
	if p.look.Color {
		rule = "─"
	}
	text, err := tabulate(g, renderer.NewBlueprint(tw.Rendition{
		Borders: tw.Border{Left: tw.Off, Right: tw.Off, Top: tw.Off, Bottom: tw.Off},
		Symbols: tw.NewSymbolCustom("rule").WithRow(rule).WithColumn(gap).WithCenter(rule + rule).
			WithMidLeft(rule).WithMidRight(rule),
		Settings: tw.Settings{
			Separators: tw.Separators{BetweenColumns: tw.On, BetweenRows: tw.Off, ShowHeader: tw.On, ShowFooter: tw.On},
			Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On, ShowFooterLine: tw.On},
		},
	}))
	p.b.WriteString(text)
	return err
}

// tabulate is the one place that drives the table library. The renderer says
// how lines are drawn; the rest is the same for the terminal and Markdown.
// Lines end without blanks.
func tabulate(g grid, r tw.Renderer) (string, error) {
	align := make([]tw.Align, len(g.words))
	for c, words := range g.words {
		align[c] = tw.AlignRight
		if words {
			align[c] = tw.AlignLeft
		}
	}
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone},
		Alignment:  tw.CellAlignment{PerColumn: align},
		Padding:    tw.CellPadding{Global: tw.Padding{Overwrite: true}},
	}
	var b strings.Builder
	t := tablewriter.NewTable(&b,
		tablewriter.WithRenderer(r),
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithConfig(tablewriter.Config{Header: cell, Row: cell, Footer: cell}),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithFooterAutoFormat(tw.Off),
		tablewriter.WithTrimSpace(tw.Off),
	)
	t.Header(g.heads)
	rows := g.rows
	if g.check {
		last := len(rows) - 1
		t.Footer(rows[last])
		rows = rows[:last]
	}
	if err := t.Bulk(rows); err != nil {
		return "", err
	}
	if err := t.Render(); err != nil {
		return "", err
	}
	var out strings.Builder
	for l := range strings.SplitSeq(strings.TrimRight(b.String(), "\n"), "\n") {
		out.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	return out.String(), nil
}

// Captions returns a titled list of names with their meanings, as help prints
// it.
func Captions(title string, rows [][2]string) string {
	g := grid{words: []bool{true, true}}
	for _, r := range rows {
		g.rows = append(g.rows, []string{"  " + r[0], r[1]})
	}
	var b bytes.Buffer
	p := printer{b: &b}
	p.line(title + ":")
	p.plain(g)
	return b.String()
}
