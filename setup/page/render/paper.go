package render

import (
	"slices"
	"strconv"
	"strings"

	"setover/setup/base/check"
	"setover/setup/page/sheet"
)

// Paper is a size of paper.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// stock is what is known of a paper: the width and height of an upright sheet
// in mm, and the bar at the foot of each page with its length in mm, its
// divisions and what it is called.
type stock struct {
	name          Paper
	width, height float64
	bar           float64
	divisions     int
	barName       string
}

var papers = []stock{
	{A4, 210, 297, 100, 10, "100 mm"},        // ISO 216
	{Letter, 215.9, 279.4, 101.6, 8, "4 in"}, // 8-1/2 x 11 in (ANSI/ASME Y14.1, size A)
}

// Papers lists every paper by name.
func Papers() []Paper { return []Paper{papers[0].name, papers[1].name} }

// ParsePaper reads a paper's name.
func ParsePaper(text string) (Paper, error) {
	var wrong check.List
	check.OneOf(&wrong, "paper", Paper(text), Papers())
	return Paper(text), wrong.Err()
}

// stock returns what is known of a paper, of A4 where none is named.
func (p Paper) stock() stock { return papers[max(0, slices.Index(Papers(), p))] }

// The margins, in mm. The foot holds the check bar and the footer.
const (
	margin = 13.0
	top    = 13.0
	foot   = 24.0
)

// The sizes of type, in points: what tables are set in at best and at worst,
// and the rest.
const (
	largest  = 14.0
	least    = 9.0
	textSize = 12.0
	noteSize = 10.0
)

const (
	leading = 1.3 // from line to line, in sizes of type
	between = 0.9 // from column to column, in sizes of type
	gutter  = 7.0 // mm between the parts of a long table that stand side by side
	rowPad  = 0.8 // mm above and below the words of a row
	squeeze = 40. // mm a column of words may be squeezed to
)

// em returns a size of type in mm.
func em(points float64) float64 { return points * 25.4 / 72 }

// mark is one stroke on a page, in mm from its top left corner: words, a line
// or an area through points, or a circle.
type mark struct {
	kind   markKind
	points []sheet.Point // one for words (the start of their base line) and circles
	text   string
	size   float64 // of type, in points
	bold   bool
	radius float64
	closed bool
	stroke stroke
}

type markKind int

const (
	words markKind = iota
	path
	circle
)

// layout puts a sheet on pages. It knows nothing of the page library but how
// wide words come out.
type layout struct {
	look          Look
	width, height float64
	pages         [][]mark
	y             float64 // where the next thing goes on the last page
	head          float64 // where its first thing went
	title         string
	alike         map[string]float64 // the type of tables with these headings, in points
	// advance returns the width of text in mm.
	advance func(text string, bold bool, points float64) float64
}

// layOut returns the pages of s with the size they have. A sheet with a table
// that is too wide for an upright page in the least size of type lies on its
// side.
func layOut(s page, look Look, advance func(string, bool, float64) float64) *layout {
	l := &layout{look: look, title: s.title, advance: advance}
	paper := look.Paper.stock()
	l.width, l.height = paper.width, paper.height
	for _, g := range s.tables {
		if _, ok := setTable(l.measure(g), l.inside()); !ok && l.width < l.height {
			l.width, l.height = l.height, l.width
		}
	}
	l.turn()
	l.paragraph("Given: ", s.given, noteSize)
	l.paragraph("Shop: ", look.Shop, noteSize)
	l.box(2, "NO", s.fails, stroke{width: 1.2}, 20)
	for _, g := range s.facts {
		l.gap(3)
		l.table(g)
	}
	l.list("Steps", "", s.steps)
	for _, d := range s.drawings {
		l.drawing(d)
	}
	l.matched(s.tables)
	for _, g := range s.tables {
		l.gap(3)
		l.table(g)
	}
	l.list("Notes", "• ", s.notes)
	l.box(3, "Warning", s.warnings, stroke{width: wide, dash: []float64{3, 1.5}}, textSize)
	l.box(3, "⚠ Caution", s.cautions, stroke{width: wide}, textSize)
	// Last, so that it is the working that goes to a second page.
	l.list("Working", "", s.working)
	l.footers(paper)
	return l
}

func (l *layout) inside() float64 { return l.width - 2*margin }

func (l *layout) bottom() float64 { return l.height - foot }

func (l *layout) put(m mark) {
	last := len(l.pages) - 1
	l.pages[last] = append(l.pages[last], m)
}

