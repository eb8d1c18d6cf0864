package work

import (
	"encoding/json"
	"math"
	"reflect"
	"testing"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// bar is 20 in diameter and 60 long, with 2 to face at either end.
func bar() State { return Bar(60*MM, Span{-2 * MM, 62 * MM}, 20*MM, 0, 0) }

func mm(v float64) Len { return Float(v) }

// piece is a round piece of the outside.
func piece(from, to, left, right float64, stage Stage) Piece {
	return Piece{Span: Span{mm(from), mm(to)}, Left: mm(left), Right: mm(right), Stage: stage}
}

// Each outside as it is left, by hand.
func TestOutside(t *testing.T) {
	cone := Outside{[]Point{{0, 10 * MM}, {20 * MM, 18 * MM}}, Finished} // 0.4 on the diameter for 1 along
	for _, tc := range []struct {
		name string
		cuts []Removal
		want []Piece
	}{
		{"nothing", nil, []Piece{piece(-2, 62, 20, 20, Bought)}},
		{
			"to a shoulder",
			[]Removal{Turned(Span{0, 20 * MM}, 16*MM, Finished)},
			[]Piece{piece(-2, 0, 20, 20, Bought), piece(0, 20, 16, 16, Finished), piece(20, 62, 20, 20, Bought)},
		},
		{
			"in steps",
			[]Removal{Outside{[]Point{{0, 12 * MM}, {10 * MM, 12 * MM}, {10 * MM, 16 * MM}, {20 * MM, 16 * MM}}, Rough}},
			[]Piece{
				piece(-2, 0, 20, 20, Bought), piece(0, 10, 12, 12, Rough), piece(10, 20, 16, 16, Rough),
				piece(20, 62, 20, 20, Bought),
			},
		},
		{
			// the cone 10 + 0.4·z is under 16 up to z = 6/0.4 = 15
			"a cone out through a cylinder",
			[]Removal{Turned(Span{-2 * MM, 62 * MM}, 16*MM, Rough), cone},
			[]Piece{piece(-2, 0, 16, 16, Rough), piece(0, 15, 10, 16, Finished), piece(15, 62, 16, 16, Rough)},
		},
		{
			"a cylinder over a cone",
			[]Removal{cone, Turned(Span{0, 20 * MM}, 16*MM, Rough)},
			[]Piece{
				piece(-2, 0, 20, 20, Bought), piece(0, 15, 10, 16, Finished), piece(15, 20, 16, 16, Rough),
				piece(20, 62, 20, 20, Bought),
			},
		},
		{
			"only touched at its end",
			[]Removal{cone, Outside{[]Point{{0, 20 * MM}, {20 * MM, 18 * MM}}, Rough}},
			[]Piece{piece(-2, 0, 20, 20, Bought), piece(0, 20, 10, 18, Finished), piece(20, 62, 20, 20, Bought)},
		},
		{
			"partly beyond the work",
			[]Removal{Turned(Span{50 * MM, 90 * MM}, 18*MM, Rough)},
			[]Piece{piece(-2, 50, 20, 20, Bought), piece(50, 62, 18, 18, Rough)},
		},
		{
			"above the work",
			[]Removal{Turned(Span{0, 20 * MM}, 21*MM, Finished)},
			[]Piece{piece(-2, 62, 20, 20, Bought)},
		},
		{
			"met exactly",
			[]Removal{Turned(Span{0, 20 * MM}, 20*MM, Finished)},
			[]Piece{piece(-2, 0, 20, 20, Bought), piece(0, 20, 20, 20, Finished), piece(20, 62, 20, 20, Bought)},
		},
		{
			"roughed to size after it was finished",
			[]Removal{Turned(Span{-2 * MM, 62 * MM}, 18*MM, Finished), Turned(Span{0, 20 * MM}, 18*MM, Rough)},
			[]Piece{piece(-2, 62, 18, 18, Finished)},
		},
		{
			"beside what is as it is",
			[]Removal{Turned(Span{0, 20 * MM}, 18*MM, Rough), Turned(Span{20 * MM, 40 * MM}, 18*MM, Rough)},
			[]Piece{piece(-2, 0, 20, 20, Bought), piece(0, 40, 18, 18, Rough), piece(40, 62, 20, 20, Bought)},
		},
		{
			"threaded, and the thread turned off its start",
			[]Removal{
				Turned(Span{-2 * MM, 30 * MM}, 16*MM, Finished),
				Thread{From: 0, To: 20 * MM},
				Turned(Span{0, 5 * MM}, 13*MM, Finished),
			},
			[]Piece{
				piece(-2, 0, 16, 16, Finished), piece(0, 5, 13, 13, Finished), piece(5, 20, 16, 16, Threaded),
				piece(20, 30, 16, 16, Finished), piece(30, 62, 20, 20, Bought),
			},
		},
		{
			"past the axis",
			[]Removal{Outside{[]Point{{0, -2 * MM}, {20 * MM, -2 * MM}}, Finished}},
			[]Piece{piece(-2, 0, 20, 20, Bought), piece(0, 20, 0, 0, Finished), piece(20, 62, 20, 20, Bought)},
		},
		{
			"a hair above the work",
			[]Removal{Turned(Span{0, 20 * MM}, 20*MM+20, Finished)},
			[]Piece{piece(-2, 62, 20, 20, Bought)},
		},
		{
			"two cones alike, one behind the other",
			[]Removal{Outside{[]Point{{0, 10 * MM}, {5 * MM, 18 * MM}, {5 * MM, 10 * MM}, {10 * MM, 18 * MM}}, Rough}},
			[]Piece{
				piece(-2, 0, 20, 20, Bought), piece(0, 5, 10, 18, Rough), piece(5, 10, 10, 18, Rough),
				piece(10, 62, 20, 20, Bought),
			},
		},
		{"without a profile", []Removal{Outside{}}, []Piece{piece(-2, 62, 20, 20, Bought)}},
		{"an inside thread", []Removal{Thread{To: 20 * MM, Inside: true}}, []Piece{piece(-2, 62, 20, 20, Bought)}},
	} {
		if got := bar().After(tc.cuts...).Outside; !reflect.DeepEqual(got, tc.want) {
			t.Errorf("%s:\n%+v, by hand\n%+v", tc.name, got, tc.want)
		}
	}
	if s := (Outside{}).Span(bar()); s != (Span{}) {
		t.Errorf("no profile is cut over %v", s)
	}
}

func TestQueries(t *testing.T) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Rough), Turned(Span{5 * MM, 20 * MM}, 16*MM, Finished),
		Outside{[]Point{{30 * MM, 10 * MM}, {40 * MM, 20 * MM}}, Finished})
	for _, tc := range []struct {
		name      string
		got, want Len
	}{
		{"largest up to a shoulder", w.Largest(Span{2 * MM, 20 * MM}), 16 * MM},
		{"largest over a shoulder", w.Largest(Span{2 * MM, 21 * MM}), 20 * MM},
		{"largest at a shoulder", w.Largest(Span{20 * MM, 20 * MM}), 20 * MM},
		{"largest of a slope", w.Largest(Span{32 * MM, 35 * MM}), 15 * MM},
		{"largest beyond", w.Largest(Span{70 * MM, 80 * MM}), 0},
		{"smallest of a slope", w.Smallest(Span{32 * MM, 35 * MM}), 12 * MM},
		{"smallest over a shoulder", w.Smallest(Span{19 * MM, 29 * MM}), 16 * MM},
		{"smallest at a shoulder", w.Smallest(Span{20 * MM, 20 * MM}), 16 * MM},
		{"smallest at the end", w.Smallest(Span{62 * MM, 62 * MM}), 20 * MM},
		{"smallest out of the end", w.Smallest(Span{50 * MM, 90 * MM}), 20 * MM},
		{"smallest beyond", w.Smallest(Span{70 * MM, 80 * MM}), 0},
		{"at a shoulder", w.Dia(20 * MM), 20 * MM},
		{"at the end", w.Dia(62 * MM), 20 * MM},
		{"beyond the end", w.Dia(62*MM + 1), 0},
		{"the right end", w.Reach(part.Right), 62 * MM},
		{"the left end", w.Reach(part.Left), -2 * MM},
		{"of nothing", State{}.Reach(part.Right), 0},
	} {
		if tc.got != tc.want {
			t.Errorf("%s: %v, want %v", tc.name, tc.got.MM(), tc.want.MM())
		}
	}
	if l, r := w.At(20 * MM); l != 16*MM || r != 20*MM {
		t.Errorf("at the step %v and %v, want 16 and 20", l, r)
	}
	if l, r := w.At(-2 * MM); l != 0 || r != 20*MM {
		t.Errorf("at the left end %v and %v, want 0 and 20", l, r)
	}
	if list := w.Over(Span{20 * MM, 20 * MM}); list != nil {
		t.Errorf("a point shares %v", list)
	}
	if list := w.Over(Span{25 * MM, 25 * MM}); list != nil {
		t.Errorf("a point within a piece shares %v", list)
	}
}

