package fouling_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers/fouling"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// shed returns an input with every instrument of a small lathe.
func shed(head, tail, l, from string) fouling.Input {
	in := fouling.Input{
		Head: units.MustLength(head), Tail: units.MustLength(tail), Length: units.MustLength(l),
		Place: fouling.Place{FromJaws: length(from), Lathe: shop.Lathe{
			Chuck: &shop.Chuck{Diameter: units.MustLength("100mm"), JawLength: length("28mm"), JawCircle: length("110mm")},
			Compound: &shop.Compound{
				Width: length("60mm"), Length: length("130mm"), TopBelowCentre: length("20mm"),
				Handle: &shop.Handle{Beyond: units.MustLength("25mm"), Radius: units.MustLength("35mm")},
			},
			ToolPost: &shop.ToolPost{
				Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
			},
			Tools: []shop.Tool{{Hand: "right", Trail: units.MustAngle("8")}, {Hand: "left", Trail: units.MustAngle("8")}},
			Tailstock: &shop.Tailstock{
				Barrel: length("30mm"), BarrelOut: length("40mm"), BodyWidth: length("70mm"), BodyBelow: length("60mm"),
			},
		}},
	}
	in.HalfAngle = units.Radians(math.Atan2(math.Abs(in.Head.MM()-in.Tail.MM()), 2*in.Length.MM()))
	return in
}