// write puts text on the base line y.
func (l *layout) write(x, y float64, text string, bold bool, points float64) {
	if text != "" {
		l.put(mark{kind: words, points: []sheet.Point{{X: x, Y: y}}, text: text, bold: bold, size: points})
	}
}

func (l *layout) line(x1, y1, x2, y2 float64, s stroke) {
	l.put(mark{kind: path, points: []sheet.Point{{X: x1, Y: y1}, {X: x2, Y: y2}}, stroke: s})
}

func (l *layout) rectangle(x, y, w, h float64, s stroke) {
	corners := []sheet.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	l.put(mark{kind: path, closed: true, stroke: s, points: corners})
}

// turn begins a page with the title at its head: large on the first, small on
// those that follow.
func (l *layout) turn() {
	l.pages = append(l.pages, nil)
	l.y = top
	if len(l.pages) == 1 {
		l.atMost(3, l.title, 20)
	} else {
		l.atMost(1, l.title, textSize)
	}
	l.y += 1
	l.line(margin, l.y, l.width-margin, l.y, stroke{width: wide})
	l.y += 2
	l.head = l.y
}

// pageHead returns where a page after the first begins under its title.
func (l *layout) pageHead() float64 { return top + leading*em(textSize) + 3 }

// atMost sets a title on no more than n lines; … stands for what is left out.
func (l *layout) atMost(n int, title string, points float64) {
	lines := l.wrap(title, true, points, l.inside()-em(points))
	for i, line := range lines[:min(n, len(lines))] {
		if i == n-1 && len(lines) > n {
			line += "…"
		}
		l.textLine(margin, line, true, points)
	}
}

// textLine puts one line of text at y and goes on below it.
func (l *layout) textLine(x float64, text string, bold bool, points float64) {
	l.write(x, l.y+baseLine(points), text, bold, points)
	l.y += leading * em(points)
}

// baseLine returns how far the base line is under the top of a line of text.
func baseLine(points float64) float64 { return (leading + capital) / 2 * em(points) }

// need turns the page unless h mm are left on it or it is still empty.
func (l *layout) need(h float64) {
	if l.y+h > l.bottom() && l.y > l.head {
		l.turn()
	}
}

// gap leaves h mm free, but not at the head of a page.
func (l *layout) gap(h float64) {
	if l.y > l.head {
		l.y = min(l.y+h, l.bottom())
	}
}