func TestSurface(t *testing.T) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Rough), Turned(Span{5 * MM, 20 * MM}, 16*MM, Finished),
		Outside{[]Point{{30 * MM, 10 * MM}, {40 * MM, 20 * MM}}, Finished})
	facetted := w.After(Flats{From: 10 * MM, To: 20 * MM, Sides: 2, AcrossFrom: 14 * MM, AcrossTo: 14 * MM})
	threaded := w.After(Thread{From: 4 * MM, To: 8 * MM})
	milled := Bar(60*MM, Span{0, 60 * MM}, Corners(6, 17*MM), 6, 0).
		After(Flats{From: 10 * MM, To: 20 * MM, Sides: 6, AcrossFrom: 17 * MM, AcrossTo: 17 * MM})
	waved := w.After(Flats{From: 0, To: 20 * MM, Sides: 2, AcrossFrom: 14 * MM, AcrossTo: 13 * MM})
	for _, tc := range []struct {
		name  string
		w     State
		s     Span
		ok    bool
		stage Stage
	}{
		{"one stage", w, Span{6 * MM, 12 * MM}, true, Finished},
		{"to its ends", w, Span{0, 20 * MM}, true, Rough},
		{"two stages", w, Span{2 * MM, 12 * MM}, true, Rough},
		{"a step", w, Span{12 * MM, 22 * MM}, false, 0},
		{"a slope", w, Span{32 * MM, 35 * MM}, false, 0},
		{"out of the end", w, Span{50 * MM, 63 * MM}, false, 0},
		{"beyond the end", w, Span{70 * MM, 73 * MM}, false, 0},
		{"a point", w, Span{6 * MM, 6 * MM}, false, 0},
		{"flats on a half of it", facetted, Span{6 * MM, 12 * MM}, false, 0},
		{"flats on all of it", facetted, Span{11 * MM, 12 * MM}, true, Facetted},
		{"flats that taper", waved, Span{11 * MM, 12 * MM}, false, 0},
		{"a thread on a part of it", threaded, Span{2 * MM, 20 * MM}, true, Threaded},
		{"beside a thread", threaded, Span{8 * MM, 20 * MM}, true, Finished},
		{"nothing", State{}, Span{6 * MM, 12 * MM}, false, 0},
		{"a bar's own flats, milled on a part of it", milled, Span{0, 30 * MM}, true, Facetted},
	} {
		p, ok := tc.w.Surface(tc.s)
		if ok != tc.ok || p.Stage != tc.stage || ok && (p.Left != p.Right || p.Span != tc.s) {
			t.Errorf("%s: %+v, %v; want %v, %v", tc.name, p, ok, tc.stage, tc.ok)
		}
	}
}

