package judge

import (
	"fmt"
	"math"
	"strings"
)

// general is ISO 2768-1:1989, table 1: limits for linear sizes, by the size up
// to which a column holds.
var general = []struct{ upTo, fine, medium, coarse float64 }{
	{3, 0.05, 0.1, 0.2},
	{6, 0.05, 0.1, 0.3},
	{30, 0.1, 0.2, 0.5},
	{120, 0.15, 0.3, 0.8},
	{400, 0.2, 0.5, 1.2},
	{1000, 0.3, 0.8, 2},
	{2000, 0.5, 1.2, 3},
}

// linear returns how far a size of a class may be off either way.
func linear(class string, nominal float64) float64 {
	if nominal < 0.5 {
		return 0.1 // below the table: the written size stands, this is what the part is held to
	}
	for _, row := range general {
		if nominal <= row.upTo+tiny {
			switch class {
			case "fine":
				return row.fine
			case "coarse":
				return row.coarse
			}
			return row.medium
		}
	}
	return 2
}

// grades are ISO 286-1's IT5 to IT11 in micrometres, by the size up to which a
// row holds.
var grades = []struct {
	upTo float64
	it   map[string]float64
}{
	{3, map[string]float64{"5": 4, "6": 6, "7": 10, "8": 14, "9": 25, "10": 40, "11": 60}},
	{6, map[string]float64{"5": 5, "6": 8, "7": 12, "8": 18, "9": 30, "10": 48, "11": 75}},
	{10, map[string]float64{"5": 6, "6": 9, "7": 15, "8": 22, "9": 36, "10": 58, "11": 90}},
	{18, map[string]float64{"5": 8, "6": 11, "7": 18, "8": 27, "9": 43, "10": 70, "11": 110}},
	{30, map[string]float64{"5": 9, "6": 13, "7": 21, "8": 33, "9": 52, "10": 84, "11": 130}},
	{50, map[string]float64{"5": 11, "6": 16, "7": 25, "8": 39, "9": 62, "10": 100, "11": 160}},
	{80, map[string]float64{"5": 13, "6": 19, "7": 30, "8": 46, "9": 74, "10": 120, "11": 190}},
	{120, map[string]float64{"5": 15, "6": 22, "7": 35, "8": 54, "9": 87, "10": 140, "11": 220}},
	{180, map[string]float64{"5": 18, "6": 25, "7": 40, "8": 63, "9": 100, "10": 160, "11": 250}},
}

// isoFit returns the limits of h, H and js fits; of others it says nothing.
func isoFit(fit string, nominal float64) (below, above float64, ok bool) {
	digits := strings.TrimLeft(fit, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
	for _, row := range grades {
		if nominal > row.upTo+tiny {
			continue
		}
		width := row.it[digits] / 1000
		switch strings.TrimSuffix(fit, digits) {
		case "h":
			return -width, 0, width > 0
		case "H":
			return 0, width, width > 0
		case "js", "JS":
			return -width / 2, width / 2, width > 0
		}
		break
	}
	return 0, 0, false
}

// written returns a written fit or tol of an item as what a size may be under
// and over.
func written(n node, nominal float64) (below, above float64, ok bool) {
	if fit := n.text("fit"); fit != "" {
		return isoFit(fit, nominal)
	}
	switch v := n.tree["tol"].(type) {
	case nil:
		return 0, 0, false
	case []any:
		if len(v) != 2 {
			return 0, 0, false
		}
		a, okA := length(strings.TrimPrefix(fmt.Sprint(v[0]), "+"), n.unit)
		b, okB := length(strings.TrimPrefix(fmt.Sprint(v[1]), "+"), n.unit)
		return math.Min(a, b), math.Max(a, b), okA && okB
	default:
		t, ok := length(v, n.unit)
		return -t, t, ok
	}
}

// writtenLimit returns the least and most of an item, nil where none is written.
func writtenLimit(n node, nominal float64) *[2]float64 {
	if below, above, ok := written(n, nominal); ok {
		return &[2]float64{nominal + below, nominal + above}
	}
	return nil
}

func (d *drawing) readLimits(r node) {
	for _, n := range r.nodes("limits") {
		var l limit
		l.place, l.isPlace = n.length("at")
		l.from, l.to = n.mm("from"), n.mm("to")
		l.angle, _ = degrees(n.tree["angle"])
		l.gauge = n.text("gauge")
		nominal := l.to - l.from
		if l.isPlace {
			nominal = alongAfter(d.plain, l.place)
		}
		l.below, l.above, l.known = written(n, nominal)
		d.limits = append(d.limits, l)
	}
}

// bounds returns the least and most that the outside may be at z, across
// corners on facets.
func (d *drawing) bounds(z float64) (low, high float64) {
	nominal := alongAfter(d.outline, z)
	plain := alongAfter(d.plain, z)
	t := linear(d.general, plain)
	below, above := -t, t
	for _, l := range d.limits {
		if l.isPlace && l.known && d.sameStretch(l.place, z) {
			below, above = l.below, l.above
		}
	}
	for _, t := range d.threads {
		if !t.inside && t.known && t.from-tiny <= z && z <= t.to+tiny {
			below = math.Min(below, t.size.blank()-nominal)
		}
	}
	if nominal > plain+tiny { // facets: the limit is that of the flats
		below, above = below*nominal/plain, above*nominal/plain
	}
	return nominal + below, nominal + above
}

// sameStretch reports whether two places lie on one straight stretch of the
// profile.
func (d *drawing) sameStretch(a, b float64) bool {
	for i := 0; i+1 < len(d.plain); i++ {
		p, q := d.plain[i], d.plain[i+1]
		if p.z <= a+tiny && a <= q.z+tiny && p.z <= b+tiny && b <= q.z+tiny && q.z > p.z {
			return true
		}
	}
	return false
}

// lengthLimit returns how far a place may be off along the part: the general
// limit of its distance from the nearer end, or a written length that ends
// there.
func (d *drawing) lengthLimit(z float64) float64 {
	t := linear(d.general, math.Max(math.Min(z, d.length-z), 0.5))
	if z < tiny || d.length-z < tiny {
		t = linear(d.general, d.length)
	}
	for _, l := range d.limits {
		if !l.isPlace && l.known && l.angle == 0 && (near(l.from, z) || near(l.to, z)) {
			t = math.Min(t, math.Max(-l.below, l.above))
		}
	}
	return t
}

const tiny = 1e-6

func near(a, b float64) bool { return math.Abs(a-b) < 1e-4 }