func check(t *testing.T, in fouling.Input) fouling.Finding {
	t.Helper()
	c, err := fouling.Check(in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// With the holder and the post alone the least distance is read off the
// drawing: the tip stops cos a short of 10 mm from the jaws.
func TestByPencil(t *testing.T) {
	in := shed("30mm", "20mm", "60mm", "10mm")
	in.Lathe.Compound = nil
	c := check(t, in)
	want := 10 - math.Cos(math.Atan(5.0/60))
	if math.Abs(c.Clearance.MM()-want) > 1e-6 || c.Tight || len(c.Fouls) != 0 {
		t.Errorf("%v, by pencil %v; fouls %v", c.Clearance.Decimal(), want, c.Fouls)
	}
	// Under 3 mm is tight: 0.9966 mm are overrun.
	for from, tight := range map[string]bool{"3.99mm": true, "4mm": false} {
		near := in
		near.FromJaws = length(from)
		if c := check(t, near); c.Tight != tight {
			t.Errorf("%s from the jaws, %v clear: tight %v", from, say.Of(c.Clearance), c.Tight)
		}
	}
	// A left-hand tool's holder reaches 16 mm to the left of the tip.
	in.ToolHand = fouling.Left
	c = check(t, in)
	if math.Abs(c.Clearance.MM()-(want-16)) > 1e-6 || !c.Tight {
		t.Errorf("left-hand: %v, by pencil %v", c.Clearance.Decimal(), want-16)
	}
	if got := c.Fails().Error(); got != "from-jaws: the holder runs into the jaws by 7 mm" {
		t.Error(got)
	}
}

// degrees is an angle's, and 0 where there is none.
func degrees(a *units.Angle) float64 {
	if a == nil {
		return 0
	}
	return a.Deg()
}

// A trailing edge is short of the half angle and 2 deg, on the side it trails,
// and a post turned with the slide turns it away.
func TestTrailingEdge(t *testing.T) {
	for _, tc := range []struct {
		head, tail string
		hand       fouling.Hand
		turn       fouling.Turn
		short      float64
	}{ // 20 mm over 50: atan(0.2) = 11.3099 deg
		{"20mm", "40mm", fouling.Right, fouling.Square, 5.3099},
		{"20mm", "40mm", fouling.Right, fouling.WithSlide, 0},
		{"20mm", "40mm", fouling.Left, fouling.Square, 0},
		{"40mm", "20mm", fouling.Right, fouling.Square, 0},
		{"40mm", "20mm", fouling.Left, fouling.Square, 5.3099},
		{"40mm", "20mm", fouling.Left, fouling.WithSlide, 0},
	} {
		in := shed(tc.head, tc.tail, "50mm", "200mm")
		in.ToolHand, in.PostTurn = tc.hand, tc.turn
		c := check(t, in)
		short := 0.0
		for _, f := range c.Fouls {
			short += degrees(f.Deg)
		}
		if math.Abs(short-tc.short) > 1e-4 {
			t.Errorf("%v: %v deg short, want %v", tc, short, tc.short)
		}
	}
	tools := []shop.Tool{{Hand: "right", Trail: units.MustAngle("8")}}
	for _, tc := range []struct {
		half string
		want float64
	}{{"6", 0}, {"6.5", 0.5}} { // exactly 2 deg over clears
		way := fouling.Arrangement{ToolHand: fouling.Right, PostTurn: fouling.Square}
		if got := degrees(way.Short(tools, units.MustAngle(tc.half), true)); math.Abs(got-tc.want) > 1e-9 {
			t.Errorf("half angle %s: %v short", tc.half, got)
		}
	}
	// Turned with the slide the 2 deg alone are needed, and the tool with the most
	// trail counts, whichever stands first.
	for trails, want := range map[[2]string]float64{{"1", "0.5"}: 1, {"0.5", "1.25"}: 0.75, {"2", "1"}: 0} {
		tools := []shop.Tool{
			{Hand: "left", Trail: units.MustAngle(trails[0])},
			{Hand: "left", Trail: units.MustAngle(trails[1])},
			{Hand: "right", Trail: units.MustAngle("30")},
		}
		way := fouling.Arrangement{ToolHand: fouling.Left, PostTurn: fouling.WithSlide}
		if got := degrees(way.Short(tools, units.MustAngle("20"), false)); math.Abs(got-want) > 1e-9 {
			t.Errorf("trails of %v: %v short, want %v", trails, got, want)
		}
	}
}

// The slide is turned round above 45 deg, where the taper shrinks toward the
// tailstock.
func TestReverses(t *testing.T) {
	for _, tc := range []struct {
		half        string
		grows, want bool
	}{{"45", false, false}, {"45.001", false, true}, {"45.001", true, false}, {"5", false, false}} {
		if got := (fouling.Arrangement{}).Reverses(units.MustAngle(tc.half), tc.grows); got != tc.want {
			t.Errorf("%v: turned round %v", tc, got)
		}
	}
}

// A tailstock's body that ends above the slide's top is in nobody's way there.
func TestBodyBelow(t *testing.T) {
	for below, want := range map[string]bool{"19.9mm": false, "20mm": true} {
		in := shed("20mm", "30mm", "60mm", "10mm")
		in.CentreAt, in.Lathe.Tailstock.BodyWidth = length("75mm"), length("100mm")
		in.Lathe.Tailstock.BodyBelow = length(below)
		hit := false
		for _, f := range check(t, in).Fouls {
			hit = hit || f.Body == "slide" && f.Obstacle == "tailstock"
		}
		if hit != want {
			t.Errorf("body reaching %s below the axis: the slide runs into it: %v", below, hit)
		}
	}
}

type pt struct{ z, y float64 }

// rect is the plan's rectangles written as corners.
type rect []pt

func box(z1, z2, y1, y2 float64) rect { return rect{{z1, y1}, {z2, y1}, {z2, y2}, {z1, y2}} }

func (r rect) moved(by pt) rect {
	out := make(rect, len(r))
	for i, p := range r {
		out[i] = pt{p.z + by.z, p.y + by.y}
	}
	return out
}

// spun returns r turned about the origin, from z toward y.
func (r rect) spun(deg float64) rect {
	s, c := math.Sincos(deg * math.Pi / 180)
	out := make(rect, len(r))
	for i, p := range r {
		out[i] = pt{p.z*c - p.y*s, p.z*s + p.y*c}
	}
	return out
}

// apart is the distance of two rectangles, by the shadows across their edges
// where they overlap and by corners and edges where they do not.
func apart(a, b rect) float64 {
	deepest := math.Inf(-1)
	for _, r := range []rect{a, b} {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			nz, ny := q.y-p.y, p.z-q.z
			l := math.Hypot(nz, ny)
			al, ah, bl, bh := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			for _, p := range a {
				s := (p.z*nz + p.y*ny) / l
				al, ah = min(al, s), max(ah, s)
			}
			for _, p := range b {
				s := (p.z*nz + p.y*ny) / l
				bl, bh = min(bl, s), max(bh, s)
			}
			deepest = max(deepest, bl-ah, al-bh)
		}
	}
	if deepest <= 0 {
		return deepest
	}
	nearest := math.Inf(1)
	for range 2 {
		for _, p := range a {
			nearest = min(nearest, p.to(b))
		}
		a, b = b, a
	}
	return nearest
}

// to is the distance from p to the outline of r.
func (p pt) to(r rect) float64 {
	d := math.Inf(1)
	for i, q := range r {
		e := r[(i+1)%len(r)]
		ez, ey := e.z-q.z, e.y-q.y
		f := min(max(((p.z-q.z)*ez+(p.y-q.y)*ey)/(ez*ez+ey*ey), 0), 1)
		d = min(d, math.Hypot(p.z-q.z-f*ez, p.y-q.y-f*ey))
	}
	return d
}

// signed is the distance of p from a convex shape, negative inside.
func (p pt) signed(r rect) float64 {
	inside := true
	for i, a := range r {
		b := r[(i+1)%len(r)]
		inside = inside && (b.z-a.z)*(p.y-a.y)-(b.y-a.y)*(p.z-a.z) > 0
	}
	if inside {
		return -p.to(r)
	}
	return p.to(r)
}

// rounds is the work as it stands, cut at the height h under the axis and moved
// out by more: of a cone 40 points of either side, which all lie on its outline.
func rounds(p fouling.Profile, h, more float64) (list []rect) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		var back, front rect
		const n = 40
		for k := range n + 1 {
			f := float64(k) / n
			z, r := a.Z+f*(b.Z-a.Z), (a.Dia+f*(b.Dia-a.Dia))/2
			if a.Z == b.Z || r < h || (h == 0 || a.Dia == b.Dia) && k%n != 0 {
				continue
			}
			w := math.Sqrt(r*r - h*h)
			back, front = append(back, pt{z + more, -w}), append(front, pt{z + more, w})
		}
		slices.Reverse(front)
		if len(back) > 1 {
			list = append(list, slices.Concat(back, front))
		}
	}
	return list
}