func TestEnds(t *testing.T) {
	hole := Cross{Z: 58 * MM, Dia: 4 * MM}
	w := bar().After(Centre{part.Right, 6 * MM, 2 * MM}, hole, Slot{From: 50 * MM, To: 61 * MM},
		Flats{From: 59 * MM, To: 62 * MM, Sides: 2, AcrossFrom: 18 * MM, AcrossTo: 18 * MM},
		Thread{From: 60 * MM, To: 62 * MM})
	for _, tc := range []struct {
		name   string
		cut    EndCut
		to     Len
		faced  bool
		centre bool
		made   [4]int // cross holes, slots, flats and threads that are left
	}{
		{"beyond the end", EndCut{part.Right, 63 * MM, false}, 62 * MM, false, true, [4]int{1, 1, 1, 1}},
		{"a skim that takes nothing", EndCut{part.Right, 62 * MM, false}, 62 * MM, true, true, [4]int{1, 1, 1, 1}},
		{"sawn where it was sawn", EndCut{part.Right, 62 * MM, true}, 62 * MM, false, true, [4]int{1, 1, 1, 1}},
		{"faced", EndCut{part.Right, 60 * MM, false}, 60 * MM, true, false, [4]int{1, 1, 1, 0}},
		{"sawn off, through a hole", EndCut{part.Right, 58 * MM, true}, 58 * MM, false, false, [4]int{1, 1, 0, 0}},
		{"before the hole", EndCut{part.Right, 56 * MM, false}, 56 * MM, true, false, [4]int{0, 1, 0, 0}},
		{"all of it", EndCut{part.Right, -3 * MM, false}, 0, true, false, [4]int{}},
	} {
		got := w.After(tc.cut)
		end := got.EndAt(part.Right)
		made := [4]int{len(got.Cross), len(got.Slots), len(got.Flats), len(got.Threads)}
		if got.Reach(part.Right) != tc.to || end.Faced != tc.faced || (end.Centre != nil) != tc.centre ||
			made != tc.made {
			t.Errorf("%s: %v, %+v, %v left", tc.name, got.Reach(part.Right), end, made)
		}
		if got.EndAt(part.Left) != (End{}) {
			t.Errorf("%s: the other end is %+v", tc.name, got.EndAt(part.Left))
		}
	}
	left := bar().After(EndCut{part.Left, -3 * MM, false})
	if !reflect.DeepEqual(left, bar()) {
		t.Errorf("beyond the left end: %+v", left)
	}
	left = left.After(EndCut{part.Left, 0, false})
	if left.Reach(part.Left) != 0 || !left.Left.Faced || left.Right.Faced {
		t.Errorf("the left end faced: %+v", left)
	}
	if s := (EndCut{part.Left, 0, false}).Span(bar()); s != (Span{-2 * MM, 0}) {
		t.Errorf("facing the left end cuts %v", s)
	}
	if s := (EndCut{part.Right, 63 * MM, false}).Span(bar()); s != (Span{63 * MM, 63 * MM}) {
		t.Errorf("facing air cuts %v", s)
	}
	again := bar().After(EndCut{part.Right, 62 * MM, false}, EndCut{part.Right, 62 * MM, true})
	if !again.Right.Faced {
		t.Error("a saw that meets nothing roughens a faced end")
	}
}

// How wide the work is bored, by hand.
func TestBored(t *testing.T) {
	drill := Bore{From: part.Right, Dia: 8 * MM, Depth: 20 * MM, Point: 118e6}
	cb := Bore{From: part.Right, Dia: 12 * MM, Depth: 5 * MM, Point: 180e6}
	taper := Bore{From: part.Left, Start: 10 * MM, Dia: 12 * MM, EndDia: 8 * MM, Depth: 30 * MM, Point: 180e6}
	through := Bore{From: part.Left, Dia: 6 * MM, Depth: 60 * MM, Point: 118e6, Through: true}
	ends := Bore{From: part.Right, Dia: 6 * MM, EndDia: 4 * MM, Depth: 60 * MM, Point: 180e6, Through: true}
	// the point of 118 deg on 8 mm: 4/tan 59 = 2.403442 deep; 1 mm below its shoulder 8·1.403442/2.403442 wide
	for _, tc := range []struct {
		name  string
		bores []Removal
		z     float64
		want  float64
	}{
		{"in a drilled hole", []Removal{drill}, 45, 8},
		{"at its shoulder", []Removal{drill}, 40, 8},
		{"in its point", []Removal{drill}, 39, 4.671439},
		{"below its point", []Removal{drill}, 37.5, 0},
		{"in what is faced off later", []Removal{drill}, 61.5, 8},
		{"at the work's end", []Removal{drill}, 62, 8},
		{"beyond the work", []Removal{drill}, 62.1, 0},
		{"a counterbore", []Removal{drill, cb}, 56, 12},
		{"behind it", []Removal{cb, drill}, 54, 8},
		{"in a blind taper", []Removal{taper}, 20, 10},
		{"before it", []Removal{taper}, 9.9, 0},
		{"where it starts", []Removal{taper}, 10, 12},
		{"at its floor", []Removal{taper}, 30, 8},
		{"below its floor", []Removal{taper}, 30.1, 0},
		{"through, beyond the far face", []Removal{through}, 61, 6},
		{"through, beyond the near face", []Removal{through}, -1, 6},
		{"a taper through from the right", []Removal{ends}, 30, 5},
		{"and beyond the far face", []Removal{ends}, -1, 4},
		{"solid", nil, 30, 0},
	} {
		if got := bar().After(tc.bores...).Bore(mm(tc.z)); abs(got-mm(tc.want)) > 1 {
			t.Errorf("%s: %v, by hand %v", tc.name, got.MM(), tc.want)
		}
	}
	w := bar()
	for _, tc := range []struct {
		b    Bore
		want Span
	}{
		{drill, Span{40*MM - 2403442, 62 * MM}},
		{taper, Span{10 * MM, 30 * MM}},
		{through, Span{-2 * MM, 62 * MM}},
		{ends, Span{-2 * MM, 62 * MM}},
	} {
		if s := tc.b.Span(w); s != tc.want {
			t.Errorf("%+v is cut over %v, by hand %v", tc.b, s, tc.want)
		}
	}
	if tip := taper.Tip() + through.Tip() + (Bore{Dia: MM, Depth: MM}).Tip(); tip != 0 {
		t.Errorf("flat floors and through bores have a tip of %v", tip)
	}
	// a tapered one's point is that of its end: 4/2/tan 59
	if tip := (Bore{Dia: 6 * MM, EndDia: 4 * MM, Depth: MM, Point: 118e6}).Tip(); tip != mm(1.201721) {
		t.Errorf("the tip is %v, by hand 1.201721", tip.MM())
	}
}

