package render

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter/renderer"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
)

// writeMarkdown writes the sheet as Markdown with pipe tables.
func writeMarkdown(b *bytes.Buffer, r sheet.Result, look Look) error {
	p := pageOf(r, look)
	fmt.Fprintf(b, "# %s\n", escape(p.title))
	var given []string
	if p.given != "" {
		given = append(given, "Given: "+p.given)
	}
	if look.Shop != "" {
		given = append(given, "Shop: "+look.Shop)
	}
	bullets(b, "", given)
	bullets(b, "The answer is no", p.fails)
	for _, g := range p.facts {
		g.heads = []string{"what", "value", "remark"}
		if err := markdownTable(b, g); err != nil {
			return err
		}
	}
	if len(p.steps) > 0 {
		b.WriteString("\n## Steps\n\n")
	}
	for _, s := range p.steps {
		fmt.Fprintf(b, "%s\n", escape(s))
	}
	for _, g := range p.tables {
		if err := markdownTable(b, g); err != nil {
			return err
		}
	}
	if len(p.working) > 0 {
		fmt.Fprintf(b, "\n## Working\n\n```text\n%s\n```\n", strings.Join(p.working, "\n"))
	}
	bullets(b, "Notes", p.notes)
	bullets(b, "Warnings", p.warnings)
	bullets(b, "Caution", p.cautions)
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
		s = escape(s)
		if strings.IndexAny(s, "#+->") == 0 { // there it would begin a heading, a list or a quotation
			s = "\\" + s
		}
		fmt.Fprintf(b, "- %s\n", s)
	}
}

func markdownTable(b *bytes.Buffer, g grid) error {
	if g.title != "" {
		fmt.Fprintf(b, "\n## %s\n", escape(g.title))
	}
	g = g.picked(slices.Clone)
	g.each(func(_ int, _ bool, cell *string) { *cell = escape(*cell) })
	g.check = false // it stands as a row
	lines, err := tabulate(g, renderer.NewMarkdown())
	b.WriteString("\n" + lines)
	return err
}

// escape makes text safe inside a Markdown line or cell.
func escape(s string) string {
	return strings.NewReplacer("\\", "\\\\", "|", "\\|", "\n", " ", "*", "\\*", "_", "\\_", "`", "\\`", "~", "\\~",
		"[", "\\[", "]", "\\]", "<", "&lt;", "&", "&amp;").Replace(problem.Printable(s))
}
