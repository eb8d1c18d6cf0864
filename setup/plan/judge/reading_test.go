package judge

import (
	"math"
	"testing"

	"setover/setup/book/materials"
)

func close(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: got %.5f, want %.5f", what, got, want)
	}
}

// part is a round part's file as decoded.
func partOf(round Tree) drawing {
	return readDrawing(Tree{"units": "mm", "material": "low-carbon-steel", "round": round})
}

// An arc of radius 13 from a ball's widest to its pole, (13, 26) to (26, 0): at
// z 18 the ball is 2·√(13² - 5²) = 24 wide.
func TestArc(t *testing.T) {
	d := partOf(Tree{
		"profile": []any{[]any{0.0, 12.0}, []any{13.0, 26.0}, []any{26.0, 0.0}},
		"arcs":    []any{Tree{"from": 13.0, "to": 26.0, "radius": 13.0, "bulge": "out"}},
	})
	close(t, "ball at z 18", alongAfter(d.plain, 18), 24, 0.01)
}

// An octagon of 32 across flats is 32/cos 22.5° = 34.637 across corners; across
// corners of 20 a square is 20·cos 45° = 14.142 across flats, and a triangle
// 20/2·(1 + cos 60°) = 15 from flat to corner.
func TestFacetSizes(t *testing.T) {
	close(t, "octagon", cornersOf(32, 8), 34.6365, 1e-3)
	close(t, "square", flatsOf(20, 4), 14.1421, 1e-3)
	close(t, "triangle", flatsOf(20, 3), 15, 1e-9)
	d := partOf(Tree{
		"profile": []any{[]any{0.0, 16.0}, []any{14.0, 16.0}, []any{14.0, 32.0}, []any{48.0, 32.0}, []any{92.0, 20.0}},
		"facets":  []any{Tree{"sides": 8, "from": 48.0, "to": 92.0, "across": "flats"}},
	})
	close(t, "corners right of 48", alongAfter(d.outline, 48), 34.6365, 1e-3)
	close(t, "round left of 48", alongBefore(d.outline, 48), 32, 1e-9)
	close(t, "corners at 92", alongBefore(d.outline, 92), 20/math.Cos(math.Pi/8), 1e-9)
}

// A row of 5, 4 and 3.2 with webs of 4 from 58: 58, 58 + 2.5 + 4 + 2 = 66.5,
// 66.5 + 2 + 4 + 1.6 = 74.1, at both rolls.
func TestRow(t *testing.T) {
	d := partOf(Tree{
		"profile": []any{[]any{0.0, 20.0}, []any{100.0, 20.0}},
		"rows":    []any{Tree{"from": 58.0, "dias": []any{5.0, 4.0, 3.2}, "web": 4.0, "rolls": []any{0, 90}}},
	})
	if len(d.holes) != 6 {
		t.Fatal(len(d.holes), " holes")
	}
	for i, z := range []float64{58, 66.5, 74.1, 58, 66.5, 74.1} {
		close(t, d.holes[i].id, d.holes[i].z, z, 1e-9)
	}
	close(t, "roll of the fourth", d.holes[3].roll, 90, 0)
}

// M8: ISO 261 and ISO 724 have pitch 1.25 and minor 6.647; 3/8-16 is 9.525 by
// 1.5875 with minor 0.3073 in = 7.805 (ASME B1.1); No10 is 0.190 in = 4.826.
func TestThreadSizes(t *testing.T) {
	for _, c := range []struct {
		spec                string
		major, pitch, minor float64
	}{
		{"M8", 8, 1.25, 6.647},
		{"M16x1.5", 16, 1.5, 14.376},
		{"3/8-16", 9.525, 1.5875, 7.806},
		{"No10-32", 4.826, 0.79375, 3.967},
	} {
		s, ok := parseThread(c.spec)
		if !ok {
			t.Error(c.spec, " is not read")
		}
		close(t, c.spec+" major", s.major, c.major, 1e-9)
		close(t, c.spec+" pitch", s.pitch, c.pitch, 1e-9)
		close(t, c.spec+" minor", s.minor(), c.minor, 1e-3)
	}
}