// Where a centre could stand, after each of a row of operations.
func TestMouth(t *testing.T) {
	centre := Centre{part.Right, 6 * MM, 2 * MM}
	drill := func(dia float64) Bore { return Bore{From: part.Right, Dia: mm(dia), Depth: 20 * MM, Point: 118e6} }
	sink := func(dia, hole, deep float64) Bore {
		return Bore{From: part.Right, Dia: mm(dia), EndDia: mm(hole), Depth: mm(deep), Point: 180e6, Opens: true}
	}
	for _, tc := range []struct {
		name string
		cuts []Removal
		want float64 // 0: none
	}{
		{"nothing", nil, 0},
		{"a centre hole", []Removal{centre}, 6},
		{"drilled to its pilot", []Removal{centre, drill(2)}, 6},
		{"drilled through it", []Removal{centre, drill(5)}, 6},
		{"drilled as wide as it", []Removal{centre, drill(6)}, 0},
		{"bored out after", []Removal{centre, drill(5), drill(8)}, 0},
		{"centred after drilling", []Removal{drill(5), centre}, 6},
		{"centred in a wider bore", []Removal{drill(8), centre}, 0},
		{"centred twice", []Removal{centre, Centre{part.Right, 4 * MM, 3 * MM}}, 6},
		{
			"through from the other end",
			[]Removal{centre, Bore{From: part.Left, Dia: 5 * MM, Depth: 60 * MM, Through: true}},
			6,
		},
		{
			"wide through from the other end",
			[]Removal{centre, Bore{From: part.Left, Dia: 7 * MM, Depth: 60 * MM, Through: true}},
			0,
		},
		{"blind from the other end", []Removal{centre, Bore{From: part.Left, Dia: 7 * MM, Depth: 50 * MM}}, 6},
		{
			"a bore that starts deeper",
			[]Removal{centre, Bore{From: part.Right, Start: 20 * MM, Dia: 7 * MM, Depth: 30 * MM}},
			6,
		},
		{"faced further", []Removal{centre, EndCut{part.Right, 61 * MM, false}}, 0},
		{"the other end faced", []Removal{centre, EndCut{part.Left, 0, false}}, 6},
		{"drilled through it and faced", []Removal{centre, drill(5), EndCut{part.Right, 61 * MM, false}}, 0},
		{"countersunk 90", []Removal{drill(5), sink(9, 5, 2)}, 9},
		{"countersunk 60", []Removal{drill(5), sink(9, 5, 3.464102)}, 9},
		{"no steeper than a reamer for tapers", []Removal{drill(5), sink(9, 5, 20)}, 0},
		{"countersunk less than its centre hole", []Removal{centre, drill(5), sink(5.5, 5, 0.25)}, 6},
		{
			"countersunk, then faced half of it away",
			[]Removal{drill(5), sink(9, 5, 2), EndCut{part.Right, 59 * MM, false}},
			7,
		},
		{"countersunk, then faced away", []Removal{drill(5), sink(9, 5, 2), EndCut{part.Right, 58 * MM, false}}, 0},
		{"a countersink alone, faced away", []Removal{sink(9, 5, 2), EndCut{part.Right, 58 * MM, false}}, 0},
		{"countersunk, then bored as wide", []Removal{drill(5), sink(9, 5, 2), drill(9)}, 0},
		{
			"countersunk deeper down",
			[]Removal{Bore{From: part.Right, Start: 5 * MM, Dia: 9 * MM, EndDia: 5 * MM, Depth: 7 * MM}},
			0,
		},
		{
			"and faced down to it", []Removal{
				Bore{From: part.Right, Start: 5 * MM, Dia: 9 * MM, EndDia: 5 * MM, Depth: 7 * MM},
				EndCut{part.Right, 54 * MM, false},
			}, 7,
		},
	} {
		w := bar().After(tc.cuts...)
		dia, ok := w.Mouth(part.Right)
		if ok != (tc.want > 0) || ok && dia != mm(tc.want) {
			t.Errorf("%s: %v, %v; by hand %v", tc.name, dia.MM(), ok, tc.want)
		}
		if _, ok := w.Mouth(part.Left); ok {
			t.Errorf("%s: the other end has a mouth", tc.name)
		}
	}
	if w := bar().After(centre, drill(5)); w.Right.Centre != nil || w.Right.Rim != 6*MM {
		t.Errorf("a centre hole that was drilled through is %+v", w.Right)
	}
	if w := bar().After(centre, drill(2)); w.Right.Centre == nil || w.Right.Rim != 0 {
		t.Errorf("a centre hole that was drilled to its pilot is %+v", w.Right)
	}
	for _, cuts := range [][]Removal{{centre, drill(6)}, {drill(6), centre}} {
		if w := bar().After(cuts...); w.Right != (End{}) {
			t.Errorf("a bore as wide as a centre hole leaves %+v", w.Right)
		}
	}
	if w := bar().After(drill(5), centre); w.Right.Centre != nil {
		t.Error("a centre hole stands in a bore")
	}
	if w := bar().After(centre, Centre{part.Right, 4 * MM, 3 * MM}); w.Right.Centre.Pilot != 3*MM {
		t.Errorf("centred twice: %+v", w.Right.Centre)
	}
	if a := sink(9, 5, 3.464102).Cone(); a != 60e6 { // 2·atan(4/(2·3.464102))
		t.Errorf("a cone of %v, by hand 60", a)
	}
	for _, b := range []Bore{drill(5), sink(5, 9, 2), sink(9, 9, 2), sink(9, 5, 0)} {
		if b.Cone() != 0 {
			t.Errorf("%+v is a cone of %v", b, b.Cone())
		}
	}
}

