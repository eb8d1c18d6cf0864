package render

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
)

// writeSVG writes the sheet's first drawing at its true size.
func writeSVG(b *bytes.Buffer, s sheet.Sheet) error {
	if len(s.Drawings) == 0 {
		return problem.New(problem.NotAvailable, "format", string(SVG), "this sheet has no drawing: write table, json, csv, md or pdf")
	}
	d := s.Drawings[0]
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" fill="none" stroke-linejoin="round">`+"\n", short(d.W), short(d.H))
	fmt.Fprintf(b, "<title>%s</title>\n", inXML(strings.TrimPrefix(s.Title+": "+d.Title, ": ")))
	if len(s.Fails) > 0 {
		fmt.Fprintf(b, "<desc>NO: %s</desc>\n", inXML(strings.Join(s.Fails, "; ")))
	}
	for _, x := range d.Shapes {
		switch x := x.(type) {
		case sheet.Path:
			points := make([]string, len(x.Points))
			for i, p := range x.Points {
				points[i] = short(p.X) + "," + short(p.Y)
			}
			name := "polyline"
			if x.Closed {
				name = "polygon"
			}
			fmt.Fprintf(b, "<%s points=\"%s\"%s/>\n", name, strings.Join(points, " "), svgStroke(x.Pen))
		case sheet.Circle:
			fmt.Fprintf(b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s/>\n", short(x.C.X), short(x.C.Y), short(x.R), svgStroke(x.Pen))
		case sheet.Label:
			anchor := []string{"start", "middle", "end"}[x.Align]
			fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-family=\"DejaVu Sans Condensed, sans-serif\" font-size=\"%s\" text-anchor=\"%s\" fill=\"black\">%s</text>\n",
				short(x.At.X), short(x.At.Y), short(x.Height/capital), anchor, inXML(x.Text))
		default:
			panic(fmt.Sprintf("render: a shape of the unknown kind %T", x))
		}
	}
	b.WriteString("</svg>\n")
	return nil
}

// svgStroke returns the attributes that draw as a pen does.
func svgStroke(p sheet.Pen) string {
	s := strokeOf(p)
	if s.area {
		v := strconv.Itoa(int(s.grey*255 + 0.5))
		return fmt.Sprintf(` fill="rgb(%s,%[1]s,%[1]s)"`, v)
	}
	text := fmt.Sprintf(` stroke="black" stroke-width="%s"`, short(s.width))
	if len(s.dash) > 0 {
		dashes := make([]string, len(s.dash))
		for i, v := range s.dash {
			dashes[i] = short(v)
		}
		text += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(dashes, " "))
	}
	return text
}

// short writes a coordinate to a thousandth, without needless zeros.
func short(v float64) string {
	return positiveZero(strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64))
}

// inXML makes text safe in a document: marks escaped, control characters out.
func inXML(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd")))
}