// beside is the least distance of the holder from what rises beside the taper,
// over 100 places of the tip and a tenth of a mm along the outline: a place on
// it counts where it stands above the line from the tip. -1 is a place above the
// line that the holder would be in.
func beside(in fouling.Input, a fouling.Arrangement, more float64) float64 {
	const post, width, over = 65.0, 16.0, 25.0
	s := in.HalfAngle.Rad()
	if in.Tail.Less(in.Head) {
		s = -s
	}
	turn := 0.0
	if a.PostTurn == fouling.WithSlide {
		turn = s
	}
	trail := 0.0
	for _, t := range in.Lathe.Tools {
		if t.Hand == string(a.ToolHand) {
			trail = max(trail, t.Trail.Rad())
		}
	}
	trail -= 2 * math.Pi / 180
	back := over + post
	if a.PostSide == fouling.Front {
		back = over
	}
	head, l := in.FromJaws.MM()+more, in.Length.MM()
	nearest := math.Inf(1)
	look := func(tip, c pt) {
		side, lean := c.z-tip.z, turn // along the work, positive where the tool trails
		trails := c.z >= head+l
		if a.ToolHand == fouling.Left {
			side, lean, trails = -side, -lean, !trails
		}
		// In the holder's own frame: u from the tip across it, v along it.
		u := side*math.Cos(lean) + (c.y-tip.y)*math.Sin(lean)
		v := -side*math.Sin(lean) + (c.y-tip.y)*math.Cos(lean)
		switch {
		case v <= u*math.Tan(trail)+1e-5 || !trails && u <= 1e-5:
			return // under the line, or before the edge
		case trails && trail+lean >= math.Pi/2:
			return // the holder is turned to the other side
		case u > 1e-5 && u < width-1e-5 && v < back-1e-5:
			nearest = -1
		}
		if nearest >= 0 {
			low := min(width*math.Tan(trail), back)
			nearest = min(nearest, math.Hypot(max(u-width, 0), max(v-back, low-v, 0)))
		}
	}
	for i := range 101 {
		f := float64(i) / 100
		tip := pt{head + f*l, (in.Head.MM() + f*(in.Tail.MM()-in.Head.MM())) / 2}
		for k := 1; k < len(in.Work); k++ {
			p, q := in.Work[k-1], in.Work[k]
			n := int(10*max(q.Z-p.Z, math.Abs(q.Dia-p.Dia)/2)) + 1
			for j := range n + 1 {
				g := float64(j) / float64(n)
				c := pt{p.Z + g*(q.Z-p.Z) + more, (p.Dia + g*(q.Dia-p.Dia)) / 2}
				if (p.Z+more < head && c.z <= head || q.Z+more > head+l && c.z >= head+l || p.Z == q.Z) &&
					(c.z <= head || c.z >= head+l) {
					look(tip, c)
				}
			}
		}
	}
	return nearest
}