// Flats by hand. Across 14 of a hexagon the corners are 14/cos 30 = 16.165808.
func TestFlats(t *testing.T) {
	flats := func(sides int, from, to float64) Flats {
		return Flats{From: 10 * MM, To: 30 * MM, Sides: sides, AcrossFrom: mm(from), AcrossTo: mm(to)}
	}
	cone := Outside{[]Point{{10 * MM, 20 * MM}, {30 * MM, 10 * MM}}, Finished}
	for _, tc := range []struct {
		name        string
		cuts        []Removal
		z           float64
		sides       int
		dia, across float64
		stage       Stage
		wantPieces  int
	}{
		{"a hexagon", []Removal{flats(6, 14, 14)}, 20, 6, 16.165808, 14, Facetted, 3},
		{"its corners on the round", []Removal{flats(6, 18, 18)}, 20, 6, 20, 18, Facetted, 3},
		{"over the round", []Removal{flats(6, 20, 20)}, 20, 0, 20, 0, Bought, 1},
		{"a square", []Removal{flats(4, 14, 14)}, 20, 4, 19.79899, 14, Facetted, 3},
		// a triangle's corners are 2·14/1.5 = 18.666667; the circle it touches 2·14 - that = 9.333333
		{"a triangle", []Removal{flats(3, 14, 14)}, 20, 3, 18.666667, 14, Facetted, 3},
		{
			"a triangle, its corners turned to 16",
			[]Removal{flats(3, 14, 14), Turned(Span{0, 40 * MM}, 16*MM, Finished)},
			20, 3, 16, 12.6666665, Facetted, 5,
		},
		{"a pair", []Removal{flats(2, 14, 14)}, 20, 2, 20, 14, Facetted, 3},
		{"a pair that tapers", []Removal{flats(2, 14, 12)}, 20, 2, 20, 13, Facetted, 3},
		{
			"a pair, turned above them",
			[]Removal{flats(2, 14, 14), Turned(Span{0, 40 * MM}, 15*MM, Finished)},
			20, 2, 15, 14, Facetted, 5,
		},
		{
			"a pair, turned to them",
			[]Removal{flats(2, 14, 14), Turned(Span{0, 40 * MM}, 14*MM, Finished)},
			20, 0, 14, 0, Finished, 3,
		},
		{
			"a hexagon, turned under it",
			[]Removal{flats(6, 14, 14), Turned(Span{0, 40 * MM}, 13*MM, Rough)},
			20, 0, 13, 0, Rough, 3,
		},
		{
			"roughed, then finished",
			[]Removal{flats(6, 14.6, 14.6), flats(6, 14, 14)},
			20, 6, 16.165808, 14, Facetted, 3,
		},
		{"finished, then less", []Removal{flats(6, 14, 14), flats(6, 14.6, 14.6)}, 20, 6, 16.165808, 14, Facetted, 3},
		// the cone is 20 - (z - 10)/2: under 14 from z = 22 on
		{"a pair on a cone", []Removal{cone, flats(2, 14, 14)}, 21, 2, 14.5, 14, Facetted, 4},
		{"and where the cone is thinner", []Removal{cone, flats(2, 14, 14)}, 23, 0, 13.5, 0, Finished, 4},
		{"on a thread", []Removal{Thread{From: 10 * MM, To: 30 * MM}, flats(2, 14, 14)}, 20, 2, 20, 14, Threaded, 3},
		{
			"a thread on flats",
			[]Removal{flats(2, 14, 14), Thread{From: 10 * MM, To: 30 * MM}},
			20, 2, 20, 14, Threaded, 3,
		},
	} {
		w := bar().After(tc.cuts...)
		p := w.Over(Span{mm(tc.z) - 1, mm(tc.z)})[0]
		across, ok := w.AcrossFlats(mm(tc.z))
		if p.Sides != tc.sides || abs(p.Right-mm(tc.dia)) > 1 || ok != (tc.sides > 0) || abs(across-mm(tc.across)) > 1 ||
			p.Stage != tc.stage || len(w.Outside) != tc.wantPieces {
			t.Errorf("%s: %+v, across %v; by hand %+v", tc.name, w.Outside, across.MM(), tc)
		}
	}
	hex := Bar(60*MM, Span{0, 60 * MM}, Corners(6, 17*MM), 6, 0)
	if a, ok := hex.AcrossFlats(30 * MM); !ok || a != 17*MM {
		t.Errorf("a bar of 17 across flats is %v, %v", a.MM(), ok)
	}
	if a, ok := hex.AcrossFlats(61 * MM); ok {
		t.Errorf("beyond the bar %v across flats", a)
	}
	round := hex.After(Turned(Span{0, 20 * MM}, 18*MM, Finished), Turned(Span{0, 10 * MM}, 17*MM, Finished))
	if p, ok := round.Surface(Span{0, 10 * MM}); !ok || p.Sides != 0 || p.Stage != Finished {
		t.Errorf("turned to its flats: %+v, %v", p, ok)
	}
	if p, ok := round.Surface(Span{10 * MM, 20 * MM}); !ok || p.Sides != 6 || p.Stage != Finished {
		t.Errorf("turned above its flats: %+v, %v", p, ok)
	}
	if a, _ := bar().After(flats(2, 14, 14), Flats{30 * MM, 40 * MM, 2, 0, 12 * MM, 12 * MM}).
		AcrossFlats(30 * MM); a != 12*MM {
		t.Errorf("where two meet %v across flats, want the smaller 12", a.MM())
	}
}

// Metal by hand, to a tenth of a mm³.
func TestVolume(t *testing.T) {
	w := Bar(60*MM, Span{0, 60 * MM}, 20*MM, 0, 0)
	drill := Bore{From: part.Left, Dia: 8 * MM, Depth: 20 * MM, Point: 90e6}
	for _, tc := range []struct {
		name string
		w    State
		want float64
	}{
		{"a bar", w, 18849.556}, // π/4·20²·60
		// less π/4·(20² - 16²)·20 = 2261.947
		{
			"turned", w.After(Turned(Span{0, 20 * MM}, 16*MM, Finished)), 16587.609,
		},
		// less a bar of 20 long and the cone π/12·20·(20² + 20·10 + 10²) = 3665.191 for it
		{"a cone", w.After(Outside{[]Point{{0, 10 * MM}, {20 * MM, 20 * MM}}, Finished}), 16231.562},
		// less π/4·8²·20 = 1005.310 and the point π/12·8²·4 = 67.021
		{"drilled", w.After(drill), 17777.225},
		// bored over it: less π/4·10²·30 = 2356.194 alone
		{
			"bored over it",
			w.After(drill, Bore{From: part.Left, Dia: 10 * MM, Depth: 30 * MM, Point: 180e6}), 16493.361,
		},
		// a hexagon of 17 across flats: (√3/2)·17²·60
		{"a hexagon", Bar(60*MM, Span{0, 60 * MM}, Corners(6, 17*MM), 6, 0), 15016.881},
		// two bores that cross: 12 to 8 over 20, and 10 all along: the cone down to 10 at z 10,
		// π/12·10·(144 + 120 + 100) = 952.950, and π/4·100·50 = 3926.991
		{"two bores that cross", w.After(
			Bore{From: part.Left, Dia: 12 * MM, EndDia: 8 * MM, Depth: 20 * MM, Point: 180e6},
			Bore{From: part.Left, Dia: 10 * MM, Depth: 60 * MM, Through: true},
		), 13969.615},
		{"bored away", w.After(Bore{From: part.Left, Dia: 25 * MM, Depth: 60 * MM, Through: true}), 0},
		{"a tube", Bar(60*MM, Span{-MM, 61 * MM}, 20*MM, 0, 10*MM), 14608.406}, // π/4·(20² - 10²)·62
		// a pair of flats 10 apart on 20: the half angle of a flat's chord is 60 deg, so
		// 2·5·√(100 - 25) + 100·(π - 2·π/3) = 86.603 + 104.720, by 60
		{"a pair of flats", w.After(Flats{0, 60 * MM, 2, 0, 10 * MM, 10 * MM}), 11479.338},
		{"a block", State{}.After(Block{Size: [3]Len{64 * MM, 24 * MM, 16 * MM}}), 24576},
		{"nothing", State{}, 0},
	} {
		if got := tc.w.Volume(); math.Abs(got-tc.want) > 0.05 {
			t.Errorf("%s: %.3f mm³, by hand %v", tc.name, got, tc.want)
		}
	}
}

