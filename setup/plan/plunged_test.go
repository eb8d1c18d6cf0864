package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// shaped is a part with one arc as a test draws it: cylinders, and between two of them an arc of a radius.
type shaped struct {
	name   string
	points [][2]float64 // z and diameter
	from   int          // the point that the arc begins at
	radius float64
	out    bool
}

// text writes it as a part file, each length with its unit.
func (p shaped) text(unit string) string {
	var list []string
	for _, v := range p.points {
		list = append(list, fmt.Sprintf("[%v%s, %v%s]", v[0], unit, v[1], unit))
	}
	bulge := "in"
	if p.out {
		bulge = "out"
	}
	return fmt.Sprintf("material: brass\nround:\n  profile: [%s]\n  "+
		"arcs: [{from: %v%s, to: %v%s, radius: %v%s, bulge: %s}]\n",
		strings.Join(list, ", "), p.points[p.from][0], unit, p.points[p.from+1][0], unit, p.radius, unit, bulge)
}

// middle looks for the middle of the arc: along the line that is square to its chord, it is as far from
// both its ends as the radius, toward the axis where it bulges out. It halves the way to it.
func (p shaped) middle() (z, r float64) {
	a, b := p.points[p.from], p.points[p.from+1]
	az, ar, bz, br := a[0], a[1]/2, b[0], b[1]/2
	mz, mr, long := (az+bz)/2, (ar+br)/2, math.Hypot(bz-az, br-ar)
	uz, ur := (br-ar)/long, -(bz-az)/long // toward the axis
	if !p.out {
		uz, ur = -uz, -ur
	}
	low, high := 0.0, 2*p.radius
	for range 80 {
		mid := (low + high) / 2
		if math.Hypot(mz+mid*uz-az, mr+mid*ur-ar) < p.radius {
			low = mid
		} else {
			high = mid
		}
	}
	return mz + low*uz, mr + low*ur
}

// dia returns the diameter that is drawn at z, the larger one at a step, and whether the arc is there.
func (p shaped) dia(z float64) (dia float64, onArc bool) {
	for i, v := range p.points[1:] {
		a := p.points[i]
		if z < a[0] || z > v[0] || a[0] == v[0] {
			continue
		}
		d := a[1] + (v[1]-a[1])*(z-a[0])/(v[0]-a[0])
		if i == p.from {
			mz, mr := p.middle()
			rise := math.Sqrt(max(0, p.radius*p.radius-(z-mz)*(z-mz)))
			if d = 2 * (mr - rise); p.out {
				d = 2 * (mr + rise)
			}
			onArc = true
		}
		dia = max(dia, d)
	}
	return dia, onArc
}

var shapedParts = []shaped{
	// the back of a ball of 20 on a stalk of 8, its middle at z 40: 40 - sqrt(100 - 16) = 30.835
	{"ball on a stalk", [][2]float64{{0, 8}, {30.835, 8}, {50, 0}}, 1, 10, true},
	{"dome", [][2]float64{{0, 20}, {20, 20}, {28, 10}}, 1, 14, true},
	{"bead", [][2]float64{{0, 10}, {12, 10}, {24, 10}, {40, 10}}, 1, 8, true},
	{"barrel", [][2]float64{{0, 12}, {12, 12}, {40, 14}, {52, 14}}, 1, 30, true},
	{"waist", [][2]float64{{0, 20}, {10, 20}, {30, 20}, {45, 20}}, 1, 16, false},
	{"skew waist", [][2]float64{{0, 20}, {10, 20}, {40, 26}, {52, 26}}, 1, 30, false},
	{"cove", [][2]float64{{0, 24}, {8, 24}, {8, 20}, {22, 20}, {22, 24}, {40, 24}}, 2, 12, false},
	{"long waist", [][2]float64{{0, 20}, {10, 20}, {50, 18}, {60, 18}}, 1, 200, false},
	{"long fillet", [][2]float64{{0, 20}, {8, 20}, {38, 15.505}, {60, 15.505}}, 1, 201, false},
	{"fillet", [][2]float64{{0, 36}, {5, 36}, {5, 30}, {12, 20}, {40, 20}}, 2, 10, false},
}