// sampled is the clearance as CLEARANCE's text has it, by trying places of the
// tip one after the other.
func sampled(in fouling.Input, a fouling.Arrangement, more float64, steps int) float64 {
	const post, width, slideW, slideL, top = 65.0, 16.0, 60.0, 130.0, 20.0
	over, barrel := 25.0, 40.0
	if a.Overhang != nil {
		over = a.Overhang.MM()
	}
	if a.BarrelOut != nil {
		barrel = a.BarrelOut.MM()
	}
	half := in.HalfAngle.Deg()
	s := half
	if in.Tail.Less(in.Head) {
		s = -half
	}
	z1, z2 := 0.0, width
	switch a.ToolHand {
	case fouling.Left:
		z1, z2 = -width, 0
	case fouling.Neutral:
		z1, z2 = -width/2, width/2
	}
	holder := box(z1, z2, 0, over+post)
	pz := z2
	switch a.PostSide {
	case fouling.TailstockSide:
		pz = z1 - post
	case fouling.Front:
		pz = (z1+z2)/2 - post/2
		holder = box(z1, z2, 0, over)
	}
	square := box(pz, pz+post, over, over+post)
	p := rect{{pz + post/2, over + post/2}}
	if a.PostTurn == fouling.WithSlide {
		holder, square, p = holder.spun(s), square.spun(s), p.spun(s)
	} else if a.PostTurned != nil {
		by := a.PostTurned.Deg()
		holder, square, p = holder.spun(by), square.spun(by), p.spun(by)
	}
	turn := s
	if a.Handle == fouling.Reversed {
		turn += 180
	}
	slide := box(-slideW/2, slideL-slideW/2, -slideW/2, slideW/2).spun(turn).moved(p[0])
	handle := rect{{slideL - slideW/2 + 25, 0}}.spun(turn).moved(p[0])[0]
	chord := func(r, h float64) float64 { return math.Sqrt(r*r - h*h) }
	far := 500.0
	at0 := []rect{box(-28, 0, -55, 55), box(-28-far, -28, -50, 50)}
	atTop := []rect{box(-28, 0, -chord(55, top), chord(55, top)), box(-28-far, -28, -chord(50, top), chord(50, top))}
	if in.CentreAt != nil {
		c := in.CentreAt.MM() + more
		at0 = append(at0, box(c, c+barrel, -15, 15), box(c+barrel, c+barrel+far, -35, 35))
		atTop = append(atTop, box(c+barrel, c+barrel+far, -35, 35)) // the barrel is above the slide's top
	}
	work := in.Work
	if work == nil { // the taper, which goes on to the jaws and to the centre as thick as it is there
		from := in.FromJaws.MM()
		work = profile(-more, in.Head.MM(), from, in.Head.MM(), from+in.Length.MM(), in.Tail.MM())
		if in.CentreAt != nil {
			work = append(work, fouling.Corner{Z: in.CentreAt.MM(), Dia: in.Tail.MM()})
		}
	}
	flat := rounds(work, 0, more)
	atTop = append(atTop, rounds(work, top, more)...)
	l := in.Length.MM()
	rise := (in.Tail.MM() - in.Head.MM()) / 2
	long := math.Hypot(l, rise)
	nearest := math.Inf(1)
	for i := range steps + 1 {
		f := (-1 + float64(i)/float64(steps)*(long+2)) / long
		tip := pt{in.FromJaws.MM() + more + f*l, in.Head.MM()/2 + f*rise}
		for _, body := range []rect{holder, square} {
			for _, o := range at0 {
				nearest = min(nearest, apart(body.moved(tip), o))
			}
		}
		for _, w := range flat {
			nearest = min(nearest, apart(square.moved(tip), w))
		}
		for _, o := range atTop {
			nearest = min(nearest, apart(slide.moved(tip), o), pt{handle.z + tip.z, handle.y + tip.y}.signed(o)-35)
		}
	}
	return nearest
}

