package render

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
)

// writeMarkdown writes the sheet as Markdown with pipe tables.
func writeMarkdown(b *bytes.Buffer, s sheet.Sheet, look Look) error {
	fmt.Fprintf(b, "# %s\n", escape(s.Title))
	var given []string
	if len(s.Given) > 0 {
		given = append(given, "Given: "+givenText(s, look))
	}
	if s.Shop != "" {
		given = append(given, "Shop: "+s.Shop)
	}
	bullets(b, "", given)
	bullets(b, "The answer is no", s.Fails)
	if len(s.Facts) > 0 {
		g := factGrid(s.Facts, look.Units)
		g.heads = []string{"what", "value", "remark"}
		if err := markdownTable(b, g); err != nil {
			return err
		}
	}
	for _, t := range s.Tables {
		if t.Title != "" {
			fmt.Fprintf(b, "\n## %s\n", escape(t.Title))
		}
		if err := markdownTable(b, gridOf(t, look.Units)); err != nil {
			return err
		}
	}
	if len(s.Working) > 0 {
		fmt.Fprintf(b, "\n## Working\n\n```text\n%s\n```\n", strings.Join(workingLines(s), "\n"))
	}
	bullets(b, "Notes", s.Notes)
	var warnings []string
	for _, w := range s.Warnings {
		warnings = append(warnings, w.Text)
	}
	bullets(b, "Warnings", warnings)
	bullets(b, "Caution", s.Cautions)
	return nil
}

func bullets(b *bytes.Buffer, title string, items []string) {
	if len(items) == 0 {
		return
	}
	if title != "" {
		fmt.Fprintf(b, "\n## %s\n", title)
	}
	b.WriteByte('\n')
	for _, s := range items {
		fmt.Fprintf(b, "- %s\n", escapeStart(s))
	}
}

func markdownTable(b *bytes.Buffer, g grid) error {
	align := make([]tw.Align, len(g.words))
	for i, words := range g.words {
		align[i] = tw.AlignRight
		if words {
			align[i] = tw.AlignLeft
		}
	}
	escaped := grid{heads: escapeAll(g.heads), words: g.words}
	for _, r := range g.rows {
		escaped.rows = append(escaped.rows, escapeAll(r))
	}
	if g.check != nil {
		escaped.rows = append(escaped.rows, escapeAll(g.check))
	}
	text, err := tabulate(escaped, align, renderer.NewMarkdown())
	if err != nil {
		return err
	}
	b.WriteByte('\n')
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	return nil
}

// escape makes text safe inside a Markdown line or cell.
func escape(s string) string {
	return strings.NewReplacer("\\", "\\\\", "|", "\\|", "\n", " ", "*", "\\*", "_", "\\_", "`", "\\`", "~", "\\~",
		"[", "\\[", "]", "\\]", "<", "&lt;", "&", "&amp;").Replace(problem.Printable(s))
}

// escapeStart is escape for text at the start of a line, where a mark would
// begin a heading, a list or a quotation.
func escapeStart(s string) string {
	s = escape(s)
	if strings.IndexAny(s, "#+->") == 0 {
		return "\\" + s
	}
	return s
}

func escapeAll(row []string) []string {
	out := make([]string, len(row))
	for i, s := range row {
		out[i] = escape(s)
	}
	return out
}
