package certify

import (
	"slices"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// segment is a stretch of the outside with the least and the most that it may
// have at its ends: through the corners of a polygon, and of a thread what it is
// cut on.
type segment struct {
	work.Span
	least, most [2]work.Len // at its left and its right
	loose       bool        // it lies about a step, which may stand anywhere on it
}

// at returns one of a segment's lines at z.
func (s segment) at(line [2]work.Len, z work.Len) work.Len {
	return within(work.Piece{Span: s.Span, Left: line[0], Right: line[1]}, z)
}

// drawing is the finished part with its limits, as numbers.
type drawing struct {
	segments []segment // from left to right, without gaps
	ends     [2]work.Span
	bores    []bored
	chamfers []chamfer
	widths   map[string]float64  // of the limits of what a feature has on its outside, in mm
	pitches  map[string]work.Len // of the threads, by their designation
}

// bored is a bore as it may be: where it may have its full diameter, to the most
// of its depth, and the most of that.
type bored struct {
	work.Span
	most work.Len
}

// chamfer is an edge that is cut away, so far to both sides of z.
type chamfer struct{ z, size work.Len }

// arcChords is how many straights stand for an arc: as many as it is cut in, so
// that the chords of both are one.
const arcChords = 64

// draw works the drawing out.
func (j *Job) draw() {
	j.widths, j.pitches = map[string]float64{}, map[string]work.Len{}
	for _, t := range j.Shape.Threads {
		j.pitches[t.Spec] = op.LenOf(t.Designation.Pitch.Length(1))
	}
	for _, d := range j.Limits.All() {
		switch d.Kind {
		case limits.Diameter, limits.TaperEnd, limits.ThreadBlank, limits.AcrossFlats, limits.Bore, limits.Hole:
			j.narrow(d.Feature, d)
		case limits.Length:
			if j.Limits.Chamfer(1).Known() && j.isChamfer(d) {
				j.chamfers = append(j.chamfers, chamfer{op.LenOf(d.From), op.LenOf(d.High)})
			}
		}
	}
	length := j.Limits.Length()
	off := op.LenOf(length.High) - op.LenOf(length.Drawn)
	under := op.LenOf(length.Drawn) - op.LenOf(length.Low)
	j.ends = [2]work.Span{{From: -off, To: under}, {From: op.LenOf(length.Low), To: op.LenOf(length.High)}}
	for _, b := range j.Shape.Bores {
		j.bores = append(j.bores, bored{j.room(b), op.LenOf(j.Limits.Bore(b).High)})
	}
	for _, s := range j.Shape.Stretches {
		j.stretch(s)
	}
	j.loosen()
}

// isChamfer reports whether a length is that of a chamfer.
func (j *Job) isChamfer(d limits.Dimension) bool {
	for n := 1; j.Limits.Chamfer(n).Known(); n++ {
		if d.Feature == outline.ChamferID(n) {
			return true
		}
	}
	return false
}

// narrow keeps the width of the closest limits of a feature.
func (j *Job) narrow(id string, d limits.Dimension) {
	if w, ok := j.widths[id]; !ok || d.Width().MM() < w {
		j.widths[id] = d.Width().MM()
	}
}

// stretch adds a stretch of the outside as segments.
func (j *Job) stretch(s outline.Stretch) {
	left, right := j.held(s, part.Left), j.held(s, part.Right)
	j.narrow(s.ID(), left)
	j.narrow(s.ID(), right)
	chords := int64(1)
	if s.Kind() == outline.Curve {
		chords = arcChords
	}
	for i := range chords {
		place := func(n int64) units.Length {
			if n == chords {
				return s.To
			}
			return s.From.Plus(units.FromFloat(s.Length().MM() * float64(n) / float64(chords)))
		}
		from, to := place(i), place(i+1)
		x := segment{Span: work.Span{From: op.LenOf(from), To: op.LenOf(to)}}
		for n, z := range []units.Length{from, to} {
			k := float64(i+int64(n)) / float64(chords)
			lower := (1-k)*left.Low.Minus(left.Drawn).MM() + k*right.Low.Minus(right.Drawn).MM()
			upper := (1-k)*left.High.Minus(left.Drawn).MM() + k*right.High.Minus(right.Drawn).MM()
			size := s.At(z)
			swell := 1.0 // of limits that are across flats
			if left.Kind == limits.AcrossFlats && size.Flats.Sign() > 0 {
				swell = size.Corners.Over(size.Flats)
			}
			dia := op.LenOf(size.Corners)
			x.least[n], x.most[n] = max(0, dia+work.Float(lower*swell)), dia+work.Float(upper*swell)
		}
		j.segments = append(j.segments, x)
	}
}

// held returns what holds a stretch at one of its ends: the diameter, or the
// size across flats with its limits as much larger as the corners are.
func (j *Job) held(s outline.Stretch, end part.End) limits.Dimension {
	d := j.Limits.Outside(s)
	switch {
	case s.Thread != nil:
		d = j.Limits.ThreadBlank(*s.Thread)
	case !d.Known():
		d = j.Limits.TaperEnd(s, end)
	}
	if d.Known() {
		return d
	}
	if d = j.Limits.Flats(s, end); d.Known() {
		return d
	}
	size := s.Left
	if end == part.Right {
		size = s.Right
	}
	d, _ = j.Limits.General(limits.Diameter, s.ID(), s.Span, size.Drawn)
	return d
}

// loosen moves every shoulder and end as far as its limits let it be: between,
// the least is the smaller of the two sides and the most the larger.
func (j *Job) loosen() {
	for _, x := range j.Shape.Shoulders {
		d := j.Limits.Shoulder(x)
		j.open(work.Span{From: op.LenOf(d.Low), To: op.LenOf(d.High)}, op.LenOf(x.Z))
	}
	for i, z := range []work.Len{0, op.LenOf(j.Shape.Length)} {
		j.open(j.ends[i], z)
	}
}

// open loosens what lies about a step at z: there the least is the least of both
// sides and the most the most of them, since the step may stand anywhere in it.
func (j *Job) open(s work.Span, z work.Len) {
	loose := segment{Span: s, loose: true}
	var least, most []work.Len
	for _, at := range []work.Len{s.From, s.To} {
		for _, x := range j.segments {
			if x.To < s.From || s.To < x.From { // an arc has several on a side
				continue
			}
			near := max(x.From, min(at, x.To)) // the side that lies beyond z counts by its edge
			least, most = append(least, x.at(x.least, near)), append(most, x.at(x.most, near))
		}
	}
	if z == 0 || z == op.LenOf(j.Shape.Length) { // an end: nothing need be there
		least = append(least, 0)
	}
	low, high := slices.Min(least), slices.Max(most)
	loose.least, loose.most = [2]work.Len{low, low}, [2]work.Len{high, high}
	var list []segment
	add := func(x segment, part work.Span) {
		if part = x.Meet(part); part.Length() <= 0 {
			return
		}
		y := x
		y.Span = part
		y.least = [2]work.Len{x.at(x.least, part.From), x.at(x.least, part.To)}
		y.most = [2]work.Len{x.at(x.most, part.From), x.at(x.most, part.To)}
		list = append(list, y)
	}
	const everywhere = work.Len(1) << 60
	for _, x := range j.segments {
		add(x, work.Span{From: -everywhere, To: s.From})
	}
	list = append(list, loose)
	for _, x := range j.segments {
		add(x, work.Span{From: s.To, To: everywhere})
	}
	j.segments = list
}

// width returns the width of the closest limits of what an operation makes on
// the outside: of the features it makes, else of what lies under its cut. It is
// the general rough one where there is none.
func (k *checker) width() float64 {
	least, ok := 0.0, false
	take := func(w float64) {
		if !ok || w < least {
			least, ok = w, true
		}
	}
	for _, id := range k.Op.Makes {
		if w, known := k.widths[id]; known {
			take(w)
		}
	}
	if cut, found := k.cutAlong(); found && !ok {
		for _, s := range k.Shape.Stretches {
			if (work.Span{From: op.LenOf(s.From), To: op.LenOf(s.To)}).Overlaps(cut) {
				take(k.widths[s.ID()])
			}
		}
	}
	if !ok {
		return k.springRough / k.springFinish
	}
	if k.Op.Rough { // a file takes off after it what the spring leaves, up to what was left for it
		return max(least, k.leavePolish/k.springFinish)
	}
	return least
}
