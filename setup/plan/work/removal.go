package work

import (
	"encoding/json"
	"math"
	"slices"

	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// Removal is what an operation takes off the work.
type Removal interface {
	// Span returns where along z the work is cut, a point for a centre hole.
	Span(w State) Span
	from(w State) State
}

// Point is a point of an outline: z and the diameter there.
type Point struct{ Z, Dia Len }

// MarshalJSON writes [z, dia].
func (p Point) MarshalJSON() ([]byte, error) { return json.Marshal([2]Len{p.Z, p.Dia}) }

// Outside is the outside cut down: over its profile, which runs from left to
// right, two points at one z being a step, the work is now at most that. On a
// polygon the profile is the diameter through the corners. Stage is how far that
// brings it.
type Outside struct {
	Profile []Point `json:"profile"`
	Stage   Stage   `json:"-"`
}

// Span implements Removal.
func (o Outside) Span(State) Span {
	if len(o.Profile) == 0 {
		return Span{}
	}
	return Span{o.Profile[0].Z, o.Profile[len(o.Profile)-1].Z}
}

func (o Outside) from(w State) State {
	for i := 1; i < len(o.Profile); i++ {
		w = w.lowered(o.Profile[i-1], o.Profile[i], o.Stage)
	}
	return w
}

// Turned is an outside turned to one diameter.
func Turned(s Span, dia Len, stage Stage) Outside {
	return Outside{[]Point{{s.From, dia}, {s.To, dia}}, stage}
}

// EndCut is an end cut away: everything beyond z. A sawn end is not faced. Its
// centre hole goes with it, and what was made beyond z.
type EndCut struct {
	End  part.End `json:"end"`
	Z    Len      `json:"z_mm"`
	Sawn bool     `json:"-"`
}

// Span implements Removal.
func (e EndCut) Span(w State) Span {
	if e.End == part.Right {
		return Span{e.Z, max(e.Z, w.Span().To)}
	}
	return Span{min(e.Z, w.Span().From), e.Z}
}

func (e EndCut) from(w State) State {
	z, all := w.Reach(e.End), w.Span()
	left := Span{all.From, min(e.Z, all.To)}
	if e.End == part.Left {
		left = Span{max(e.Z, all.From), all.To}
	}
	end := w.EndAt(e.End)
	switch {
	case left == all && e.Z != z:
		return w // there is nothing so far out
	case left == all:
		end.Faced = end.Faced || !e.Sawn
		w.setEnd(e.End, end)
		return w
	}
	w.setEnd(e.End, End{Faced: !e.Sawn})
	w.Outside = w.Over(left)
	w.Cross = staying(w, left, w.Cross)
	w.Slots = staying(w, left, w.Slots)
	w.Flats = staying(w, left, w.Flats)
	w.Threads = staying(w, left, w.Threads)
	return w
}

// staying returns what of a list still is in the work within a span.
func staying[R Removal](w State, s Span, list []R) []R {
	gone := func(r R) bool { return !r.Span(w).Overlaps(s) }
	if !slices.ContainsFunc(list, gone) {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), gone)
}

// with returns a list with one more, which it may hold already.
func with[R Removal](list []R, r R, same func(R) bool) []R {
	if slices.ContainsFunc(list, same) {
		return list
	}
	return append(slices.Clip(list), r)
}

// alike reports whether two depths are the same, nil being through.
func alike(a, b *Len) bool { return a == b || a != nil && b != nil && *a == *b }

// Centre is a centre hole drilled in an end: a 60 deg cone of a diameter at the
// end's face, and a pilot hole below.
type Centre struct {
	End   part.End `json:"end"`
	Dia   Len      `json:"dia_mm"` // across its mouth
	Pilot Len      `json:"pilot_mm"`
}

// Span implements Removal. It is the end's place.
func (c Centre) Span(w State) Span { z := w.Reach(c.End); return Span{z, z} }

// from drills the hole, or chamfers the mouth of a bore that is wider than its
// pilot. In a wider centre hole, and in a bore as wide, there is nothing to cut.
func (c Centre) from(w State) State {
	end, bore := w.EndAt(c.End), w.Bore(w.Reach(c.End))
	switch {
	case bore >= c.Dia:
		return w
	case bore > c.Pilot:
		end.Rim = max(end.Rim, c.Dia)
	case end.Centre != nil:
		c.Dia, c.Pilot = max(c.Dia, end.Centre.Dia), max(c.Pilot, end.Centre.Pilot)
		end.Centre = &c
	default:
		end.Centre = &c
	}
	w.setEnd(c.End, end)
	return w
}