// The section of every shape against its sectors summed.
func TestArea(t *testing.T) {
	for sides := range 13 {
		for in := 1.0; in <= 10 && sides != 1; in++ {
			if got, want := sectionOf(10, in, sides), section(10, in, sides); math.Abs(got-want) > 0.003*want {
				t.Errorf("%d sides about %v: %v, summed %v", sides, in, got, want)
			}
		}
	}
}

// A bar of 16 over 50, measured 15.9 at 20 for what is finished from 10 to 30:
// that much is 15.9, and on both sides of it stays 16.
func TestMeasuredOver(t *testing.T) {
	w := bar().After(Turned(Span{0, 50 * MM}, 16*MM, Rough))
	m := w.MeasuredOver(Span{10 * MM, 30 * MM}, 20*MM, mm(15.9))
	for _, tc := range []struct{ z, left, right float64 }{
		{5, 16, 16}, {10, 16, 15.9}, {20, 15.9, 15.9}, {30, 15.9, 16}, {45, 16, 16},
	} {
		if l, r := m.At(mm(tc.z)); l != mm(tc.left) || r != mm(tc.right) {
			t.Errorf("at %v: %v and %v", tc.z, l.MM(), r.MM())
		}
	}
	if l, _ := w.At(20 * MM); l != 16*MM {
		t.Error("measuring changed the work before")
	}
}

func TestMeasured(t *testing.T) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Finished),
		Outside{[]Point{{30 * MM, 10 * MM}, {40 * MM, 20 * MM}}, Finished})
	for _, tc := range []struct {
		name        string
		z, dia      float64
		look        float64
		left, right float64
	}{
		{"a cylinder", 10, 15.9, 20, 15.9, 20},
		{"all of it", 10, 15.9, 0, 20, 15.9},
		{"at a shoulder, what is on its right", 20, 19.9, 20, 16, 19.9},
		{"a cone within", 35, 15.1, 40, 20.1, 20},
		{"and at its small end", 35, 15.1, 30, 20, 10.1},
		{"never under nothing", 35, 1, 30, 20, 0},
		{"the last end", 62, 19, 62, 19, 0},
		{"beyond", 63, 1, 62, 20, 0},
	} {
		if l, r := w.Measured(mm(tc.z), mm(tc.dia)).At(mm(tc.look)); l != mm(tc.left) || r != mm(tc.right) {
			t.Errorf("%s: %v and %v", tc.name, l.MM(), r.MM())
		}
	}
	if l, _ := w.At(20 * MM); l != 16*MM {
		t.Error("measuring changed the work before")
	}
	one := w.Measured(10*MM, 20*MM).Measured(25*MM, 20*MM)
	if n := len(one.Outside); n != 5 { // bought, finished and bought again, the cone, the rest
		t.Errorf("%d pieces", n)
	}
	level := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Finished), Turned(Span{20 * MM, 40 * MM}, 15*MM, Finished))
	if n := len(level.Measured(10*MM, 15*MM).Outside); n != 3 {
		t.Errorf("what was measured as its neighbour is not one with it: %d pieces", n)
	}
	for _, tc := range []struct {
		sides       int
		dia, across float64
	}{{6, 15, 13}, {2, 15, 14}, {2, 14, 0}} {
		start := 16.0
		flat := bar().After(Turned(Span{0, 20 * MM}, mm(start), Finished),
			Flats{0, 20 * MM, tc.sides, 0, 14 * MM, 14 * MM}).Measured(5*MM, mm(tc.dia))
		if a, ok := flat.AcrossFlats(5 * MM); a != mm(tc.across) || ok != (tc.across > 0) {
			t.Errorf("%d sides measured %v: %v across flats, by hand %v", tc.sides, tc.dia, a.MM(), tc.across)
		}
	}
}

func TestLayersByHand(t *testing.T) {
	w := bar()
	// a cone of 10 to 20 over 20, and a cylinder of 12 over 10 more
	after := w.After(Outside{[]Point{{0, 10 * MM}, {20 * MM, 20 * MM}}, Rough},
		Turned(Span{40 * MM, 50 * MM}, 12*MM, Rough))
	for _, tc := range []struct {
		name      string
		got, want Len
	}{
		{"20 to 16", w.Above(after, 16*MM, 20*MM), 30 * MM}, // all of the cone, the cylinder
		{"16 to 12", w.Above(after, 12*MM, 16*MM), 22 * MM}, // the cone up to 16, 12 long, and 10
		{"12 to 8", w.Above(after, 8*MM, 12*MM), 4 * MM},    // the cone up to 12; the cylinder is there
		{"above the bar", w.Above(after, 20*MM, 24*MM), 0},
		{"nothing cut", w.Above(w, 0, 24*MM), 0},
		{"by more than 4", w.AboveBy(after, 4*MM), 22 * MM}, // the cone up to 16, and the cylinder
		{"at all", w.AboveBy(after, 0), 30 * MM},            // but for what is finer than is told
		{"an end cut off", w.AboveBy(w.After(EndCut{part.Right, 60 * MM, true}), 0), 0},
	} {
		if abs(tc.got-tc.want) > 0 {
			t.Errorf("%s: %v, by hand %v", tc.name, tc.got.MM(), tc.want.MM())
		}
	}
}

// What rounding moves on a slope that is cut in two is not a cut.
func TestLayersOnASlope(t *testing.T) {
	w := bar().After(Outside{[]Point{{0, 10 * MM}, {30 * MM, 17 * MM}}, Finished})
	for i := range Len(25) {
		from := i*1_100_003 + 7
		after := w.After(Turned(Span{from, from + MM}, 5*MM, Finished))
		if a, by := w.Above(after, 0, 20*MM), w.AboveBy(after, 0); a != MM || by != MM {
			t.Errorf("from %v: %v and %v are cut, want 1", from.MM(), a.MM(), by.MM())
		}
		alike := after.After(Outside{[]Point{{-3 * MM, mm(7.3)}, {31500007, mm(15.35) + 2}}, Finished})
		if by := after.AboveBy(alike, 2*MM); by != 3500007 { // 2 less along the cone; 2 and 1.5 of bar beside it
			t.Errorf("from %v: %v are cut by more than 2, want 3.500007", from.MM(), by.MM())
		}
	}
}

