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
	// Span returns where along z the work is cut.
	Span(w State) Span
	from(w State) State
}

// Point is a point of an outline: z and the diameter there.
type Point struct{ Z, Dia Len }

// MarshalJSON writes [z, dia].
func (p Point) MarshalJSON() ([]byte, error) { return json.Marshal([2]Len{p.Z, p.Dia}) }

// Outside is the outside cut down: over its profile the work is now at most
// that. Stage is how far that brings it.
type Outside struct {
	Profile []Point `json:"profile"`
	Stage   Stage   `json:"-"`
}

// Span implements Removal.
func (o Outside) Span(State) Span { return Span{o.Profile[0].Z, o.Profile[len(o.Profile)-1].Z} }

func (o Outside) from(w State) State { return w.lowered(o.Profile, o.Stage, 0) }

// Turned is an outside turned to one diameter.
func Turned(s Span, dia Len, stage Stage) Outside {
	return Outside{[]Point{{s.From, dia}, {s.To, dia}}, stage}
}

// EndCut is an end cut away: everything beyond z. A sawn end is not faced.
type EndCut struct {
	End  part.End `json:"end"`
	Z    Len      `json:"z_mm"`
	Sawn bool     `json:"-"`
}

// Span implements Removal.
func (e EndCut) Span(w State) Span {
	s := w.Span()
	if e.End == part.Right {
		return Span{e.Z, max(e.Z, s.To)}
	}
	return Span{min(e.Z, s.From), e.Z}
}

func (e EndCut) from(w State) State {
	left, all := Span{w.Span().From, e.Z}, w.Span()
	if e.End == part.Left {
		left = Span{e.Z, w.Span().To}
	}
	end := w.end(e.End)
	centre := end.Centre
	if left.Length() < all.Length() {
		centre = nil // it went with what was cut
	}
	w.setEnd(e.End, End{!e.Sawn, centre})
	w.Outside = w.Over(left)
	return w
}

func (w State) end(e part.End) End {
	if e == part.Right {
		return w.Right
	}
	return w.Left
}

// At returns how an end stands.
func (w State) EndAt(e part.End) End { return w.end(e) }

func (w *State) setEnd(e part.End, to End) {
	if e == part.Right {
		w.Right = to
	} else {
		w.Left = to
	}
}

// Centre is a centre hole drilled in an end.
type Centre struct {
	End   part.End `json:"end"`
	Dia   Len      `json:"dia_mm"` // across its mouth
	Pilot Len      `json:"pilot_mm"`
}

// Span implements Removal.
func (c Centre) Span(w State) Span { z := w.Reach(c.End); return Span{z, z} }

func (c Centre) from(w State) State {
	e := w.end(c.End)
	e.Centre = &c
	w.setEnd(c.End, e)
	return w
}

// Bore is a hole on the bar's axis. Start and Depth are measured inward from
// the finished face of the end it is cut from; that of a through one is to the
// far face. EndDia is its diameter at its depth where it is tapered, 0 where it
// is not. Point is the angle of its floor: 180 deg is flat.
type Bore struct {
	From    part.End `json:"from"`
	Start   Len      `json:"start_mm"`
	Dia     Len      `json:"dia_mm"`
	EndDia  Len      `json:"end_dia_mm,omitempty"`
	Depth   Len      `json:"depth_mm"`
	Point   Deg      `json:"point_deg"`
	Through bool     `json:"-"`
}

// z turns a depth from the bore's face into a z.
func (b Bore) z(depth, length Len) Len {
	if b.From == part.Right {
		return length - depth
	}
	return depth
}

// Tip returns how deep the point reaches beyond the depth.
func (b Bore) Tip() Len {
	if b.Through || b.Point <= 0 || b.Point >= 180e6 {
		return 0
	}
	d := b.Dia
	if b.EndDia > 0 {
		d = b.EndDia
	}
	return Float(d.MM() / 2 / math.Tan(b.Point.Angle().Rad()/2))
}

// spans returns the straight parts of the bore along z: to its depth, and its
// point. A bore that starts at the face is open to the bar's end.
func (b Bore) spans(length Len) []Span {
	list := []Span{order(b.z(b.Start, length), b.z(b.Depth, length))}
	if tip := b.Tip(); tip > 0 {
		list = append(list, order(b.z(b.Depth, length), b.z(b.Depth+tip, length)))
	}
	return list
}

