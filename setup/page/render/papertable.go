package render

import (
	"math"
	"slices"
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
	words                      []bool
	headings                   bool
	cell, word, head, headWord []float64
}

func (l *layout) measure(g grid, headings bool) measures {
	n := len(g.words)
	m := measures{g.words, headings, make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)}
	word := func(text string, bold bool) float64 {
		w := 0.0
		for _, f := range strings.Fields(text) {
			w = max(w, l.advance(f, bold, 1))
		}
		return w
	}
	for c := range n {
		for i, row := range append(slices.Clip(g.rows), g.check) {
			if row != nil {
				bold := boldCell(g, headings, i, c)
				m.cell[c] = max(m.cell[c], l.advance(row[c], bold, 1))
				m.word[c] = max(m.word[c], word(row[c], bold))
			}
		}
		if headings {
			m.head[c], m.headWord[c] = l.advance(g.heads[c], true, 1), word(g.heads[c], true)
		}
	}
	return m
}

// setTable returns the type in which a table fits a width: the largest, down
// to that of plain text, in which nothing is wrapped; else the largest from
// there down to the least in which the headings and the columns of words are.
func setTable(m measures, width float64) (setting, bool) {
	for points := largest; points >= textSize; points-- {
		if s, ok := m.in(points, width); ok && !s.wrapped {
			return s, true
		}
	}
	for points := textSize; points >= least; points-- {
		if s, ok := m.in(points, width); ok {
			return s, true
		}
	}
	return setting{}, false
}

// setAcross returns the setting of a table that goes over the page: with one
// to four parts side by side, whichever takes the fewest pages, then in the
// largest type, which is not under that of notes. one is how it is set alone,
// and title is the height of its title.
func (l *layout) setAcross(g grid, m measures, title float64, one setting) setting {
	pages := func(s setting) int {
		height := leading*em(s.points) + 2*rowPad
		head := title + l.row(g.heads, s, func(int) bool { return true }).height
		fit := func(from float64) int { return s.across * max(0, int((l.bottom()-from-head)/height)) }
		left := len(g.rows) - fit(l.y)
		if left <= 0 {
			return 1
		}
		return 1 + int(math.Ceil(float64(left)/float64(max(1, fit(l.pageHead())))))
	}
	best := one
	for across := 1; across <= 4; across++ {
		for points := textSize; points >= noteSize; points-- {
			s, ok := m.in(points, (l.inside()-gutter*float64(across-1))/float64(across))
			s.across = across
			if ok && !s.broken && pages(s) < pages(best) {
				best = s
			}
		}
	}
	return best
}

// in returns the columns' widths in a size of type, when they fit a width.
func (m measures) in(points, width float64) (setting, bool) {
	n := len(m.words)
	full, tight := make([]float64, n), make([]float64, n)
	for c := range n {
		cell, word := m.cell[c]*points, m.word[c]*points
		full[c], tight[c] = max(cell, m.head[c]*points), cell
		if m.words[c] && (m.headings || c == 2) { // of facts only the remark is wrapped
			tight[c] = max(min(cell, squeeze), min(word, 1.5*squeeze))
		} else if m.words[c] {
			tight[c] = min(cell, 1.5*squeeze)
		}
		tight[c] = max(tight[c], m.headWord[c]*points)
	}
	gap := between * em(points)
	room := width - gap*float64(n-1)
	short, long := sum(tight), sum(full)
	if short > room+1e-9 {
		return setting{}, false
	}
	w := full
	if long > room {
		w = tight
		for c := range w {
			w[c] += (room - short) * (full[c] - w[c]) / (long - short)
		}
	}
	s := setting{points: points, widths: w, total: sum(w) + gap*float64(n-1), across: 1, wrapped: long > room}
	for c := range w {
		s.broken = s.broken || w[c] < m.cell[c]*points-1e-9
	}
	return s, true
}

// boldCell reports whether a cell is set bold: the answers among facts, and a
// table's check line.
func boldCell(g grid, headings bool, row, col int) bool {
	if headings {
		return row >= len(g.rows)
	}
	return col == 1
}

func sum(list []float64) float64 {
	s := 0.0
	for _, v := range list {
		s += v
	}
	return s
}

// row is one row of a table broken into lines.
type row struct {
	cells  [][]string
	height float64
	bold   func(col int) bool
	head   bool
	check  bool
}

func (l *layout) row(cells []string, s setting, bold func(int) bool) row {
	r := row{bold: bold}
	deep := 1
	for c, text := range cells {
		lines := l.wrap(text, bold(c), s.points, s.widths[c]+1e-6)
		r.cells = append(r.cells, lines)
		deep = max(deep, len(lines))
	}
	r.height = float64(deep)*leading*em(s.points) + 2*rowPad
	return r
}

