package render

import (
	"setover/setup/page/sheet"
)

// stroke is how a line or an area is drawn: the width and the dashes in mm,
// and for an area its grey, 0 for black to 1 for white.
type stroke struct {
	width float64
	dash  []float64
	area  bool
	grey  float64
}

// level is the grey of an area, 0 to 255.
func (s stroke) level() int { return int(s.grey*255 + 0.5) }

// The line widths of technical drawings on small sheets, in mm, and the grey
// of a shaded area. The wide line is twice the narrow one (ISO 128-2, line
// group 0.5; from memory).
const (
	wide   = 0.5
	narrow = 0.25
	shade  = 0.85
)

// strokes are how the pens draw. Dashes are in multiples of the line width d:
// dash 12d, long dash 24d, gap 3d, dot d/2 (ISO 128-2; from memory).
var strokes = map[sheet.Pen]stroke{
	sheet.Outline: {width: wide},
	sheet.Thin:    {width: narrow},
	sheet.Hidden:  {width: narrow, dash: []float64{12 * narrow, 3 * narrow}},
	sheet.Axis:    {width: narrow, dash: []float64{24 * narrow, 3 * narrow, narrow / 2, 3 * narrow}},
	sheet.Fill:    {area: true},
	sheet.Shade:   {area: true, grey: shade},
}

// capital is the height of a capital over the size of the type (DejaVu Sans:
// 1493 of 2048 units).
const capital = 1493.0 / 2048

// smallest is the least height of capitals on a drawing, in mm (ISO 3098-1;
// from memory).
const smallest = 2.5

// scales are the scales a drawing is put on paper at, the largest first
// (ISO 5455 reductions).
var scales = []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}

// scaleFor returns N of the largest scale 1:N at which a drawing fits a space,
// or the smallest there is.
func scaleFor(d sheet.Drawing, w, h float64) int {
	for _, n := range scales {
		if d.W <= w*float64(n) && d.H <= h*float64(n) {
			return n
		}
	}
	return scales[len(scales)-1]
}
