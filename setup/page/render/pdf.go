package render

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"setover/setup/page/sheet"
)

// The fonts are parsed only when a page is made.
var (
	//go:embed fonts/DejaVuSansCondensed.ttf
	regularTTF []byte
	//go:embed fonts/DejaVuSansCondensed-Bold.ttf
	boldTTF []byte
	//go:embed fonts/runes.txt
	runesText string
)

// writePDF writes the sheet as pages. The same sheet and look give the same
// bytes: no date is written but a fixed one.
func writePDF(b *bytes.Buffer, r sheet.Result, look Look) error {
	p := newPen()
	l := layOut(pageOf(r, look), look, p.advance)
	p.document(l, look)
	var raw bytes.Buffer
	if err := p.pdf.Output(&raw); err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	text, err := atTrueSize(raw.String())
	b.WriteString(text)
	return err
}

// pen draws marks with the page library.
type pen struct {
	pdf   *fpdf.Fpdf
	known map[rune]bool // what the fonts hold
}

const family = "DejaVu"

func newPen() *pen {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"})
	pdf.AddUTF8FontFromBytes(family, "", regularTTF)
	pdf.AddUTF8FontFromBytes(family, "B", boldTTF)
	return &pen{pdf, runes(runesText)}
}

// runes reads the list of characters the fonts were cut to.
func runes(text string) map[rune]bool {
	known := map[rune]bool{}
	for line := range strings.Lines(text) {
		span, _, _ := strings.Cut(line, "#")
		var from, to rune
		switch n, _ := fmt.Sscanf(span, "U+%X-%X", &from, &to); {
		case n == 1:
			to = from
		case n == 0 && strings.TrimSpace(span) != "":
			panic("render: fonts/runes.txt: " + line)
		case n == 0:
			continue
		}
		for r := from; r <= to; r++ {
			known[r] = true
		}
	}
	return known
}

// legible returns text with ? for what the fonts do not hold.
func (p *pen) legible(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ':
			return ' '
		case !p.known[r]:
			return '?'
		}
		return r
	}, text)
}

func (p *pen) font(bold bool, points float64) {
	style := ""
	if bold {
		style = "B"
	}
	p.pdf.SetFont(family, style, points)
}

// advance returns the width of text in mm.
func (p *pen) advance(text string, bold bool, points float64) float64 {
	p.font(bold, points)
	return p.pdf.GetStringWidth(p.legible(text))
}

// document draws the pages.
func (p *pen) document(l *layout, look Look) {
	p.pdf.SetCatalogSort(true)
	p.pdf.SetCreationDate(time.Unix(0, 0).UTC())
	p.pdf.SetModificationDate(time.Unix(0, 0).UTC())
	p.pdf.SetTitle(p.legible(l.title), true)
	p.pdf.SetCreator(strings.TrimSpace("setover "+look.Version), true)
	p.pdf.SetLang("en")
	p.pdf.SetMargins(0, 0, 0)
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetLineCapStyle("butt")
	p.pdf.SetLineJoinStyle("round")
	for _, marks := range l.pages {
		p.pdf.AddPageFormat("P", fpdf.SizeType{Wd: l.width, Ht: l.height})
		for _, m := range marks {
			p.draw(m)
		}
	}
}

func (p *pen) draw(m mark) {
	at := m.points[0]
	if m.kind == words {
		p.font(m.bold, m.size)
		p.pdf.Text(at.X, at.Y, p.legible(m.text))
		return
	}
	style := "D"
	if m.stroke.area {
		style = "F"
		grey := m.stroke.level()
		p.pdf.SetFillColor(grey, grey, grey)
	} else {
		p.pdf.SetLineWidth(m.stroke.width)
		p.pdf.SetDashPattern(m.stroke.dash, 0)
	}
	if m.kind == circle {
		p.pdf.Circle(at.X, at.Y, m.radius, style)
		return
	}
	p.pdf.MoveTo(at.X, at.Y)
	for _, q := range m.points[1:] {
		p.pdf.LineTo(q.X, q.Y)
	}
	if m.closed {
		p.pdf.ClosePath()
	}
	p.pdf.DrawPath(style)
}

// atTrueSize tells whoever prints the file not to scale it to the page, so
// that drawings and the check bar come out in true size. The page library has
// no call for it, so the catalog is written once more with a
// /ViewerPreferences entry, as an incremental update (ISO 32000-1, 7.5.6 and
// 12.2; the entry came with PDF 1.6).
func atTrueSize(file string) (string, error) {
	ending := regexp.MustCompile(`trailer\n<<\n((?s:.*)/Root (\d+) 0 R\n(?s:.*))>>\nstartxref\n(\d+)\n`)
	trailer := ending.FindStringSubmatch(file)
	if trailer == nil {
		return "", errTrailer
	}
	entries, root, table := trailer[1], trailer[2], trailer[3]
	catalog := regexp.MustCompile(`\n` + root + ` 0 obj\n((?s:.*?))>>\nendobj\n`).FindStringSubmatch(file)
	if catalog == nil {
		return "", errTrailer
	}
	var b strings.Builder
	b.WriteString(file)
	object := b.Len()
	fmt.Fprintf(&b, "%s 0 obj\n%s/Version /1.6\n/ViewerPreferences <</PrintScaling /None>>\n>>\nendobj\n",
		root, catalog[1])
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n%s 1\n%010d 00000 n \ntrailer\n<<\n%s/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n",
		root, object, entries, table, xref)
	return b.String(), nil
}

var errTrailer = errors.New("the page library writes its trailer otherwise than it did")