// The angles of a flat floor, and of the centres that work runs on.
const (
	flatFloor   Deg = 180e6
	centreAngle Deg = 60e6
)

// Bore is a hole on the bar's axis. Start and Depth are measured inward from
// the finished face of the end it is cut from; that of a through one is to the
// far face. EndDia is its diameter at its depth where it is tapered, 0 where it
// is not. Point is the angle of its floor, which lies below the depth: 180 deg is
// flat. What stands beyond the finished face is bored too.
type Bore struct {
	From    part.End `json:"from"`
	Start   Len      `json:"start_mm"`
	Dia     Len      `json:"dia_mm"`
	EndDia  Len      `json:"end_dia_mm,omitempty"`
	Depth   Len      `json:"depth_mm"`
	Point   Deg      `json:"point_deg"`
	Through bool     `json:"-"`
	Opens   bool     `json:"-"` // a mouth: nothing of it lies beyond its depth
}

// z turns a depth from the bore's face into a z.
func (b Bore) z(depth, length Len) Len {
	if b.From == part.Right {
		return length - depth
	}
	return depth
}

// Tip returns how deep the point of angle a reaches beyond the depth, 0 where the
// floor is flat or the bore through:
//
//	t = d/2 / tan(a/2)
//
// Source: elementary.
func (b Bore) Tip() Len {
	if b.Through || b.Point <= 0 || b.Point >= flatFloor {
		return 0
	}
	d := b.Dia
	if b.EndDia > 0 {
		d = b.EndDia
	}
	return Float(d.MM() / 2 / math.Tan(b.Point.Angle().Rad()/2))
}

// Cone returns the included angle of a bore that narrows from its start to its
// depth, to the nearest thousandth of a degree, 0 of any other:
//
//	a = 2·atan((D - d)/(2·l))
//
// Source: elementary.
func (b Bore) Cone() Deg {
	long := b.Depth - b.Start
	if b.EndDia <= 0 || b.EndDia >= b.Dia || long <= 0 {
		return 0
	}
	a := 2 * math.Atan2((b.Dia-b.EndDia).MM(), 2*long.MM()) * 180 / math.Pi
	return Deg(math.Round(a*1e3)) * 1e3
}

// lines returns the straight parts of the bore along z: to its depth, its point,
// and, where it starts at the face or goes through, on to the work's end.
func (b Bore) lines(w State) []Piece {
	end := b.EndDia
	if end == 0 {
		end = b.Dia
	}
	var list []Piece
	add := func(from, to, near, far Len) { // depths and diameters, from the bore's own end
		switch {
		case from >= to:
		case b.From == part.Right:
			list = append(list, Piece{Span: Span{w.Length - to, w.Length - from}, Left: far, Right: near})
		default:
			list = append(list, Piece{Span: Span{from, to}, Left: near, Right: far})
		}
	}
	face, back := b.z(w.Reach(part.Left), w.Length), b.z(w.Reach(part.Right), w.Length)
	if b.From == part.Right {
		face, back = back, face
	}
	if b.Start == 0 {
		add(face, 0, b.Dia, b.Dia)
	}
	add(b.Start, b.Depth, b.Dia, end)
	if tip := b.Tip(); tip > 0 {
		add(b.Depth, b.Depth+tip, end, 0)
	}
	if b.Through {
		add(b.Depth, back, end, end)
	}
	return list
}

// at returns its diameter at z in the work, 0 where it is not. At a step of it that
// is the larger one.
func (b Bore) at(z Len, w State) Len {
	d := Len(0)
	for _, p := range b.lines(w) {
		if p.From <= z && z <= p.To {
			d = max(d, p.at(z))
		}
	}
	return d
}

// Span implements Removal. A bore that is open at an end reaches to where that
// end stands now.
func (b Bore) Span(w State) Span {
	s := order(b.z(b.Start, w.Length), b.z(b.Depth+b.Tip(), w.Length))
	for _, p := range b.lines(w) {
		s = Span{min(s.From, p.From), max(s.To, p.To)}
	}
	return s
}

func order(a, b Len) Span { return Span{min(a, b), max(a, b)} }

// from bores the work. A centre hole whose pilot is narrower is one no more: its
// rim stays where that is wider than the bore.
func (b Bore) from(w State) State {
	w.Bores = with(w.Bores, b, func(c Bore) bool { return c == b })
	for _, e := range []part.End{part.Left, part.Right} {
		end, wide := w.EndAt(e), b.at(w.Reach(e), w)
		if end.Centre != nil && wide > end.Centre.Pilot {
			end.Rim, end.Centre = max(end.Rim, end.Centre.Dia), nil
		}
		if end.Rim <= wide {
			end.Rim = 0
		}
		w.setEnd(e, end)
	}
	return w
}