// parts returns a row as it is, or one higher than height in parts that go
// below each other.
func parts(r row, s setting, height float64) []row {
	line := leading * em(s.points)
	most := max(1, int((height-2*rowPad)/line))
	deep := int(math.Round((r.height - 2*rowPad) / line))
	if deep <= most {
		return []row{r}
	}
	var list []row
	for from := 0; from < deep; from += most {
		part := r
		part.cells = make([][]string, len(r.cells))
		for c, lines := range r.cells {
			part.cells[c] = lines[min(from, len(lines)):min(from+most, len(lines))]
		}
		part.height = float64(min(most, deep-from))*line + 2*rowPad
		list = append(list, part)
	}
	return list
}

// table sets a table. One that does not fit even a page on its side in the
// least size of type is cut into tables one below the other that repeat the
// first column; columns that still do not fit have one width, and their words
// break anywhere.
func (l *layout) table(g grid, headings bool) {
	m := l.measure(g, headings)
	s, ok := setTable(m, l.inside())
	n := len(g.words)
	switch {
	case ok:
		l.rows(g, m, s)
		return
	case n < 3:
		s = setting{points: least, total: l.inside(), across: 1, widths: make([]float64, n)}
		for c := range s.widths {
			s.widths[c] = (l.inside() - between*em(least)*float64(n-1)) / float64(n)
		}
		l.rows(g, m, s)
		return
	}
	for from := 1; from < n; {
		to := from + 1
		for to < n {
			if _, ok := l.measure(columns(g, from, to+1), headings).in(least, l.inside()); !ok {
				break
			}
			to++
		}
		if from > 1 {
			l.gap(3)
		}
		l.table(columns(g, from, to), headings)
		from = to
	}
}

// rows sets the rows of a table under its headings, which are repeated on each
// page. A long narrow table stands in several parts side by side.
func (l *layout) rows(g grid, m measures, s setting) {
	headings := m.headings
	bold := func(int) bool { return true }
	set := func() (head row, rest []row, height float64) {
		if headings {
			head = l.row(g.heads, s, bold)
			head.head = true
		}
		height = head.height
		room := l.bottom() - l.head - head.height - l.heightOf(continued(g.title, true))
		for i, cells := range g.rows {
			r := l.row(cells, s, func(c int) bool { return boldCell(g, headings, i, c) })
			rest = append(rest, parts(r, s, room)...)
			height += r.height
		}
		if g.check != nil {
			r := l.row(g.check, s, bold)
			r.check = true
			rest = append(rest, r)
			height += r.height
		}
		return head, rest, height
	}
	head, rest, height := set()
	if title := l.heightOf(continued(g.title, true)); headings && l.y+title+height > l.bottom() {
		one := s
		if g.check == nil && !s.broken {
			s = l.setAcross(g, m, title, one)
			head, rest, _ = set()
		}
		// What does not fit here either way, but on a page of its own, gets one.
		here := l.y + title + head.height
		for _, r := range rest {
			here += r.height / float64(s.across)
		}
		if here > l.bottom() && l.y > l.height/3 && l.pageHead()+title+height <= l.bottom() {
			l.turn()
			s = one
			head, rest, _ = set()
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
			end := l.pane(x, g, headings, head, rest[taken:taken+n], s)
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
	fill := func(most int) []int {
		var counts []int
		at := 0
		for range across {
			n, h := 0, 0.0
			for at+n < len(rows) && n < most && (h+rows[at+n].height <= height || n == 0) {
				h += rows[at+n].height
				n++
			}
			counts = append(counts, n)
			at += n
		}
		return counts
	}
	counts := fill(len(rows))
	total := func(c []int) int {
		n := 0
		for _, v := range c {
			n += v
		}
		return n
	}
	if total(counts) < len(rows) {
		return counts
	}
	for most := (len(rows) + across - 1) / across; most < len(rows); most++ {
		if even := fill(most); total(even) == len(rows) {
			return even
		}
	}
	return counts
}

// pane sets rows under their headings at x and returns where they end.
func (l *layout) pane(x float64, g grid, headings bool, head row, rows []row, s setting) float64 {
	if len(rows) == 0 && !headings {
		return l.y
	}
	y := l.y
	if headings {
		l.cells(x, y, head, g, s)
		y += head.height
		l.line(x, y, x+s.total, y, stroke{width: wide})
	}
	for i, r := range rows {
		switch {
		case r.check:
			l.line(x, y, x+s.total, y, stroke{width: wide})
		case headings && i%2 == 1:
			l.rectangle(x, y, s.total, r.height, stroke{area: true, grey: 0.92})
		case !headings && i > 0:
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
	deep := 0
	for _, lines := range r.cells {
		deep = max(deep, len(lines))
	}
	for c, lines := range r.cells {
		for i, text := range lines {
			at := x
			if !g.words[c] {
				at += s.widths[c] - l.advance(text, r.bold(c), s.points)
			}
			line := float64(i)
			if r.head {
				line += float64(deep - len(lines))
			}
			l.write(at, y+rowPad+line*leading*em(s.points)+baseLine(s.points), text, r.bold(c), s.points)
		}
		x += s.widths[c] + between*em(s.points)
	}
}