func order(a, b Len) Span { return Span{min(a, b), max(a, b)} }

// at returns its diameter at z, 0 where it is not. Beyond the faces it begins at
// and runs out of it goes on.
func (b Bore) at(z, length Len) Len {
	depth := b.z(z, length) // the same sum turns it back
	end := b.EndDia
	if end == 0 {
		end = b.Dia
	}
	tip := b.Tip()
	switch {
	case depth < b.Start && b.Start > 0:
		return 0
	case depth <= b.Start:
		return b.Dia
	case depth <= b.Depth:
		return along(b.Start, b.Depth, b.Dia, end, depth)
	case b.Through:
		return end
	case depth < b.Depth+tip:
		return along(b.Depth, b.Depth+tip, end, 0, depth)
	}
	return 0
}

// Span implements Removal.
func (b Bore) Span(w State) Span {
	return order(b.z(b.Start, w.Length), b.z(b.Depth+b.Tip(), w.Length))
}

func (b Bore) from(w State) State {
	w.Bores = append(slices.Clone(w.Bores), b)
	for _, e := range []part.End{part.Left, part.Right} {
		opens := b.From == e && b.Start == 0 || b.Through
		if end := w.end(e); opens && end.Centre != nil && b.Dia > end.Centre.Pilot {
			end.Centre = nil
			w.setEnd(e, end)
		}
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

func (c Cross) from(w State) State {
	w.Cross = append(slices.Clone(w.Cross), c)
	return w
}

// Flats are flats cut around the bar: across flats at both ends, of an odd
// number of sides from a flat to the corner opposite. The roll is that of the
// first flat's normal. Two sides are a pair of flats.
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

// Corners returns the diameter through the corners of a regular polygon from
// its size across flats:
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

func (f Flats) from(w State) State {
	w.Flats = append(slices.Clone(w.Flats), f)
	if f.Sides > 2 {
		w = w.lowered([]Point{{f.From, Corners(f.Sides, f.AcrossFrom)}, {f.To, Corners(f.Sides, f.AcrossTo)}},
			Facetted, f.Sides)
	}
	return w.staged(Span{f.From, f.To}, Facetted, f.Sides)
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
	w.Threads = append(slices.Clone(w.Threads), t)
	if t.Inside {
		return w
	}
	return w.staged(Span{t.From, t.To}, Threaded, 0)
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

func (s Slot) from(w State) State {
	w.Slots = append(slices.Clone(w.Slots), s)
	return w
}

// Block is a block milled to its size, x y z.
type Block struct {
	Size [3]Len `json:"size"`
}

// Span implements Removal.
func (b Block) Span(State) Span { return Span{0, b.Size[0]} }

func (b Block) from(w State) State {
	w.Box = &b
	return w
}

// Slope is a plane milled off a block's top.
type Slope struct {
	FromX  Len `json:"from_x_mm"`
	ToX    Len `json:"to_x_mm"`
	AlongX Deg `json:"along_x_deg"`
	AlongY Deg `json:"along_y_deg"`
}

// Span implements Removal.
func (s Slope) Span(State) Span { return Span{s.FromX, s.ToX} }

func (s Slope) from(w State) State { return w }

// BlockHole is a hole in a block from its top, and BlockSlot a slot.
type BlockHole struct {
	X     Len  `json:"x_mm"`
	Y     Len  `json:"y_mm"`
	Dia   Len  `json:"dia_mm"`
	Depth *Len `json:"depth_mm"`
}

// Span implements Removal.
func (h BlockHole) Span(State) Span { return Span{h.X - h.Dia/2, h.X + h.Dia/2} }

func (h BlockHole) from(w State) State { return w }

// BlockSlot is a slot in a block between two round ends, turned by Angle.
type BlockSlot struct {
	X      Len  `json:"x_mm"`
	Y      Len  `json:"y_mm"`
	Length Len  `json:"length_mm"`
	Width  Len  `json:"width_mm"`
	Angle  Deg  `json:"angle_deg"`
	Depth  *Len `json:"depth_mm"`
}

// Span implements Removal.
func (s BlockSlot) Span(State) Span { return Span{s.X - s.Length/2, s.X + s.Length/2} }

func (s BlockSlot) from(w State) State { return w }

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
	head := `{"shape":"` + name + `"`
	if len(text) > 2 {
		head += ","
	}
	return append([]byte(head), text[1:]...), nil
}

// Removals are written with the name of their shape.
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