// Cross is a hole across the bar, square to its axis. Depth is of its full
// diameter from the finished surface, nil through.
type Cross struct {
	Z      Len  `json:"z_mm"`
	Roll   Deg  `json:"roll_deg"`
	Dia    Len  `json:"dia_mm"`
	Depth  *Len `json:"depth_mm"`
	Offset Len  `json:"offset_mm"`
}

// Span implements Removal.
func (c Cross) Span(State) Span { return Span{c.Z - c.Dia/2, c.Z + c.Dia/2} }

func (c Cross) same(d Cross) bool {
	deep := alike(c.Depth, d.Depth)
	c.Depth, d.Depth = nil, nil
	return deep && c == d
}

func (c Cross) from(w State) State {
	w.Cross = with(w.Cross, c, c.same)
	return w
}

// Flats are flats cut around the bar: across flats at both ends, of an odd
// number of sides from a flat to the corner opposite. The roll is that of the
// first flat's normal. Two sides are a pair of flats: the round between stays.
type Flats struct {
	From       Len `json:"from_mm"`
	To         Len `json:"to_mm"`
	Sides      int `json:"sides"`
	FirstRoll  Deg `json:"first_roll_deg"`
	AcrossFrom Len `json:"across_from_mm"`
	AcrossTo   Len `json:"across_to_mm"`
}

// Span implements Removal.
func (f Flats) Span(State) Span { return Span{f.From, f.To} }

// Corners returns the diameter through the corners of a regular polygon of at
// least 3 sides from its size across flats, to the nearest millionth:
//
//	even sides  F/cos(180°/n)
//	odd sides   2·F/(1 + cos(180°/n)), F from a flat to the corner opposite
//
// Source: elementary.
func Corners(sides int, across Len) Len {
	c := math.Cos(math.Pi / float64(sides))
	if sides%2 == 1 {
		return Float(2 * across.MM() / (1 + c))
	}
	return Float(across.MM() / c)
}

// lines returns, over the flats' length, the diameter through their corners and
// that of the circle they touch: across even sides F, else 2·F - corners.
func (f Flats) lines() (corners, flats Piece) {
	flats = Piece{Span: Span{f.From, f.To}, Left: f.AcrossFrom, Right: f.AcrossTo}
	corners = flats
	if f.Sides > 2 {
		corners.Left, corners.Right = Corners(f.Sides, f.AcrossFrom), Corners(f.Sides, f.AcrossTo)
	}
	if f.Sides%2 == 1 {
		flats.Left, flats.Right = 2*flats.Left-corners.Left, 2*flats.Right-corners.Right
	}
	return corners, flats
}

func (f Flats) from(w State) State {
	w.Flats = with(w.Flats, f, func(g Flats) bool { return g == f })
	return w.flatted(f)
}

// Toward is the end of the lathe a thread is cut toward.
type Toward string

// The ends.
const (
	ToHeadstock Toward = "headstock"
	ToTailstock Toward = "tailstock"
)

// Thread is a thread cut over a span of full thread.
type Thread struct {
	From   Len    `json:"from_mm"`
	To     Len    `json:"to_mm"`
	RunOut Len    `json:"run_out_mm"`
	Spec   string `json:"spec"`
	Inside bool   `json:"inside"`
	Cut    Toward `json:"cut_toward"`
	Major  Len    `json:"-"`
}

// Span implements Removal.
func (t Thread) Span(State) Span { return Span{t.From, t.To} }

func (t Thread) from(w State) State {
	w.Threads = with(w.Threads, t, func(u Thread) bool { return u == t })
	if t.Inside {
		return w
	}
	return w.threaded(Span{t.From, t.To})
}

// Slot is a slot across the bar. Depth is from the finished surface, nil
// through.
type Slot struct {
	From  Len  `json:"from_mm"`
	To    Len  `json:"to_mm"`
	Roll  Deg  `json:"roll_deg"`
	Width Len  `json:"width_mm"`
	Depth *Len `json:"depth_mm"`
}

// Span implements Removal.
func (s Slot) Span(State) Span { return Span{s.From, s.To} }

func (s Slot) same(t Slot) bool {
	deep := alike(s.Depth, t.Depth)
	s.Depth, t.Depth = nil, nil
	return deep && s == t
}

func (s Slot) from(w State) State {
	w.Slots = with(w.Slots, s, s.same)
	return w
}

// Block is a block milled to its size, x y z. Face is the face that was milled flat for
// it.
type Block struct {
	Size [3]Len    `json:"size"`
	Face part.Face `json:"face,omitempty"`
}

