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

// setTable returns the type in which a table fits the page: the largest, down
// to that of plain text, in which nothing is wrapped; else the largest from
// there down to the least in which the headings and the columns of words are.
func (l *layout) setTable(g grid, headings bool) (setting, bool) {
	for points := largest; points >= textSize; points-- {
		if s, ok := l.setIn(g, headings, points, l.inside()); ok && !s.wrapped {
			return s, true
		}
	}
	for points := textSize; points >= least; points-- {
		if s, ok := l.setIn(g, headings, points, l.inside()); ok {
			return s, true
		}
	}
	return setting{}, false
}

// setAcross returns the setting of a table longer than a page: with one to
// four parts side by side, whichever takes the fewest pages, then in the
// largest type, which is not under that of notes. one is how it is set alone.
func (l *layout) setAcross(g grid, one setting) setting {
	full := l.bottom() - top - leading*em(textSize) - 2*leading*em(one.points)
	pages := func(s setting) int {
		height := leading*em(s.points) + 2*rowPad
		return int(math.Ceil(float64(len(g.rows)) / float64(s.across) / math.Floor(full/height)))
	}
	best := one
	for across := 2; across <= 4; across++ {
		for points := textSize; points >= noteSize; points-- {
			s, ok := l.setIn(g, true, points, (l.inside()-gutter*float64(across-1))/float64(across))
			s.across = across
			if ok && !s.broken && pages(s) < pages(best) {
				best = s
			}
		}
	}
	return best
}

// setIn returns the columns' widths in a size of type, when they fit a width.
func (l *layout) setIn(g grid, headings bool, points, width float64) (setting, bool) {
	n := len(g.words)
	full, tight, unbroken := make([]float64, n), make([]float64, n), make([]float64, n)
	word := func(text string, bold bool) float64 {
		w := 0.0
		for _, f := range strings.Fields(text) {
			w = max(w, l.advance(f, bold, points))
		}
		return w
	}
	for c := range n {
		cells, longest := 0.0, 0.0
		for i, row := range append(slices.Clip(g.rows), g.check) {
			if row == nil {
				continue
			}
			bold := l.boldCell(g, headings, i, c)
			cells = max(cells, l.advance(row[c], bold, points))
			longest = max(longest, word(row[c], bold))
		}
		full[c], tight[c], unbroken[c] = cells, cells, cells
		if g.words[c] && (headings || c == 2) { // of facts only the remark is wrapped
			tight[c] = max(min(cells, squeeze), min(longest, 1.5*squeeze))
		}
		if headings {
			full[c] = max(full[c], l.advance(g.heads[c], true, points))
			tight[c] = max(tight[c], word(g.heads[c], true))
		}
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
		s.broken = s.broken || w[c] < unbroken[c]-1e-9
	}
	return s, true
}

// boldCell reports whether a cell is set bold: the answers among facts, and a
// table's check line.
func (l *layout) boldCell(g grid, headings bool, row, col int) bool {
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

// table sets a table. One that does not fit even a page on its side in the
// least size of type is cut into tables one below the other that repeat the
// first column.
func (l *layout) table(g grid, headings bool) {
	s, ok := l.setTable(g, headings)
	if ok || len(g.words) < 3 {
		if !ok {
			s = l.forced(g)
		}
		l.rows(g, headings, s)
		return
	}
	for from := 1; from < len(g.words); {
		to := from + 1
		for to < len(g.words) {
			if _, ok := l.setIn(columns(g, from, to+1), headings, least, l.inside()); !ok {
				break
			}
			to++
		}
		part := columns(g, from, to)
		if from > 1 {
			l.gap(3)
		}
		s, ok := l.setTable(part, headings)
		if !ok {
			s = l.forced(part)
		}
		l.rows(part, headings, s)
		from = to
	}
}

// forced gives every column the same width, in the least size of type; words
// then break anywhere.
func (l *layout) forced(g grid) setting {
	n := float64(len(g.words))
	s := setting{points: least, total: l.inside(), across: 1}
	for range g.words {
		s.widths = append(s.widths, (l.inside()-between*em(least)*(n-1))/n)
	}
	return s
}

// rows sets the rows of a table under its headings, which are repeated on each
// page. A long narrow table stands in several parts side by side.
func (l *layout) rows(g grid, headings bool, s setting) {
	bold := func(int) bool { return true }
	set := func() (head row, rest []row, height float64) {
		if headings {
			head = l.row(g.heads, s, bold)
			head.head = true
		}
		height = head.height
		for i, cells := range g.rows {
			r := l.row(cells, s, func(c int) bool { return l.boldCell(g, headings, i, c) })
			rest = append(rest, r)
			height += r.height
		}
		if g.check != nil {
			r := l.row(g.check, s, bold)
			r.check = true
			rest = append(rest, r)
		}
		return head, rest, height
	}
	head, rest, height := set()
	if headings && g.check == nil && l.head+height > l.bottom() && !s.broken {
		s = l.setAcross(g, s)
		head, rest, _ = set()
	}
	for first := true; first || len(rest) > 0; first = false {
		title := g.title
		if title != "" && !first {
			title += " (continued)"
		}
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