func TestSpan(t *testing.T) {
	a, b := Span{0, 10 * MM}, Span{10 * MM, 20 * MM}
	if a.Overlaps(b) || b.Overlaps(a) || !a.Overlaps(Span{9 * MM, 11 * MM}) || a.Overlaps(Span{5 * MM, 5 * MM}) {
		t.Error("what overlaps")
	}
	if !a.Covers(a) || !a.Covers(Span{1, 2}) || a.Covers(Span{-1, 2}) || a.Covers(Span{1, 10*MM + 1}) {
		t.Error("what covers")
	}
	if a.Meet(Span{5 * MM, 15 * MM}) != (Span{5 * MM, 10 * MM}) || a.Meet(Span{11 * MM, 12 * MM}).Length() > 0 {
		t.Error("what meets")
	}
	if a.Grown(part.Right, MM) != (Span{0, 11 * MM}) || a.Grown(part.Left, MM) != (Span{-MM, 10 * MM}) {
		t.Error("what grows")
	}
}

// Twice the same is once; what differs only in its depth is two.
func TestTwice(t *testing.T) {
	two, three := 2*MM, 3*MM
	also := 2 * MM
	w := bar().After(Cross{Dia: MM}, Cross{Dia: MM}, Cross{Dia: MM, Depth: &two}, Cross{Dia: MM, Depth: &also},
		Cross{Dia: MM, Depth: &three}, Cross{Dia: two, Depth: &three})
	if len(w.Cross) != 4 {
		t.Errorf("%d cross holes, want 4", len(w.Cross))
	}
	w = w.After(Slot{To: MM}, Slot{To: MM},
		Slot{To: MM, Depth: &two}, Slot{To: MM, Depth: &also}, Slot{To: two, Depth: &two})
	if len(w.Slots) != 3 {
		t.Errorf("%d slots, want 3", len(w.Slots))
	}
	before := bar().After(Cross{Dia: MM}, Cross{Z: 58 * MM, Dia: MM}, Cross{Z: 40 * MM, Dia: MM})
	a, b := before.After(Cross{Dia: 2 * MM}), before.After(Cross{Dia: 3 * MM})
	if a.Cross[3].Dia != 2*MM || b.Cross[3].Dia != 3*MM || len(before.Cross) != 3 {
		t.Error("two ways on share what they made")
	}
	short := before.After(EndCut{part.Right, 50 * MM, false})
	if len(short.Cross) != 2 || before.Cross[1].Z != 58*MM || before.Cross[2].Z != 40*MM {
		t.Errorf("an end cut off takes from the work before: %+v", before.Cross)
	}
}

// The shapes and keys of every removal: a removal with all that can be told, and
// one with what is through.
func TestJSON(t *testing.T) {
	deep, minus := 5*MM, Len(-500)
	for _, tc := range []struct {
		r    any
		want string
	}{
		{
			Outside{[]Point{{0, 10 * MM}, {20500000, 12345678}}, Rough},
			`{"shape":"outside","profile":[[0,10],[20.5,12.345678]]}`,
		},
		{EndCut{part.Left, minus, true}, `{"shape":"end","end":"left","z_mm":-0.0005}`},
		{Centre{part.Right, 6 * MM, 2 * MM}, `{"shape":"centre","end":"right","dia_mm":6,"pilot_mm":2}`},
		{
			Bore{part.Right, MM, 8 * MM, 0, 20 * MM, 118e6, false, true},
			`{"shape":"bore","from":"right","start_mm":1,"dia_mm":8,"depth_mm":20,"point_deg":118}`,
		},
		{
			Bore{part.Left, 0, 8 * MM, 7 * MM, 60 * MM, 180e6, true, false},
			`{"shape":"bore","from":"left","start_mm":0,"dia_mm":8,"end_dia_mm":7,"depth_mm":60,"point_deg":180}`,
		},
		{
			Cross{24 * MM, 22500000, 4 * MM, nil, minus},
			`{"shape":"cross","z_mm":24,"roll_deg":22.5,"dia_mm":4,"depth_mm":null,"offset_mm":-0.0005}`,
		},
		{Cross{Depth: &deep}, `{"shape":"cross","z_mm":0,"roll_deg":0,"dia_mm":0,"depth_mm":5,"offset_mm":0}`},
		{
			Flats{34 * MM, 96 * MM, 8, 22500000, 34 * MM, 20 * MM},
			`{"shape":"flats","from_mm":34,"to_mm":96,"sides":8,"first_roll_deg":22.5,` +
				`"across_from_mm":34,"across_to_mm":20}`,
		},
		{
			Thread{0, 12 * MM, 2 * MM, "M16x1.5", false, ToHeadstock, 16 * MM},
			`{"shape":"thread","from_mm":0,"to_mm":12,"run_out_mm":2,"spec":"M16x1.5",` +
				`"inside":false,"cut_toward":"headstock"}`,
		},
		{
			Thread{0, 12 * MM, 0, "M8", true, ToTailstock, 8 * MM},
			`{"shape":"thread","from_mm":0,"to_mm":12,"run_out_mm":0,"spec":"M8","inside":true,"cut_toward":"tailstock"}`,
		},
		{
			Slot{MM, 9 * MM, 90e6, 3 * MM, nil},
			`{"shape":"slot","from_mm":1,"to_mm":9,"roll_deg":90,"width_mm":3,"depth_mm":null}`,
		},
		{
			Slot{MM, 9 * MM, 0, 3 * MM, &deep},
			`{"shape":"slot","from_mm":1,"to_mm":9,"roll_deg":0,"width_mm":3,"depth_mm":5}`,
		},
		{Block{Size: [3]Len{64 * MM, 24 * MM, 16 * MM}}, `{"shape":"block","size":[64,24,16]}`},
		{
			Block{[3]Len{64 * MM, 24 * MM, 16 * MM}, part.Front},
			`{"shape":"block","size":[64,24,16],"face":"front"}`,
		},
		{
			Slope{part.Top, 32 * MM, 64 * MM, -9e6, 3e6},
			`{"shape":"slope","face":"top","from_x_mm":32,"to_x_mm":64,"along_x_deg":-9,"along_y_deg":3}`,
		},
		{
			BlockHole{part.Top, 50 * MM, 12 * MM, 4 * MM, nil},
			`{"shape":"block","face":"top","x_mm":50,"y_mm":12,"dia_mm":4,"depth_mm":null}`,
		},
		{
			BlockSlot{part.LeftF, 20 * MM, 12 * MM, 18 * MM, 6 * MM, 0, &deep},
			`{"shape":"block","face":"left","x_mm":20,"y_mm":12,"length_mm":18,"width_mm":6,"angle_deg":0,"depth_mm":5}`,
		},
		{Facetted, `"facetted"`},
		{Span{MM / 2, MM}, `{"from_mm":0.5,"to_mm":1}`},
		{Span{minus, 1}, `{"from_mm":-0.0005,"to_mm":0.000001}`},
	} {
		if got, err := json.Marshal(tc.r); err != nil || string(got) != tc.want {
			t.Errorf("%s, want\n%s", got, tc.want)
		}
	}
	for i, name := range []string{"bought", "rough", "finished", "facetted", "threaded"} {
		if Stage(i).String() != name {
			t.Errorf("stage %d is %v, want %s", i, Stage(i), name)
		}
	}
}