// The least major diameter of 6g: M8 7.760, M6 5.794, M16x1.5 15.732 (ISO 965-2).
func TestBlanks(t *testing.T) {
	for spec, want := range map[string]float64{"M8": 7.760, "M6": 5.794, "M16x1.5": 15.732} {
		s, _ := parseThread(spec)
		close(t, spec, s.blank(), want, 5e-3)
	}
}

// Lengths as files have them.
func TestLengths(t *testing.T) {
	for text, want := range map[string]float64{"1/4": 6.35, "3/8in": 9.525, "6.8mm": 6.8, "0.75": 19.05} {
		got, ok := length(text, inch)
		if !ok {
			t.Error(text, " is not read")
		}
		close(t, text, got, want, 1e-9)
	}
	angle, _ := degrees("4'")
	close(t, "4'", angle, 4.0/60, 1e-12)
}

// ISO 2768-1:1989 table 1, and ISO 286-1 for 25 mm: IT6 13, IT7 21 um.
func TestLimitTables(t *testing.T) {
	for _, c := range []struct {
		class    string
		size, is float64
	}{
		{"fine", 20, 0.1},
		{"medium", 6, 0.1},
		{"medium", 6.1, 0.2},
		{"medium", 30, 0.2},
		{"medium", 31, 0.3},
		{"coarse", 121, 1.2},
	} {
		close(t, c.class, linear(c.class, c.size), c.is, 0)
	}
	below, above, ok := isoFit("h6", 25)
	if !ok || below != -0.013 || above != 0 {
		t.Error("25h6: ", below, above, ok)
	}
	if below, above, ok = isoFit("H7", 25); !ok || below != 0 || above != 0.021 {
		t.Error("25H7: ", below, above, ok)
	}
}

// The beam against the closed forms: built in and free L³/3EI; built in with
// its end carried, at the middle 7·L³/768EI; on two centres L³/48EI.
func TestBeam(t *testing.T) {
	const long, dia = 120, 10
	m, err := materials.Find("low-carbon-steel")
	if err != nil {
		t.Fatal(err)
	}
	e := m.Modulus().Chosen * 1000
	i := math.Pi * math.Pow(dia, 4) / 64
	unit := long * long * long / e / i
	b := beam{step: 0.2}
	for range steps {
		b.stiff = append(b.stiff, e*i)
	}
	close(t, "free", b.spring(long)/unit, 1.0/3, 2e-3)
	b.supportX = long
	close(t, "carried", b.spring(long/2)/unit, 7.0/768, 2e-4)
	b.simple = true
	close(t, "on centres", b.spring(long/2)/unit, 1.0/48, 1e-4)
}

// The work: a bar of 20 cut to a cone from 10 at z 0 to 30 at z 40 is 15 at z
// 10, and 20 from where the cone passes 20, z 20.
func TestTurned(t *testing.T) {
	dia := 20.0
	w := newWork(blank{Shape: "round", Dia: &dia, From: -5, To: 50})
	w.turn([]point{{0, 10}, {40, 30}})
	for z, want := range map[float64]float64{-1: 20, 10: 15, 19: 19.5, 21: 20, 45: 20} {
		close(t, "cone", w.diaAt(z), want, 1e-9)
	}
	w.cutEnd("left", 0, "face")
	close(t, "left end", w.left(), 0, 1e-9)
	w.mill(facet{from: 30, to: 50, sides: 6, acrossA: 16, acrossB: 16})
	close(t, "corners", w.diaAt(40), 16/math.Cos(math.Pi/6), 1e-9)
	if p, _ := w.pieceAt(25); p.sides != 0 {
		t.Error("flats beyond their stretch")
	}
}