// Where an arc is plunged the blade is moved over the drawing in hundredths of a millimetre: wherever it
// stands, nothing under it is drawn thicker than it goes; what stands between its places when all are cut
// is nowhere farther off the arc than is said and one line of the dial; and the arc is covered from end
// to end. It is asked of every way to hold the part, with either end out, in both units, for a dial of the
// carriage and none.
func TestPlungedArcsLeaveCusps(t *testing.T) {
	const slide = "  cross_slide: {lead: 2, divisions: 100"
	inches := readShop(t, string(readFile(t, "judge/testdata/parts/shops/shop-inch.yaml")))
	for _, shop := range []struct {
		*shop.Shop
		unit string
		mm   float64
	}{
		{loadShop(t, nil), "mm", 1},
		{loadShop(t, map[string]string{slide: "  carriage: {lead: 20, divisions: 100}\n" + slide}), "mm", 1},
		{loadShop(t, map[string]string{"parting_blade: 2": "parting_blade: 1.5"}), "mm", 1},
		{inches, "in", 25.4},
	} {
		for _, p := range shapedParts {
			p = p.times(1 / shop.mm)
			j := jobOf(t, parse(t, p.text(shop.unit)), shop.Shop)
			p = p.times(shop.mm)
			seen := map[part.End]int{}
			for _, w := range j.ways() {
				task := j.hold(w)
				for _, c := range task.chuckings {
					for _, x := range c.stretches {
						if x.Kind() != outline.Curve {
							continue
						}
						for _, f := range flanks(x) {
							if task.plungeable(c, x, f) {
								seen[c.out]++
								p.simulated(t, fmt.Sprint(p.name, " ", shop.unit, " ", c.out, " ", f.From.MM()), task, c, x, f,
									shop.Parting.Blade.MM(), shop.Lathe.CrossSlide.Division().MM())
							}
						}
					}
				}
			}
			if len(seen) < 2 {
				t.Errorf("%s, %s: plunged with %v out, and wanted with either end", p.name, shop.unit, seen)
			}
		}
	}
}

// times returns the part so many times as large, in whole hundred-thousandths.
func (p shaped) times(n float64) shaped {
	list := p.points
	by := func(v float64) float64 { return math.Round(v*n*1e5) / 1e5 }
	p.points, p.radius = nil, by(p.radius)
	for _, v := range list {
		p.points = append(p.points, [2]float64{by(v[0]), by(v[1])})
	}
	return p
}

// simulated plunges a side of the arc in the bar and looks at it.
func (p shaped) simulated(t *testing.T, name string, task *task, c chucking, x outline.Stretch, side op.Span,
	wide, line float64,
) {
	t.Helper()
	const grid, hair, most = 0.01, 1e-4, 0.1 // mm
	o := &op.Op{Setup: c.setup}
	bar := work.Bar(op.LenOf(task.shape.Length), task.blank.Span, op.LenOf(task.bar), 0, 0)
	task.plungedArc(o, c, x, side, bar)
	said, _ := task.plungedAt(c, x, side)
	if said.left.MM() > most {
		t.Errorf("%s: %v is left", name, said.left.MM())
	}
	toward := 1.0
	if c.out == part.Left {
		toward = -1
	}
	floor := map[int]float64{}
	at := func(z float64) int { return int(math.Round(z / grid)) }
	for _, b := range o.Plunges {
		z, dia := b.Z.MM(), b.Dia.MM()
		low, high := min(z, z+toward*wide), max(z, z+toward*wide)
		for y := low + hair; y < high; y += grid {
			if drawn, _ := p.dia(y); dia < drawn-hair {
				t.Errorf("%s: at z %.3f the blade goes to %.4f, and %.4f is drawn at z %.3f", name, z, dia, drawn, y)
				return
			}
			if d, known := floor[at(y)]; !known || dia < d {
				floor[at(y)] = dia
			}
		}
	}
	mz, mr := p.middle()
	for z := side.From.MM() + grid; z < side.To.MM()-grid; z += grid {
		dia, known := floor[at(z)]
		if !known {
			t.Errorf("%s: nothing is plunged at z %.3f", name, z)
			return
		}
		// a place of the grid may be up to one beside the edge that is there
		if off := math.Abs(math.Hypot(z-mz, dia/2-mr) - p.radius); off > said.left.MM()+line+grid {
			t.Errorf("%s: %.4f stands at z %.3f, %.4f off the arc, and %v is said", name, dia, z, off, said.left.MM())
			return
		}
	}
}
