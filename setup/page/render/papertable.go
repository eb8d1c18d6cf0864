package render

import (
	"math"
	"strings"
)

// setting is how a table is set: the size of type, the columns' widths, how
// many parts of it stand side by side, whether headings or words must go on
// another line, and whether words must.
type setting struct {
	points          float64
	widths          []float64
	total           float64
	across          int
	wrapped, broken bool
}

// measures are the widths of a table's columns in type of 1 pt, in mm: the
// widest cell and the longest word in one, the heading and its longest word.
type measures struct {
	grid
	cell, word, head, headWord []float64
}

func measure(g grid, advance func(text string, bold bool) float64) measures {
	widths := func() []float64 { return make([]float64, len(g.words)) }
	m := measures{g, widths(), widths(), widths(), widths()}
	take := func(whole, longest *float64, text string, bold bool) {
		*whole = max(*whole, advance(text, bold))
		for word := range strings.FieldsSeq(text) {
			*longest = max(*longest, advance(word, bold))
		}
	}
	for c, text := range g.heads {
		take(&m.head[c], &m.headWord[c], text, true)
	}
	for i, row := range g.rows {
		for c, text := range row {
			take(&m.cell[c], &m.word[c], text, g.kind(i).bold(c))
		}
	}
	return m
}

func (l *layout) measure(g grid) measures {
	return measure(g, func(text string, bold bool) float64 { return l.advance(text, bold, 1) })
}

// setTable returns the type in which a table fits a width: the largest, down
// to that of plain text, in which nothing is wrapped; else the largest from
// there down to the least in which the headings and the columns of words are.
func setTable(m measures, width float64) (setting, bool) {
	for points := largest; points >= least; points-- {
		if s, ok := m.onPaper(points, width); ok && (!s.wrapped || points <= textSize) {
			return s, true
		}
	}
	return setting{}, false
}

// setAcross returns the setting of a table that goes over the page: with one
// to four parts side by side, whichever takes the fewest pages, then in the
// largest type, which is not under that of notes. one is how it is set alone,
// and title is the height of its title.
func (l *layout) setAcross(m measures, title float64, one setting) setting {
	pages := func(s setting) int {
		height := leading*em(s.points) + 2*rowPad
		head := title + l.row(m.heads, s, headRow).height
		fit := func(from float64) int { return s.across * max(0, int((l.bottom()-from-head)/height)) }
		left := len(m.rows) - fit(l.y)
		if left <= 0 {
			return 1
		}
		return 1 + int(math.Ceil(float64(left)/float64(max(1, fit(l.pageHead())))))
	}
	best := one
	for across := 1; across <= 4; across++ {
		for points := textSize; points >= noteSize; points-- {
			s, ok := m.onPaper(points, (l.inside()-gutter*float64(across-1))/float64(across))
			s.across = across
			if ok && !s.broken && pages(s) < pages(best) {
				best = s
			}
		}
	}
	return best
}

// onPaper returns the columns' widths on paper, when they fit a width.
func (m measures) onPaper(points, width float64) (setting, bool) {
	return m.in(points, width, between*em(points), func(c int) float64 {
		cell, word := m.cell[c]*points, m.word[c]*points
		if m.heads == nil && c < 2 { // of facts only the remark is wrapped
			return min(cell, 1.5*squeeze)
		}
		return max(min(cell, squeeze), min(word, 1.5*squeeze))
	})
}

// in returns the columns' widths in a size of type, when they fit a width with
// a gap from column to column: a heading may be squeezed to its longest word and
// a column of words to what squeezed says.
func (m measures) in(points, width, gap float64, squeezed func(c int) float64) (setting, bool) {
	n := len(m.words)
	full, tight := make([]float64, n), make([]float64, n)
	for c := range n {
		full[c], tight[c] = max(m.cell[c], m.head[c])*points, m.cell[c]*points
		if m.words[c] {
			tight[c] = squeezed(c)
		}
		tight[c] = max(tight[c], m.headWord[c]*points)
	}
	room := width - gap*float64(n-1)
	least, most := sum(tight), sum(full)
	s := setting{points: points, widths: full, across: 1, wrapped: most > room}
	if s.wrapped {
		s.widths = tight
	}
	if least > room+1e-9 {
		return s, false
	}
	if s.wrapped {
		for c := range tight {
			tight[c] += (room - least) * (full[c] - tight[c]) / (most - least)
		}
	}
	for c, w := range s.widths {
		s.broken = s.broken || w < m.cell[c]*points-1e-9
	}
	s.total = sum(s.widths) + gap*float64(n-1)
	return s, true
}