func TestLengths(t *testing.T) {
	if l := LenOf(units.MustLength("1/64in")); l != 396875 { // 25.4/64 = 0.396875 mm
		t.Errorf("1/64 in is %d", l)
	}
	if l := LenOf(units.MustLength("0.0000005mm")); l != 1 {
		t.Errorf("half a millionth is %d", l)
	}
	if l := Float(1.23456749); l != 1234567 || l.MM() != 1.234567 || LenOf(l.Length()) != l {
		t.Errorf("1.23456749 is %d", l)
	}
	if d := DegOf(units.Degrees(22.5)); d != 22500000 || math.Abs(d.Angle().Deg()-22.5) > 1e-12 {
		t.Errorf("22.5 deg is %d", d)
	}
	if mm, inch := (254 * MM / 10).Words(); mm == "" || inch == "" {
		t.Errorf("words %q %q", mm, inch)
	}
	if Optional(nil) != nil {
		t.Error("a depth from nowhere")
	}
	if l := units.MustLength("3mm"); *Optional(&l) != 3*MM {
		t.Error("a depth is lost")
	}
	// halves away from 0: 7·1/2 = 3.5, 5·2/3 = 3.33, 4·2/3 = 2.67
	for _, tc := range []struct{ x, y, d, want Len }{
		{7, 1, 2, 4}, {-7, 1, 2, -4}, {5, 2, 3, 3}, {4, 2, 3, 3}, {1e15, 3, 4, 75e13},
	} {
		if got := mulDiv(tc.x, tc.y, tc.d); got != tc.want {
			t.Errorf("%d·%d/%d is %d, want %d", tc.x, tc.y, tc.d, got, tc.want)
		}
	}
}

func BenchmarkAfter(b *testing.B) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Rough),
		Outside{[]Point{{30 * MM, 10 * MM}, {40 * MM, 20 * MM}}, Finished})
	cut := Turned(Span{0, 20 * MM}, 15*MM, Finished)
	for b.Loop() {
		w.After(cut)
	}
}

func BenchmarkLargest(b *testing.B) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Rough),
		Outside{[]Point{{30 * MM, 10 * MM}, {40 * MM, 20 * MM}}, Finished})
	for b.Loop() {
		w.Largest(Span{5 * MM, 35 * MM})
	}
}

func BenchmarkVolume(b *testing.B) {
	w := bar().After(Turned(Span{0, 20 * MM}, 16*MM, Rough),
		Bore{From: part.Left, Dia: 8 * MM, Depth: 20 * MM, Point: 118e6})
	for b.Loop() {
		w.Volume()
	}
}

// Where two lines cross, by hand, and that what only rounding parts does not.
func TestCrossing(t *testing.T) {
	for _, tc := range []struct {
		name       string
		long       Len
		a, b, c, d Len
		want       []Len
	}{
		{"in the middle", 100, 0, 10, 10, 0, []Len{50}},
		{"a third on", 90, 0, 30, 10, 10, []Len{30}},
		{"the other way", 90, 30, 0, 10, 10, []Len{60}},
		{"beside one another", 90, 0, 30, 10, 40, nil},
		{"two millionths over at the end", 1000, 0, 22, 20, 20, nil},
		{"three over", 1000, 0, 23, 20, 20, []Len{870}}, // 1000·20/23 = 869.6
		{"two under at the start", 1000, 18, 40, 20, 20, nil},
		{"three under", 1000, 17, 40, 20, 20, []Len{130}}, // 1000·3/23 = 130.4
		{"two from the end, steeply", 10, 0, 100, 80, 80, nil},
		{"three from the end, steeply", 10, 0, 100, 70, 70, []Len{7}},
		{"two from the start, steeply", 10, 0, 100, 20, 20, nil},
		{"three from the start, steeply", 10, 0, 100, 30, 30, []Len{3}},
		{"two from the end", 20, 0, 20, 18, 18, nil},
		{"three from the end", 20, 0, 20, 17, 17, []Len{17}},
		{"two from the start", 20, 20, 0, 18, 18, nil},
		{"three from the start", 20, 20, 0, 17, 17, []Len{3}},
	} {
		if got := crossing(nil, Span{0, tc.long}, tc.a, tc.b, tc.c, tc.d); !reflect.DeepEqual(got, tc.want) {
			t.Errorf("%s: %v, by hand %v", tc.name, got, tc.want)
		}
	}
}

// Exact is the same as the slow way, shifted and rounded, and says no to what is no whole
// millionth and to what a Len has no digits for.
func TestExact(t *testing.T) {
	for _, text := range []string{
		"0", "1", "-1", "12.5", "0.000001", "-123.456789", "25.4", "1e3", "9e11", "-9e11", "0.0000001", "12.3456785", "1e13",
	} {
		d := decimal.RequireFromString(text)
		l := units.FromDecimal(d)
		slow := d.Shift(6)
		got, ok := Exact(l)
		if want := slow.IsInteger() && slow.Abs().LessThan(decimal.New(1, 18)); ok != want {
			t.Errorf("%s is told: %v, by hand %v", text, ok, want)
		}
		held := slow.Abs().LessThan(decimal.New(1, 18))
		if want := Len(slow.Round(0).IntPart()); ok && got != want || held && LenOf(l) != want {
			t.Errorf("%s comes to %d and %d, the slow way to %d", text, got, LenOf(l), want)
		}
	}
}