// Least distances against 10,000 places of the tip, exact to 0.01 mm. Every
// alternative has the clearance it says, by 400 places, and what is told to be
// moved is the least that does, by trying.
func TestAgainstSampling(t *testing.T) {
	cases := []fouling.Input{
		shed("30mm", "20mm", "60mm", "10mm"), shed("20mm", "30mm", "60mm", "40mm"),
		shed("2in", "0.1in", "1in", "5mm"), shed("5mm", "60mm", "20mm", "30mm"),
	}
	cases[1].CentreAt = length("110mm")
	for _, in := range cases {
		c := check(t, in)
		if got, want := c.Clearance.MM(), sampled(in, c.Arrangement, 0, 10000); math.Abs(got-want) > 0.01 {
			t.Errorf("%v: %v, sampled %v", c.Arrangement, got, want)
		}
		step := (in.Length.MM()/in.HalfAngle.Cos() + 2) / 400
		for _, a := range c.Alternatives {
			if a.PostTurned != nil || a.Overhang != nil || a.BarrelOut != nil || a.CentreAt != nil || a.FromJaws != nil {
				continue
			}
			more := 0.0
			if a.Moved {
				more = a.MoreFromJaws.MM()
			}
			want := sampled(in, a.Arrangement, more, 400)
			if got := a.Clearance.MM(); got > want+1e-6 || got < want-step || got < 0 {
				t.Errorf("%v: %v, sampled %v", a.Say, got, want)
			}
			if !a.Moved {
				continue
			}
			for try := 0.0; try < more-step; try += more / 8 {
				if g := sampled(in, a.Arrangement, try, 100); g > 3+4*step {
					t.Errorf("%v: %v further out has %v already, told %v", a.Arrangement, try, g, more)
				}
			}
		}
	}
}