func sum(list []float64) float64 {
	s := 0.0
	for _, v := range list {
		s += v
	}
	return s
}

// rowKind is what a row of a table is.
type rowKind int

const (
	plainRow rowKind = iota
	headRow
	checkRow // the check line
	factRow  // a name, its value and a remark
)

// kind returns what the row i is.
func (g grid) kind(i int) rowKind {
	switch {
	case g.heads == nil:
		return factRow
	case g.check && i == len(g.rows)-1:
		return checkRow
	}
	return plainRow
}

// bold reports whether a cell is set bold: the answers among facts, headings
// and a table's check line.
func (k rowKind) bold(col int) bool { return k == headRow || k == checkRow || k == factRow && col == 1 }

// row is one row of a table broken into lines, the most of them in a cell deep.
type row struct {
	kind   rowKind
	cells  [][]string
	deep   int
	height float64
}

func (l *layout) row(cells []string, s setting, kind rowKind) row {
	r := row{kind: kind}
	for c, text := range cells {
		r.cells = append(r.cells, l.wrap(text, kind.bold(c), s.points, s.widths[c]+1e-6))
	}
	return r.sized(s)
}

// sized returns r with its height.
func (r row) sized(s setting) row {
	r.deep = 1
	for _, lines := range r.cells {
		r.deep = max(r.deep, len(lines))
	}
	r.height = float64(r.deep)*leading*em(s.points) + 2*rowPad
	return r
}

// parts returns a row as it is, or one higher than height in parts that go
// below each other.
func (r row) parts(s setting, height float64) []row {
	most := max(1, int((height-2*rowPad)/(leading*em(s.points))))
	if r.deep <= most {
		return []row{r}
	}
	var list []row
	for from := 0; from < r.deep; from += most {
		part := row{kind: r.kind}
		for _, lines := range r.cells {
			part.cells = append(part.cells, lines[min(from, len(lines)):min(from+most, len(lines))])
		}
		list = append(list, part.sized(s))
	}
	return list
}

// matched notes of tables with the same headings the type in which all of them fit, so
// that they look alike.
func (l *layout) matched(tables []grid) {
	l.alike = map[string]float64{}
	for _, g := range tables {
		s, ok := setTable(l.measure(g), l.inside())
		if p, known := l.alike[g.headings()]; ok && g.heads != nil && (!known || s.points < p) {
			l.alike[g.headings()] = s.points
		}
	}
}

// headings are a table's headings in one.
func (g grid) headings() string { return strings.Join(g.heads, "\n") }

// set returns how a table is set: no larger than those with its headings.
func (l *layout) set(m measures) (setting, bool) {
	s, ok := setTable(m, l.inside())
	if p := l.alike[m.headings()]; ok && 0 < p && p < s.points {
		if smaller, fits := m.onPaper(p, l.inside()); fits {
			s = smaller
		}
	}
	return s, ok
}

// table sets a table. One that does not fit even a page on its side in the
// least size of type is cut into tables one below the other that repeat the
// first column; columns that still do not fit have one width, and their words
// break anywhere.
func (l *layout) table(g grid) {
	m := l.measure(g)
	s, ok := l.set(m)
	n := len(g.words)
	if !ok && n < 3 {
		s, ok = setting{points: least, total: l.inside(), across: 1, widths: make([]float64, n)}, true
		for c := range s.widths {
			s.widths[c] = (l.inside() - between*em(least)*float64(n-1)) / float64(n)
		}
	}
	if ok {
		l.rows(m, s)
		return
	}
	fits := func(g grid) bool { _, ok := l.measure(g).onPaper(least, l.inside()); return ok }
	for i, part := range g.cut(fits) {
		if i > 0 {
			l.gap(3)
		}
		l.table(part)
	}
}

// broken returns the headings of a table and its rows, broken into lines, with
// their height together.
func (l *layout) broken(g grid, s setting) (head row, rest []row, height float64) {
	if g.heads != nil {
		head = l.row(g.heads, s, headRow)
	}
	height = head.height
	room := l.bottom() - l.head - head.height - l.heightOf(continued(g.title, true))
	for i, cells := range g.rows {
		r := l.row(cells, s, g.kind(i))
		rest = append(rest, r.parts(s, room)...)
		height += r.height
	}
	return head, rest, height
}

