package render

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/page/sheet"
)

// writeSVG writes the sheet's first drawing at its true size.
func writeSVG(b *bytes.Buffer, r sheet.Result, look Look) error {
	p := pageOf(r, look)
	if len(p.drawings) == 0 {
		var others []Format
		for _, f := range Formats() {
			if f != SVG {
				others = append(others, f)
			}
		}
		return problem.New(problem.NotAvailable, "format", SVG, "this sheet has no drawing: write ", say.Choice(others))
	}
	d := p.drawings[0]
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" `+
		`fill="none" stroke-linejoin="round">`+"\n", coordinate(d.W), coordinate(d.H))
	fmt.Fprintf(b, "<title>%s</title>\n", inXML(strings.TrimPrefix(p.title+": "+d.Title, ": ")))
	if len(p.fails) > 0 {
		fmt.Fprintf(b, "<desc>NO: %s</desc>\n", inXML(strings.Join(p.fails, "; ")))
	}
	for _, x := range d.Shapes {
		b.WriteString(svgShape(x) + "\n")
	}
	b.WriteString("</svg>\n")
	return nil
}

// anchors are where a label's place is on it, by its Align.
var anchors = [...]string{"start", "middle", "end"}

func svgShape(x sheet.Shape) string {
	switch x := x.(type) {
	case sheet.Path:
		points := make([]string, len(x.Points))
		for i, p := range x.Points {
			points[i] = coordinate(p.X) + "," + coordinate(p.Y)
		}
		name := "polyline"
		if x.Closed {
			name = "polygon"
		}
		return fmt.Sprintf(`<%s points="%s"%s/>`, name, strings.Join(points, " "), svgStroke(x.Pen))
	case sheet.Circle:
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s"%s/>`,
			coordinate(x.C.X), coordinate(x.C.Y), coordinate(x.R), svgStroke(x.Pen))
	case sheet.Label:
		return fmt.Sprintf(`<text x="%s" y="%s" font-family="DejaVu Sans Condensed, sans-serif" font-size="%s" `+
			`text-anchor="%s" fill="black">%s</text>`, coordinate(x.At.X), coordinate(x.At.Y),
			coordinate(x.Height/capital), anchors[x.Align], inXML(x.Text))
	}
	panic(fmt.Sprintf("render: a shape of the unknown kind %T", x))
}

// svgStroke returns the attributes that draw as a pen does.
func svgStroke(p sheet.Pen) string {
	s := strokes[p]
	if s.area {
		return fmt.Sprintf(` fill="rgb(%d,%[1]d,%[1]d)"`, s.level())
	}
	text := fmt.Sprintf(` stroke="black" stroke-width="%s"`, coordinate(s.width))
	if len(s.dash) > 0 {
		dashes := make([]string, len(s.dash))
		for i, v := range s.dash {
			dashes[i] = coordinate(v)
		}
		text += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(dashes, " "))
	}
	return text
}

// coordinate writes a coordinate to a thousandth, without needless zeros.
func coordinate(v float64) string { return fixed(math.Round(v*1000)/1000, -1) }

// inXML makes text safe in a document: marks escaped, control characters out.
func inXML(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd")))
}