// The order of the alternatives: the least trouble first, and none is short.
func TestOrder(t *testing.T) {
	trouble := []fouling.Change{
		fouling.NoChange, fouling.TurnPost, fouling.MoveTool, fouling.MoveWork, fouling.MoveBarrel,
		fouling.OtherTool, fouling.LongerBar, fouling.GrindTool, fouling.TurnSlide, fouling.TurnWork,
	}
	for _, in := range []fouling.Input{
		shed("10mm", "61mm", "12mm", "0mm"), shed("61mm", "10mm", "12mm", "0mm"), shed("40mm", "61mm", "70mm", "25mm"),
		shed("80mm", "40mm", "70mm", "25mm"), shed("0.5in", "3in", "1in", "2in"), shed("3in", "2.9in", "3in", "60mm"),
	} {
		c := check(t, in)
		last, before := 0, 0
		for _, a := range c.Alternatives {
			class := slices.Index(trouble, a.Change)
			if a.Moved {
				class = max(class, slices.Index(trouble, fouling.MoveWork))
			}
			if a.PostTurned != nil && a.Overhang != nil { // as much as another tool
				class = max(class, slices.Index(trouble, fouling.OtherTool))
			}
			things := 0
			for _, otherwise := range []bool{
				a.ToolHand != c.Arrangement.ToolHand, a.PostSide != c.Arrangement.PostSide,
				a.PostTurn != c.Arrangement.PostTurn, a.Handle != c.Arrangement.Handle,
				a.Moved, a.CentreAt != nil, a.BarrelOut != nil, a.Overhang != nil, a.PostTurned != nil,
			} {
				if otherwise {
					things++
				}
			}
			// What is tight comes after what clears by 3 mm, but with one thing done otherwise
			// before what asks for three.
			group := 0
			switch tight := a.Clearance.MM() < 3 && a.Change != fouling.NoChange; {
			case tight && things > 1:
				group = 3
			case tight:
				group = 1
			case things > 2:
				group = 2
			}
			if group < before {
				t.Errorf("%v clears by %v and stands after what is more trouble", a.Say, say.Of(a.Clearance))
			} else if group > before {
				last, before = 0, group
			}
			if class < last {
				t.Errorf("%v stands after what is more trouble", a.Say)
			}
			last = class
			if a.Clearance.Sign() < 0 || a.Moved && group < 3 && a.Clearance.MM() < 3 {
				t.Errorf("%v: %v is short", a.Say, say.Of(a.Clearance))
			}
			if a.Clearance.MM() >= 3 && !a.Moved && a.MoreFromJaws.Sign() != 0 {
				t.Errorf("%v has 3 mm and is to be moved", a.Say)
			}
			if !a.Stays() {
				continue
			}
			again := in
			again.Arrangement = a.Arrangement
			if r := check(t, again); len(r.Fouls) > 0 || !r.Clearance.Equal(*a.Clearance) {
				t.Errorf("%v: asked again %v", a.Say, r.Fouls)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		change func(*fouling.Input)
		want   string
	}{
		{func(in *fouling.Input) { in.FromJaws = nil }, "from-jaws: where the taper stands is not known"},
		{func(in *fouling.Input) { in.FromJaws = length("-1mm") }, "from-jaws: -1 mm: cannot be negative"},
		{
			func(in *fouling.Input) { in.CentreAt = length("69mm") },
			"centre-at: 69 mm: stands in the taper, which ends 70 mm from the jaws",
		},
		{
			func(in *fouling.Input) { in.FromJaws, in.CentreAt = nil, length("90mm") },
			"from-jaws: centre-at is measured from the jaws: say where the taper is too",
		},
		{
			func(in *fouling.Input) { in.ToolHand, in.PostSide = "lefft", "back" },
			"tool-hand: lefft: write right or left\n  did you mean left?\npost-side: back: write headstock, tailstock or front",
		},
		{
			func(in *fouling.Input) { in.PostTurn, in.Handle = "round", "reverse" },
			"post-turn: round: write square or with-slide\nhandle: reverse: write normal or reversed\n  did you mean reversed?",
		},
	} {
		in := shed("30mm", "20mm", "60mm", "10mm")
		tc.change(&in)
		if _, err := fouling.Check(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// What is not owned is not borrowed: it is said.
func TestNotChecked(t *testing.T) {
	in := shed("30mm", "20mm", "60mm", "10mm")
	in.Lathe.Chuck, in.Lathe.Tools, in.Lathe.Compound = nil, nil, nil
	c := check(t, in)
	got := ""
	for _, w := range c.Warnings {
		got += w.Text.String() + "\n"
	}
	want := "whether anything meets the chuck was not checked (lathe: chuck)\n" +
		"whether the slide meets anything was not checked (lathe: compound: width, length and top_below_centre)\n" +
		"whether the tool's trailing edge clears the work was not checked (lathe: tools)\n"
	if got != want {
		t.Errorf("%v\n%s", say.Of(c.Clearance), got)
	}
	in.Lathe.ToolPost = nil
	if c := check(t, in); c.Clearance != nil {
		t.Error("a clearance of nothing:", say.Of(c.Clearance))
	}
	// Where no tool is known, only the hand that is assumed is looked at.
	in = shed("30mm", "20mm", "60mm", "10mm")
	in.Lathe.Tools, in.ToolHand = nil, fouling.Left
	c = check(t, in)
	other := func(a fouling.Alternative) bool { return a.ToolHand != fouling.Left }
	if len(c.Alternatives) == 0 || slices.ContainsFunc(c.Alternatives, other) {
		t.Error(c.Alternatives)
	}
	in = shed("30mm", "20mm", "60mm", "10mm")
	in.Lathe.Tools, in.ToolHand = in.Lathe.Tools[:1], fouling.Left
	if c := check(t, in); c.Warnings[0].Text != "no left-hand tool in this shop: its trailing edge was not checked "+
		"(lathe: tools)" {
		t.Error(c.Warnings)
	}
}

// A right-hand tool on a taper that ends 10 mm from the jaws: the holder is
// the nearest, by the 10 mm less what the tip overruns along the slope.
func ExampleCheck() {
	from, jaw, circle := units.MustLength("10mm"), units.MustLength("28mm"), units.MustLength("110mm")
	c, err := fouling.Check(fouling.Input{
		Head: units.MustLength("30mm"), Tail: units.MustLength("20mm"), Length: units.MustLength("60mm"),
		HalfAngle: units.MustAngle("4d45m49s"),
		Place: fouling.Place{FromJaws: &from, Lathe: shop.Lathe{
			Chuck: &shop.Chuck{Diameter: units.MustLength("100mm"), JawLength: &jaw, JawCircle: &circle},
			ToolPost: &shop.ToolPost{
				Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
			},
		}},
	})
	if err != nil {
		panic(err)
	}
	fmt.Println(say.Of(c.Clearance.Down(), ": ", c.Arrangement, " ", c.Arrangement.Hung()))
	// Output: 9.003 mm: right-hand tool on the post's headstock side, post square to the work, handle normal
}

// Names on the drawing stand clear of every line and of each other.
func TestNames(t *testing.T) {
	for _, centre := range []string{"", "58mm", "120mm"} {
		in := shed("60mm", "10mm", "40mm", "12mm")
		if centre != "" {
			in.CentreAt = length(centre)
		}
		d := check(t, in).Drawing()
		type frame struct{ left, right, top, foot float64 }
		var names []frame
		for _, s := range d.Shapes {
			if l, ok := s.(sheet.Label); ok { // a letter is some 0.65 of a capital's height wide
				half := 0.65 * l.Height * float64(len(l.Text)) / 2
				names = append(names, frame{l.At.X - half, l.At.X + half, l.At.Y - l.Height, l.At.Y})
			}
		}
		holds := func(f frame, x, y float64) bool { return f.left < x && x < f.right && f.top < y && y < f.foot }
		for i, f := range names {
			for _, g := range names[:i] {
				if f.left < g.right && g.left < f.right && f.top < g.foot && g.top < f.foot {
					t.Errorf("centre %q: two names overlap: %v, %v", centre, f, g)
				}
			}
			for _, s := range d.Shapes {
				switch s := s.(type) {
				case sheet.Path:
					n := len(s.Points)
					if !s.Closed {
						n--
					}
					for k := range n {
						a, b := s.Points[k], s.Points[(k+1)%len(s.Points)]
						for part := 0.0; part <= 1; part += 0.001 {
							if holds(f, a.X+part*(b.X-a.X), a.Y+part*(b.Y-a.Y)) {
								t.Errorf("centre %q: a line runs through the name %v", centre, f)
								break
							}
						}
					}
				case sheet.Circle:
					for w := 0.0; w < 2*math.Pi; w += 0.001 {
						if holds(f, s.C.X+s.R*math.Cos(w), s.C.Y+s.R*math.Sin(w)) {
							t.Errorf("centre %q: the circle runs through the name %v", centre, f)
							break
						}
					}
				}
			}
		}
	}
}

// The drawing holds every outline within its frame, the tip where the bodies
// come nearest.
func TestDrawing(t *testing.T) {
	in := shed("30mm", "20mm", "60mm", "10mm")
	in.CentreAt = length("90mm")
	d := check(t, in).Drawing()
	labels := map[string]int{}
	inside := func(p sheet.Point, r float64) {
		if p.X-r < -1e-9 || p.Y-r < -1e-9 || p.X+r > d.W+1e-9 || p.Y+r > d.H+1e-9 {
			t.Errorf("%v stands outside %v by %v", p, d.W, d.H)
		}
	}
	for _, s := range d.Shapes {
		switch s := s.(type) {
		case sheet.Path:
			for _, p := range s.Points {
				inside(p, 0)
			}
		case sheet.Circle:
			inside(s.C, s.R)
		case sheet.Label:
			labels[s.Text]++
		}
	}
	for _, name := range []string{"holder", "post", "slide", "handle", "jaws", "chuck", "barrel", "tailstock", "taper"} {
		if labels[name] != 1 {
			t.Errorf("%s is named %d times", name, labels[name])
		}
	}
}