// rows sets the rows of a table under its headings, which are repeated on each
// page. A long narrow table stands in several parts side by side.
//
// Long: one table from page to page.
func (l *layout) rows(m measures, s setting) {
	g := m.grid
	head, rest, height := l.broken(g, s)
	if title := l.heightOf(continued(g.title, true)); g.heads != nil && l.y+title+height > l.bottom() {
		one := s
		if !g.check && !s.broken {
			s = l.setAcross(m, title, one)
			head, rest, _ = l.broken(g, s)
		}
		// What does not fit here either way, but on a page of its own, gets one.
		here := l.y + title + head.height
		for _, r := range rest {
			here += r.height / float64(s.across)
		}
		if here > l.bottom() && l.y > l.height/3 && l.pageHead()+title+height <= l.bottom() {
			l.turn()
			s = one
			head, rest, _ = l.broken(g, s)
		}
	}
	for first := true; first || len(rest) > 0; first = false {
		title := continued(g.title, !first)
		few := head.height + l.heightOf(title)
		for _, r := range rest[:min(3, len(rest))] {
			few += r.height
		}
		l.need(few)
		l.heading(title)
		taken, deepest := 0, l.y
		for i, n := range share(rest, s.across, l.bottom()-l.y-head.height) {
			if n == 0 && i > 0 {
				break
			}
			x := margin + float64(i)*(s.total+gutter)
			end := l.pane(x, g, head, rest[taken:taken+n], s)
			deepest = max(deepest, end)
			taken += n
		}
		l.y = deepest
		rest = rest[taken:]
		if len(rest) > 0 {
			l.turn()
		}
	}
}

// continued returns the title of a table as it stands on a further page.
func continued(title string, again bool) string {
	if title != "" && again {
		title += " (continued)"
	}
	return title
}

// share returns how many of the rows go into each of the parts side by side
// that are height mm high. Where all of them fit, the parts come out alike. A
// row higher than a page is put on one all the same.
func share(rows []row, across int, height float64) []int {
	fill := func(most int) (counts []int, taken int) {
		for range across {
			n, h := 0, 0.0
			for taken < len(rows) && n < most && (h+rows[taken].height <= height || n == 0) {
				h += rows[taken].height
				n++
				taken++
			}
			counts = append(counts, n)
		}
		return counts, taken
	}
	counts, taken := fill(len(rows))
	if taken < len(rows) {
		return counts
	}
	for most := (len(rows) + across - 1) / across; most < len(rows); most++ {
		if even, taken := fill(most); taken == len(rows) {
			return even
		}
	}
	return counts
}

// pane sets rows under their headings at x and returns where they end.
func (l *layout) pane(x float64, g grid, head row, rows []row, s setting) float64 {
	if len(rows) == 0 && g.heads == nil {
		return l.y
	}
	y := l.y
	if g.heads != nil {
		l.cells(x, y, head, g, s)
		y += head.height
		l.line(x, y, x+s.total, y, stroke{width: wide})
	}
	for i, r := range rows {
		switch {
		case r.kind == checkRow:
			l.line(x, y, x+s.total, y, stroke{width: wide})
		case r.kind == plainRow && i%2 == 1:
			l.rectangle(x, y, s.total, r.height, stroke{area: true, grey: 0.92})
		case r.kind == factRow && i > 0:
			l.line(x, y, x+s.total, y, stroke{width: 0.1})
		}
		l.cells(x, y, r, g, s)
		y += r.height
	}
	return y
}

// cells sets the words of one row: numbers to the right, headings at the foot
// of theirs.
func (l *layout) cells(x, y float64, r row, g grid, s setting) {
	for c, lines := range r.cells {
		for i, text := range lines {
			at := x
			if !g.words[c] {
				at += s.widths[c] - l.advance(text, r.kind.bold(c), s.points)
			}
			line := float64(i)
			if r.kind == headRow {
				line += float64(r.deep - len(lines))
			}
			l.write(at, y+rowPad+line*leading*em(s.points)+baseLine(s.points), text, r.kind.bold(c), s.points)
		}
		x += s.widths[c] + between*em(s.points)
	}
}