// Span implements Removal.
func (b Block) Span(State) Span { return Span{0, b.Size[0]} }

func (b Block) from(w State) State {
	w.Box = &b
	if b.Face != part.NoFace {
		w.Faced = append(slices.Clone(w.Faced), b.Face)
	}
	return w
}

// Slope is a plane milled off a block's top or bottom.
type Slope struct {
	Face   part.Face `json:"face"`
	FromX  Len       `json:"from_x_mm"`
	ToX    Len       `json:"to_x_mm"`
	AlongX Deg       `json:"along_x_deg"`
	AlongY Deg       `json:"along_y_deg"`
}

// Span implements Removal.
func (s Slope) Span(State) Span { return Span{s.FromX, s.ToX} }

func (s Slope) from(w State) State { return w.milled(s) }

// BlockHole is a hole in a block from a face, and BlockSlot a slot: X and Y lie along
// the face's axes.
type BlockHole struct {
	Face  part.Face `json:"face"`
	X     Len       `json:"x_mm"`
	Y     Len       `json:"y_mm"`
	Dia   Len       `json:"dia_mm"`
	Depth *Len      `json:"depth_mm"`
}

// Span implements Removal.
func (h BlockHole) Span(State) Span { return Span{h.X - h.Dia/2, h.X + h.Dia/2} }

func (h BlockHole) from(w State) State { return w.milled(h) }

// BlockSlot is a slot in a block between two round ends, turned by Angle.
type BlockSlot struct {
	Face   part.Face `json:"face"`
	X      Len       `json:"x_mm"`
	Y      Len       `json:"y_mm"`
	Length Len       `json:"length_mm"`
	Width  Len       `json:"width_mm"`
	Angle  Deg       `json:"angle_deg"`
	Depth  *Len      `json:"depth_mm"`
}

// Span implements Removal.
func (s BlockSlot) Span(State) Span { return Span{s.X - s.Length/2, s.X + s.Length/2} }

func (s BlockSlot) from(w State) State { return w.milled(s) }

// Optional returns a depth that may be absent.
func Optional(l *units.Length) *Len {
	if l == nil {
		return nil
	}
	return new(LenOf(*l))
}

// shape is a removal with its name in front.
func shape(name string, r any) ([]byte, error) {
	text, err := json.Marshal(r)
	if err != nil {
		return nil, err
	}
	return append([]byte(`{"shape":"`+name+`",`), text[1:]...), nil // none is empty
}

// MarshalJSON writes a removal with the name of its shape in front.
func (o Outside) MarshalJSON() ([]byte, error) {
	type plain Outside
	return shape("outside", plain(o))
}

// MarshalJSON implements json.Marshaler.
func (e EndCut) MarshalJSON() ([]byte, error) {
	type plain EndCut
	return shape("end", plain(e))
}

// MarshalJSON implements json.Marshaler.
func (c Centre) MarshalJSON() ([]byte, error) {
	type plain Centre
	return shape("centre", plain(c))
}

// MarshalJSON implements json.Marshaler.
func (b Bore) MarshalJSON() ([]byte, error) {
	type plain Bore
	return shape("bore", plain(b))
}

// MarshalJSON implements json.Marshaler.
func (c Cross) MarshalJSON() ([]byte, error) {
	type plain Cross
	return shape("cross", plain(c))
}

// MarshalJSON implements json.Marshaler.
func (f Flats) MarshalJSON() ([]byte, error) {
	type plain Flats
	return shape("flats", plain(f))
}

// MarshalJSON implements json.Marshaler.
func (t Thread) MarshalJSON() ([]byte, error) {
	type plain Thread
	return shape("thread", plain(t))
}

// MarshalJSON implements json.Marshaler.
func (s Slot) MarshalJSON() ([]byte, error) {
	type plain Slot
	return shape("slot", plain(s))
}

// MarshalJSON implements json.Marshaler.
func (b Block) MarshalJSON() ([]byte, error) {
	type plain Block
	return shape("block", plain(b))
}

// MarshalJSON implements json.Marshaler.
func (s Slope) MarshalJSON() ([]byte, error) {
	type plain Slope
	return shape("slope", plain(s))
}

// MarshalJSON implements json.Marshaler.
func (h BlockHole) MarshalJSON() ([]byte, error) {
	type plain BlockHole
	return shape("block", plain(h))
}

// MarshalJSON implements json.Marshaler.
func (s BlockSlot) MarshalJSON() ([]byte, error) {
	type plain BlockSlot
	return shape("block", plain(s))
}