// wrap breaks text at blanks into lines of at most width mm, and a word wider
// than that anywhere. There is always a line.
func (l *layout) wrap(text string, bold bool, points, width float64) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(part) {
			if try := strings.TrimSpace(line + " " + word); line == "" || l.advance(try, bold, points) <= width {
				line = try
			} else {
				lines = append(lines, line)
				line = word
			}
			for l.advance(line, bold, points) > width {
				n := 0
				for i, r := range line {
					if i > 0 && l.advance(line[:i+len(string(r))], bold, points) > width {
						break
					}
					n = i + len(string(r))
				}
				if n == len(line) {
					break
				}
				lines = append(lines, line[:n])
				line = line[n:]
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// paragraph sets text behind a mark; its further lines hang under its first
// word. Without text it sets nothing.
func (l *layout) paragraph(before, text string, points float64) {
	if text == "" {
		return
	}
	hang := l.advance(before, false, points)
	for i, line := range l.wrap(text, false, points, l.inside()-hang) {
		l.need(leading * em(points))
		if i == 0 {
			l.write(margin, l.y+baseLine(points), before, false, points)
		}
		l.textLine(margin+hang, line, false, points)
	}
}

// titleLines breaks a title over a table or a list; "" has none.
func (l *layout) titleLines(title string) []string {
	if title == "" {
		return nil
	}
	return l.wrap(title, true, textSize, l.inside())
}

// heading sets a title over a table or a list.
func (l *layout) heading(title string) {
	for _, line := range l.titleLines(title) {
		l.textLine(margin, line, true, textSize)
	}
}

// heightOf returns the height of a heading.
func (l *layout) heightOf(title string) float64 {
	return float64(len(l.titleLines(title))) * leading * em(textSize)
}

// list sets a heading and a paragraph for each item.
func (l *layout) list(title, before string, items []string) {
	if len(items) == 0 {
		return
	}
	l.gap(3)
	l.need(3 * leading * em(textSize))
	l.heading(title)
	for _, s := range items {
		l.paragraph(before, s, noteSize)
		l.y += 0.8
	}
}

// boxPad is the space inside a box, in mm.
const boxPad = 3.0

// box sets items under a heading in a frame, gap mm below what stands before; no
// items, no box. A frame that does not fit the rest of the page goes to the
// next, and one longer than a page is parted.
func (l *layout) box(gap float64, title string, items []string, frame stroke, points float64) {
	if len(items) == 0 {
		return
	}
	l.gap(gap)
	type textLine struct {
		before, text string
		bold         bool
		size         float64
	}
	hang := l.advance("• ", false, textSize)
	lines := []textLine{{"", title, true, points}}
	for _, s := range items {
		for i, t := range l.wrap(s, false, textSize, l.inside()-hang-2*boxPad) {
			before := ""
			if i == 0 {
				before = "• "
			}
			lines = append(lines, textLine{before, t, false, textSize})
		}
	}
	height := 2 * boxPad
	for _, t := range lines {
		height += leading * em(t.size)
	}
	if height <= l.bottom()-top-12 {
		l.need(height)
	}
	for len(lines) > 0 {
		l.need(2*boxPad + leading*em(lines[0].size))
		n, h := 0, 2*boxPad
		for n < len(lines) && l.y+h+leading*em(lines[n].size) <= l.bottom() {
			h += leading * em(lines[n].size)
			n++
		}
		l.rectangle(margin, l.y, l.inside(), h, frame)
		l.y += boxPad
		for _, t := range lines[:n] {
			x := margin + boxPad
			if !t.bold {
				l.write(x, l.y+baseLine(t.size), t.before, false, t.size)
				x += hang
			}
			l.textLine(x, t.text, t.bold, t.size)
		}
		l.y += boxPad
		lines = lines[n:]
	}
}

// drawing puts a figure on the page at the largest scale that fits, with its
// title and the scale under it.
func (l *layout) drawing(d sheet.Drawing) {
	l.gap(4)
	caption := 2*leading*em(noteSize) + 2
	n := scaleFor(d, l.inside(), l.bottom()-top-14-caption)
	k := 1 / float64(n)
	l.need(d.H*k + caption)
	x0, y0 := margin+(l.inside()-d.W*k)/2, l.y
	at := func(p sheet.Point) sheet.Point { return sheet.Point{X: x0 + p.X*k, Y: y0 + p.Y*k} }
	for _, s := range d.Shapes {
		switch s := s.(type) {
		case sheet.Path:
			m := mark{kind: path, closed: s.Closed, stroke: strokes[s.Pen]}
			for _, p := range s.Points {
				m.points = append(m.points, at(p))
			}
			l.put(m)
		case sheet.Circle:
			l.put(mark{kind: circle, points: []sheet.Point{at(s.C)}, radius: s.R * k, stroke: strokes[s.Pen]})
		case sheet.Label:
			points := max(s.Height*k, smallest) / capital * 72 / 25.4
			p := at(s.At)
			l.write(p.X-l.advance(s.Text, false, points)*float64(s.Align)/2, p.Y, s.Text, false, points)
		default:
			panic("render: a shape of an unknown kind")
		}
	}
	l.y += d.H*k + 2
	scale := "scale 1:" + strconv.Itoa(n)
	if d.Title != "" {
		scale = d.Title + ", " + scale
	}
	l.textLine(margin+(l.inside()-l.advance(scale, false, noteSize))/2, scale, false, noteSize)
}

// footers puts the check bar and the footer on every page.
func (l *layout) footers(paper stock) {
	var parts []string
	for _, p := range [][2]string{{"setover ", l.look.Version}, {"part ", l.look.PartHash}, {"shop ", l.look.ShopHash}} {
		if p[1] != "" {
			parts = append(parts, p[0]+p[1])
		}
	}
	for i := range l.pages {
		page := &l.pages[i]
		on := layout{pages: [][]mark{*page}, advance: l.advance}
		y := l.height - 15.0
		on.line(margin, y, margin+paper.bar, y, stroke{width: narrow})
		for j := range paper.divisions + 1 {
			x := margin + paper.bar*float64(j)/float64(paper.divisions)
			up := 1.5
			if j == 0 || j == paper.divisions {
				up = 3
			}
			on.line(x, y-up, x, y, stroke{width: narrow})
		}
		on.write(margin+paper.bar+3, y, paper.barName+" when printed at 100 %", false, least)
		on.write(margin, l.height-9, strings.Join(parts, " · "), false, least)
		number := "page " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(l.pages))
		on.write(l.width-margin-l.advance(number, false, least), l.height-9, number, false, least)
		*page = on.pages[0]
	}
}
