package cut_test

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/threads"
	"setover/threads/cut"
)

func thread(text string) cut.Thread {
	t, err := cut.ParseThread(text)
	if err != nil {
		panic(err)
	}
	return t
}

func pitch(text string) *units.Pitch {
	p := units.MustPitch(text)
	return &p
}

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

func number[T any](n T) *T { return &n }

// What is read as a thread, and what is said of the rest.
func TestParseThread(t *testing.T) {
	for _, tc := range []struct{ text, name, lead string }{
		{"1.25mm", "1.25 mm", "1.25 mm"},
		{"20tpi", "20 tpi", "20 tpi"},
		{"M10", "M10", "1.5 mm"},
		{"8-32", "No8-32UNC", "32 tpi"},
		{"Tr40x14P7", "Tr40x14P7", "14 mm"},
		{"3/8BSF", "3/8BSF", "20 tpi"},
	} {
		got := thread(tc.text)
		if got.Designation != tc.name || got.Lead.String() != tc.lead {
			t.Errorf("%s: %s, lead %v", tc.text, got.Designation, got.Lead)
		}
	}
	if !thread("Tr20x4-LH").Left || thread("Tr20x4").Left {
		t.Error("the hand of a designation is lost")
	}
	for _, tc := range []struct{ text, want string }{
		{"20", "a pitch: 20: a pitch needs its unit: write 20mm or 20tpi; a thread is written such as M8x1 or 1/4-20"},
		{"1,25mm", "a pitch: 1,25mm: a comma is not read as a decimal point: write 1.25mm; a thread is written such as " +
			"M8x1 or 1/4-20"},
		{"0mm", "a pitch: 0mm: a pitch is above 0 and at most 100 mm; a thread is written such as M8x1 or 1/4-20"},
		{"101mm", "a pitch: 101mm: a pitch is above 0 and at most 100 mm; a thread is written such as M8x1 or 1/4-20"},
		{"M8x", "thread: M8x: a pitch must follow the x"},
		{"", "thread: not a thread's designation: write one such as M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, G1/4, 1/4NPT, " +
			"Tr12x3 or 1/2-10ACME"},
	} {
		if _, err := cut.ParseThread(tc.text); err == nil || err.Error() != tc.want {
			t.Errorf("%q\ngot  %v\nwant %s", tc.text, err, tc.want)
		}
	}
}

// A train's pitch is what its wheels and the leadscrew make of one turn, with
// the stud's ratio; checked by hand.
func TestGears(t *testing.T) {
	for _, tc := range []struct {
		name, thread, screw string
		wheels              []int
		stud                int64
		train               string
		pitch               string
		ppm                 float64
		idler               bool // for a right-hand thread
	}{
		// 1.5/3.175 = 60/127
		{"metric on an inch screw, exact with 127", "1.5mm", "8tpi", []int{40, 60, 127}, 1, "60/127", "1.5 mm", 0, true},
		// (60/80)(63/100)·3.175 = 1.5001875: 125 ppm, from 127 against 126.984
		{"with 63 instead", "1.5mm", "8tpi", []int{60, 63, 80, 100}, 1, "63/80 x 60/100", "1.5001875 mm", 125, false},
		// 1.27/3 = 127/300
		{"20 tpi on a 3 mm screw", "20tpi", "3mm", []int{20, 50, 120, 127}, 1, "127/50 x 20/120", "20 tpi", 0, false},
		// a stud at half the spindle's speed needs twice the ratio
		{"a slow stud", "1mm", "2mm", []int{40, 40}, 2, "40/40", "1 mm", 0, true},
		// two starts: the lead is cut
		{"two starts", "Tr20x8P4", "4mm", []int{20, 40}, 1, "40/20", "8 mm", 0, true},
	} {
		r, err := cut.Gears(cut.GearsInput{
			Thread: thread(tc.thread), Leadscrew: pitch(tc.screw), Wheels: tc.wheels,
			StudRatio: &tc.stud, Most: 4,
		})
		if err != nil {
			t.Fatal(tc.name, err)
		}
		best := r.Trains[0]
		if best.Text() != tc.train || best.Pitch.String() != tc.pitch || math.Abs(float64(best.PPM)-tc.ppm) > 1e-9 ||
			best.IdlerRight != tc.idler || best.IdlerLeft == tc.idler {
			t.Errorf("%s: %s, %v, %v ppm, idler %v", tc.name, best.Text(), best.Pitch, best.PPM, best.IdlerRight)
		}
		if math.Abs(float64(best.Per100)*1e4-float64(best.PPM)) > 1e-9 {
			t.Errorf("%s: %v mm in 100 mm for %v ppm", tc.name, best.Per100, best.PPM)
		}
	}
}

// A limit that is met leaves only what is within it; one that is not is a no,
// and the best stand all the same.
func TestGearsLimit(t *testing.T) {
	in := cut.GearsInput{Thread: thread("1.5mm"), Leadscrew: pitch("8tpi"), Wheels: []int{60, 63, 80, 100}, Most: 4}
	for _, tc := range []struct {
		limit  string
		trains int
		fails  string
	}{
		{"125", 1, ""},
		{"124.9", 12, "max-error: 124.9 ppm: no train of these wheels comes so near: the best is 63/80 x 60/100, +125 " +
			"ppm out"},
	} {
		in.MaxError = number(decimal.RequireFromString(tc.limit))
		r, err := cut.Gears(in)
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		if f := r.Fails(); len(f) > 0 {
			text = f.Error()
		}
		if text != tc.fails || tc.fails == "" && len(r.Trains) != tc.trains {
			t.Errorf("limit %s: %d trains, %q", tc.limit, len(r.Trains), text)
		}
	}
}

func TestGearsRefusals(t *testing.T) {
	ok := cut.GearsInput{Thread: thread("M8"), Leadscrew: pitch("3mm"), Wheels: []int{20, 40}, Most: 4}
	for _, tc := range []struct {
		change func(*cut.GearsInput)
		want   string
	}{
		{
			func(in *cut.GearsInput) { in.Leadscrew, in.Wheels = nil, nil },
			"leadscrew: the leadscrew's pitch is needed: write leadscrew, such as 3mm or 8tpi, or lathe: leadscrew in the " +
				"shop file\n" +
				"gears: the wheels are needed: write gears 20,25,..., or lathe: change_gears in the shop file",
		},
		{
			func(in *cut.GearsInput) { in.StudRatio = number(int64(0)) },
			"stud_ratio: 0: write 1 to 20 turns of the spindle to one of the stud",
		},
		{
			func(in *cut.GearsInput) { in.StudRatio = number(int64(21)) },
			"stud_ratio: 21: write 1 to 20 turns of the spindle to one of the stud",
		},
		{func(in *cut.GearsInput) { in.MaxError = number(decimal.New(-1, 0)) }, "max-error: -1: cannot be negative"},
		{func(in *cut.GearsInput) { in.Most = 5 }, "wheels: 5: a train here has 2, 4 or 6 wheels"},
	} {
		in := ok
		tc.change(&in)
		if _, err := cut.Gears(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// The chart of a metric lathe with the wheels for it: every metric pitch a
// multiple of 1/60 mm on a 3 mm screw is exact, and so is 20 tpi with 127.
func TestGearChart(t *testing.T) {
	rows, err := cut.GearChart(cut.GearsInput{
		Leadscrew: pitch("3mm"), Wheels: []int{20, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 127}, Most: 6,
	})
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]cut.ChartRow{}
	for _, r := range rows {
		at[r.Pitch.String()] = r
	}
	for _, p := range []string{
		"0.5 mm", "0.75 mm", "1 mm", "1.25 mm", "1.5 mm", "1.75 mm", "2 mm", "2.5 mm", "3 mm",
		"20 tpi",
	} {
		if r := at[p]; r.Train == nil || r.Train.PPM != 0 {
			t.Errorf("%s: %+v", p, r.Train)
		}
	}
	if len(rows) != 54 {
		t.Errorf("%d pitches", len(rows))
	}
	// Without a leadscrew the pitches stand alone.
	bare, err := cut.GearChart(cut.GearsInput{Wheels: []int{20, 40}, Most: 4})
	if err == nil || len(bare) != 54 || bare[0].Train != nil {
		t.Errorf("without a leadscrew: %d pitches, %v", len(bare), err)
	}
	few, err := cut.GearChart(cut.GearsInput{Leadscrew: pitch("3mm"), Wheels: []int{20, 40}, Most: 4})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, r := range few {
		if r.Train != nil {
			n++ // 1.5 mm and 6 mm, and of the inch pitches none
		}
	}
	if n != 2 {
		t.Errorf("two wheels cut %d standard pitches, want 2", n)
	}
}

// The plate of a lathe against the rule.
func TestDialPlate(t *testing.T) {
	// 6 is even and serves on four lines like 10 and 14, which the plate has
	// right; 19 is odd and serves on two like the other odd numbers. The plate
	// plays safe there and prints half as many.
	safe := map[string]bool{"6": true, "19": true}
	for _, row := range published.Rows(t, "threads/thread_dial.csv") {
		r, err := cut.Dial(cut.DialInput{
			Thread: thread(row["tpi"] + "tpi"), Leadscrew: pitch("8tpi"), Gears: []int{16},
			Marks: 8,
		})
		if err != nil {
			t.Fatal(err)
		}
		if same := fmt.Sprint(len(r.Marks[0].Marks)) == row["lines"]; same == safe[row["tpi"]] {
			t.Errorf("%s tpi: %d lines serve; %s prints %s", row["tpi"], len(r.Marks[0].Marks), row["source"], row["lines"])
		}
	}
}

// The example that Jones works: 6 tpi, 24 teeth, 8 lines half an inch apart.
// "Even numbers can be caught by using any one of the eight lines", odd ones
// only at the four that are an inch apart.
func TestDialOfJones(t *testing.T) {
	for tpi, want := range map[string]string{"10tpi": "[1 2 3 4 5 6 7 8]", "9tpi": "[1 3 5 7]", "11.5tpi": "[1 5]"} {
		r, err := cut.Dial(cut.DialInput{Thread: thread(tpi), Leadscrew: pitch("6tpi"), Gears: []int{24}, Marks: 8})
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprint(r.Marks[0].Marks); got != want {
			t.Errorf("%s: %s, want %s (F. D. Jones, Turning and Boring, 1914)", tpi, got, want)
		}
	}
}

// The marks against a count along the bed: the dial is watched for several
// turns, and a mark serves if the half-nuts close and the tool meets its
// groove every time it comes round.
func TestDialAgainstACount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// In units of 1/1000 mm or in parts of an inch that both pitches divide.
		screw := rapid.SampledFrom([]int64{1500, 2000, 3000, 4000, 6000, 3175, 6350}).Draw(t, "leadscrew")
		lead := rapid.SampledFrom([]int64{
			250, 400, 500, 700, 750, 800, 1000, 1250, 1500, 1750, 2000, 2500, 3000, 3500,
			4500, 1270, 2540,
		}).Draw(t, "lead")
		gear := rapid.Int64Range(5, 48).Draw(t, "gear")
		marks := rapid.Int64Range(1, 12).Draw(t, "marks")
		p, l := units.PitchOf(big.NewRat(lead, 1000)), units.PitchOf(big.NewRat(screw, 1000))
		r, err := cut.Dial(cut.DialInput{
			Thread: cut.Thread{Pitch: p, Lead: p}, Leadscrew: &l, Gears: []int{int(gear)},
			Marks: int(marks),
		})
		if err != nil {
			t.Fatal(err)
		}
		serves := make([]bool, marks)
		for m := range serves {
			serves[m] = true
		}
		for k := int64(0); k < marks*lead; k++ { // enough turns for any remainder to show
			threadsOn := k * gear // times 1/marks of a leadscrew thread
			if threadsOn%marks != 0 || threadsOn/marks*screw%lead != 0 {
				serves[k%marks] = false
			}
		}
		want := []int{}
		for m, ok := range serves {
			if ok {
				want = append(want, m+1)
			}
		}
		if fmt.Sprint(r.Marks[0].Marks) != fmt.Sprint(want) || r.Keep != (len(want) == 0) {
			t.Fatalf("%d teeth, %d marks: %v, the count says %v", gear, marks, r.Marks[0].Marks, want)
		}
		// The half-nuts close every so many leadscrew threads, the least that
		// are whole leads; a gear of that many teeth serves, whatever its marks.
		n := int64(1)
		for n*screw%lead != 0 {
			n++
		}
		if float64(r.Teeth) != float64(n) || r.Closes.Rat().Cmp(big.NewRat(n*screw, 1000)) != 0 {
			t.Fatalf("closes every %v, teeth %v; the count says %d threads", r.Closes, r.Teeth, n)
		}
	})
}

// What is said below the marks must hold for them: no waiting for a mark where
// any place serves, where none does, and where there is no dial.
func TestDialNotes(t *testing.T) {
	const (
		anywhere = "One thread of the leadscrew is a whole number of leads: wherever the half-nuts close, the tool meets " +
			"its groove, with no dial."
		first   = "Mark 1 stands for the mark of the first pass: from another first mark the same steps serve."
		between = "The half-nuts also close between these marks, where the tool splits the thread: wait for the mark."
		starts  = "Several starts: these marks hold for one start; the lead is 14 mm."
	)
	for _, tc := range []struct {
		thread, screw string
		gears         []int
		want          []say.Text
	}{
		{"1.5mm", "3mm", []int{14, 16}, []say.Text{anywhere}}, // two threads for one of the leadscrew
		{"16tpi", "8tpi", nil, []say.Text{anywhere}},
		{"20tpi", "8tpi", []int{32}, []say.Text{first, between}}, // five for two
		{"Tr40x14P7", "4mm", []int{28}, []say.Text{first, between, starts}},
		{"1mm", "8tpi", []int{16}, nil}, // 127 for 40
		{"20tpi", "8tpi", nil, nil},     // no dial
		{"Tr40x14P7", "4mm", nil, nil},
	} {
		r, err := cut.Dial(cut.DialInput{Thread: thread(tc.thread), Leadscrew: pitch(tc.screw), Gears: tc.gears, Marks: 4})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Sheet().Notes; !slices.Equal(got, tc.want) {
			t.Errorf("%s on %s, %v: %q", tc.thread, tc.screw, tc.gears, got)
		}
	}
}

func TestDialRefusals(t *testing.T) {
	for _, tc := range []struct {
		in   cut.DialInput
		want string
	}{
		{cut.DialInput{Thread: thread("M8")}, "leadscrew: the leadscrew's pitch is needed: write leadscrew, such as 3mm " +
			"or 8tpi, or lathe: leadscrew in the shop file"},
		{
			cut.DialInput{Thread: thread("M8"), Leadscrew: pitch("3mm"), Gears: []int{4, 201}, Marks: 0},
			"dial-gears: 4: write 5 to 200 teeth of a dial gear\ndial-gears: 201: write 5 to 200 teeth of a dial gear\n" +
				"marks: 0: write 1 to 24 marks of a thread dial",
		},
		{
			cut.DialInput{Thread: thread("M8"), Leadscrew: pitch("3mm"), Gears: []int{14}, Marks: 25},
			"marks: 25: write 1 to 24 marks of a thread dial",
		},
	} {
		if _, err := cut.Dial(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// Facing for a turn: lead·turn/360, by hand.
func TestClock(t *testing.T) {
	in := cut.ClockInput{Short: units.Degrees(5), Within: units.Degrees(2)}
	for _, tc := range []struct {
		thread, turn     string
		full, aim, sense string
	}{
		{"M16x1.5", "30deg", "0.125mm", "0.10417mm", "clockwise"},                   // 1.5/12, 1.5·25/360
		{"1/2-20", "90deg", "0.0125in", "0.01181in", "clockwise"},                   // 0.05/4, 0.05·85/360
		{"Tr20x8P4-LH", "45deg", "1.0000mm", "0.8889mm", "counter-clockwise"},       // the lead, 8/8
		{"1mm", "360deg", "1.000mm", "0.986mm", "clockwise"},                        // one whole turn
		{"40tpi", "4deg", "0.000278in", "0in", "clockwise"},                         // less than what pulling up gives
		{"Tr40x14P7", "10d30m", "0.408333mm", "0.213889mm", "clockwise"},            // 14·10.5/360, 14·5.5/360
		{"M3", "0.001deg", "0.0000014mm", "0mm", "clockwise"},                       // the small end
		{"1/4NPT", "180deg", "0.0277778in", "0.0270062in", "clockwise"},             // 18 tpi
		{"2BA", "60deg", "0.135mm", "0.12375mm", "clockwise"},                       // 0.81/6
		{"G1/4", "36deg", "0.1336842mm", "0.1151170mm", "clockwise"},                // 25.4/190
		{"3/8BSW", "22d30m", "0.00390625in", "0.003038in", "clockwise"},             // 1/16/16
		{"1/2-10ACME", "12deg", "0.003333333in", "0.001944444in", "clockwise"},      // 0.1/30
		{"M24x2-6g", "15deg", "0.083333333mm", "0.055555556mm", "clockwise"},        // 2/24
		{"M8", "7.5deg", "0.026041667mm", "0.008680556mm", "clockwise"},             // 1.25/48
		{"11.5tpi", "100deg", "0.02415459in", "0.02294686in", "clockwise"},          // 100/360/11.5
		{"20tpi", "359deg", "0.049861in", "0.049167in", "clockwise"},                // 0.05·359/360
		{"0.5mm", "5deg", "0.006944444mm", "0mm", "clockwise"},                      // just what pulling up gives
		{"0.5mm", "5.1deg", "0.007083333mm", "0.000138889mm", "clockwise"},          // a little more
		{"100mm", "360deg", "100mm", "98.611mm", "clockwise"},                       // the coarsest pitch
		{"1/4-28UNF-2A", "120deg", "0.0119047619in", "0.0114087302in", "clockwise"}, // 1/84
	} {
		in.Thread, in.Turn = thread(tc.thread), angle(tc.turn)
		r, err := cut.Clock(in)
		if err != nil {
			t.Fatal(tc.thread, err)
		}
		if got := units.AsPrinted(*r.FaceOff, tc.full); got != tc.full {
			t.Errorf("%s by %s: face off %s, want %s", tc.thread, tc.turn, got, tc.full)
		}
		if got := units.AsPrinted(*r.AimFaceOff, tc.aim); got != tc.aim || r.Sense != tc.sense {
			t.Errorf("%s by %s: aim %s, want %s; %s", tc.thread, tc.turn, got, tc.aim, r.Sense)
		}
	}
}

// Sides: the most that can be needed is one side's turn, and some of the shims
// together bring every stop within what was asked.
func TestClockSides(t *testing.T) {
	for _, tc := range []struct {
		thread string
		sides  int
		within string
		worst  string
	}{
		{"M16x1.5", 8, "2deg", "0.1875mm"},
		{"1-12UNF", 6, "1deg", "0.013889in"},
		{"1mm", 1, "45deg", "1mm"},
		{"M16x1.5", 60, "5deg", "0.025mm"},
		{"16tpi", 4, "0.1deg", "0.015625in"},
	} {
		in := cut.ClockInput{
			Thread: thread(tc.thread), Sides: &tc.sides, Short: units.Degrees(5),
			Within: units.MustAngle(tc.within),
		}
		r, err := cut.Clock(in)
		if err != nil {
			t.Fatal(err)
		}
		if got := units.AsPrinted(*r.Worst, tc.worst); got != tc.worst || r.FaceOff != nil {
			t.Errorf("%s, %d sides: %s, want %s", tc.thread, tc.sides, got, tc.worst)
		}
		if first := r.Shims[0].MM() * 360 / in.Lead.MM(); math.Abs(first-2*in.Within.Deg()) > 1e-5 {
			t.Errorf("%s, %d sides: the first shim turns %v deg, not twice %v", tc.thread, tc.sides, first, in.Within)
		}
		side := 360 / float64(tc.sides)
		for need := 0.0; need < side; need += side / 997 {
			near := math.Inf(1)
			for set := range 1 << len(r.Shims) {
				sum := 0.0
				for i, s := range r.Shims {
					if set>>i&1 == 1 {
						sum += s.MM() * 360 / in.Lead.MM()
					}
				}
				near = min(near, math.Abs(sum-need))
			}
			if near > in.Within.Deg()+1e-5 { // shims are rounded to 1e-9 mm
				t.Errorf("%s, %d sides: a stop %v deg late stays %v deg off", tc.thread, tc.sides, need, near)
				break
			}
		}
	}
}

// A taper thread has no shoulder to stop on.
func TestClockTaper(t *testing.T) {
	for spec, want := range map[string]int{"1/4NPT": 1, "R1/2": 1, "G1/4": 0, "M8": 0, "18tpi": 0} {
		in := cut.ClockInput{Thread: thread(spec), Turn: angle("30"), Short: units.Degrees(5), Within: units.Degrees(2)}
		r, err := cut.Clock(in)
		if err != nil || len(r.Warnings) != want {
			t.Errorf("%s: %v %v", spec, r.Warnings, err)
		}
	}
}

func TestClockRefusals(t *testing.T) {
	ok := cut.ClockInput{Thread: thread("M8"), Turn: angle("30"), Short: units.Degrees(5), Within: units.Degrees(2)}
	for _, tc := range []struct {
		change func(*cut.ClockInput)
		want   string
	}{
		{func(in *cut.ClockInput) { in.Turn = nil }, "turn: needs exactly one of turn and sides"},
		{func(in *cut.ClockInput) { in.Sides = number(8) }, "turn: turn and sides: give one of them"},
		{func(in *cut.ClockInput) { in.Turn = angle("0") }, "turn: 0 deg: must be above 0 and at most 360 deg"},
		{func(in *cut.ClockInput) { in.Turn = angle("360.1") }, "turn: 360.1 deg: must be above 0 and at most 360 deg"},
		{func(in *cut.ClockInput) { in.Turn, in.Sides = nil, number(0) }, "sides: 0: write 1 to 60 sides"},
		{func(in *cut.ClockInput) { in.Turn, in.Sides = nil, number(61) }, "sides: 61: write 1 to 60 sides"},
		{func(in *cut.ClockInput) { in.Short = units.Degrees(-1) }, "short: -1 deg: write 0 deg to 45 deg"},
		{func(in *cut.ClockInput) { in.Short = units.Degrees(46) }, "short: 46 deg: write 0 deg to 45 deg"},
		{func(in *cut.ClockInput) { in.Within = units.Degrees(0.09) }, "within: 0.09 deg: write 0.1 deg to 45 deg"},
		{func(in *cut.ClockInput) { in.Within = units.Degrees(46) }, "within: 46 deg: write 0.1 deg to 45 deg"},
	} {
		in := ok
		tc.change(&in)
		if _, err := cut.Clock(in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func bar(text string) cut.Bar {
	b, err := cut.ParseBar(text, units.MM)
	if err != nil {
		panic(err)
	}
	return b
}

// How much of a thread stands on a bar, by hand, and the largest full one. Of a
// quarter turn it is asin(T/d) less acos(W/d), which is 0 where the bar is as
// wide as the thread.
func TestFlats(t *testing.T) {
	for _, tc := range []struct {
		spec, bar string
		fraction  string
		full, cut bool
		largest   string
	}{
		{"M8", "12x8", "1.0000", true, false, "M8"},
		{"M8", "8x12", "1.0000", true, false, "M8"},
		// asin(7.9/8) = 80.931 deg, acos of the same 9.069: 71.863/90
		{"M8", "7.9x7.9", "0.7985", false, false, "M7"},
		// asin(5/8) = 38.682 deg of 90
		{"M8", "12x5", "0.4298", false, true, "M5"},
		// half the diameter thick: 30 of 90
		{"M10", "20x5", "0.3333", false, true, "M5"},
		{"1/2-13", "1/2inx1/4in", "0.3333", false, true, "1/4-20UNC"},
		// 8/√2 = 5.657: a square inside the circle
		{"M8", "5.6x5.6", "0.0000", false, true, "M5"},
		// asin(1/16) = 3.583 deg of 90
		{"M8", "12x0.5", "0.0398", false, true, ""},
		// 3-4-5: 53.130 deg of 90; specials have no series of their own to look in:
		// the coarse one
		{"5/16-27UNS", "1/4inx1/2in", "0.5903", false, true, "1/4-20UNC"},
	} {
		r, err := cut.Flats(cut.FlatsInput{Spec: threads.MustParse(tc.spec), Bar: bar(tc.bar)})
		if err != nil {
			t.Fatal(err)
		}
		largest := ""
		if r.Largest != nil {
			largest = *r.Largest
		}
		if got := fmt.Sprintf("%.4f", r.Fraction); got != tc.fraction || r.FullRound != tc.full || r.RootCut != tc.cut ||
			largest != tc.largest {
			t.Errorf("%s on %s: %s, full %v, root cut %v, %q", tc.spec, tc.bar, got, r.FullRound, r.RootCut, largest)
		}
	}
}

// A remark stands beside its yes or no, so it must agree with it; a length in a
// sentence goes with the page.
func TestFlatsWords(t *testing.T) {
	for _, tc := range []struct{ bar, round, root, warning string }{
		{"8x12", "the crests go all the way round", "the thread stands on its whole root", ""},
		{
			"12x7", "the flats break the crests", "the thread stands on its whole root",
			"the flats break the thread's crests: start the die square, since it has less to follow",
		},
		// the root of M8 is 6.466 mm (ISO 724, d3), 0.2546 in
		{
			"12x5", "the flats break the crests", "the flats go below the thread's root",
			"the flats cut the root, 0.2546 in: the thread stands in strips with nothing between them, weaker than its size " +
				"and rough on a nut",
		},
	} {
		r, err := cut.Flats(cut.FlatsInput{Spec: threads.MustParse("M8"), Bar: bar(tc.bar)})
		if err != nil {
			t.Fatal(err)
		}
		s, warning := r.Sheet(), ""
		for _, w := range s.Warnings {
			warning += w.Text.In(units.Inch)
		}
		round, root := s.Facts[1].Remark.In(units.Inch), s.Facts[2].Remark.In(units.Inch)
		if round != tc.round || root != tc.root || warning != tc.warning {
			t.Errorf("%s: %q, %q, %q", tc.bar, round, root, warning)
		}
	}
}

// The fraction against points counted round the circle.
func TestFractionAgainstACount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) units.Length {
			return units.MustLength(fmt.Sprintf("%d.%02dmm", rapid.IntRange(1, 20).Draw(t, name), rapid.IntRange(0, 99).Draw(t,
				name+" parts")))
		}
		d, b := draw("d"), cut.Bar{Width: draw("w"), Thickness: draw("t")}
		const n = 40_000
		on := 0
		for i := range n {
			a := 2 * math.Pi * (float64(i) + 0.5) / n
			if d.MM()*math.Abs(math.Cos(a)) <= b.Width.MM() && d.MM()*math.Abs(math.Sin(a)) <= b.Thickness.MM() {
				on++
			}
		}
		if got := cut.Fraction(d, b); math.Abs(got-float64(on)/n) > 8.0/n { // eight ends of arcs, a point each
			t.Fatalf("d %v on %v x %v: %v, counted %v", d, b.Width, b.Thickness, got, float64(on)/n)
		}
	})
}

// Filing a bar round. A square's corners go at (1 - 1/√2) of its side, 0.2929;
// the octagon's at (tan 22.5 - tan 11.25)/2 of the size across flats, 0.1077;
// sixteen sides still stand out by 1/cos 11.25.
func TestFileDown(t *testing.T) {
	for _, tc := range []struct{ spec, bar, want string }{
		{"M10", "10x10", "4 10.000 14.142 - -\n8 10.000 10.824 2.929 2.929\n16 10.000 10.196 1.077 1.077\n"},
		{"M10", "30x12", "4 10.000 14.142 - -\n8 10.000 10.824 2.929 2.929\n16 10.000 10.196 1.077 1.077\n"},
		{"1-8", "1inx1in", "4 25.400 35.921 - -\n8 25.400 27.493 7.439 7.439\n16 25.400 25.898 2.734 2.734\n"},
		// Thinner than the thread, the flats stay. On 8 x 5 the corner at (4, 2.5)
		// goes at (8 + 5)/2 - 8/√2 = 0.843 both ways. Of the sixteen only those at
		// 22.5 deg reach metal: on the narrow face from 4·√2 - 4 = 1.657 down to
		// 4·tan 11.25 = 0.796.
		{"M8", "12x5", "4 8.000 9.434 - -\n8 8.000 8.659 0.843 0.843\n16 8.000 8.157 - 0.861\n"},
		{"M8", "5x12", "4 8.000 9.434 - -\n8 8.000 8.659 0.843 0.843\n16 8.000 8.157 - 0.861\n"},
		// On 8 x 3 the corner at (4, 1.5) stands 20.6 deg up, and only the flat at
		// 22.5 reaches it: 4·cos + 1.5·sin - 4 = 0.2695 deep, 0.704 along the
		// narrow face (over sin 22.5), 0.292 along the wide one (over cos).
		{"M8", "8x3", "4 8.000 8.544 - -\n16 8.000 8.157 0.292 0.704\n"},
		{"M8", "5.6x5.6", ""},
	} {
		r, err := cut.Flats(cut.FlatsInput{Spec: threads.MustParse(tc.spec), Bar: bar(tc.bar)})
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, s := range r.Steps {
			text += fmt.Sprintf("%d %s %s %s %s\n", s.Sides, places3(&s.Flats), places3(&s.Corner), places3(s.Wide),
				places3(s.Narrow))
			for _, m := range []*units.Length{s.Wide, s.Narrow} {
				if m != nil && s.Mark.Less(*m) {
					t.Errorf("%s on %s: %v is longer than the longest, %v", tc.spec, tc.bar, m.Typed(), s.Mark.Typed())
				}
			}
		}
		if text != tc.want {
			t.Errorf("%s on %s\ngot\n%swant\n%s", tc.spec, tc.bar, text, tc.want)
		}
	}
}

func places3(l *units.Length) string {
	if l == nil {
		return "-"
	}
	return l.Fixed(units.MM, 3, units.Nearest)
}

func TestBarRefusals(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"12", "bar: 12: not a flat bar: write width x thickness, such as 12x5 or 1/2inx3/16in"},
		{"0x5", "bar: 0 mm: must be above 0"},
		{"-3x0", "bar: -3 mm: must be above 0\nbar: 0 mm: must be above 0"},
		{"12,5x3", "a length: 12,5: a comma is not read as a decimal point: write 12.5"},
	} {
		if _, err := cut.ParseBar(tc.text, units.MM); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
	if _, err := cut.Flats(cut.FlatsInput{Spec: threads.MustParse("M8")}); err == nil ||
		err.Error() != "bar: 0 mm: must be above 0\nbar: 0 mm: must be above 0" {
		t.Error(err)
	}
	if b, err := cut.ParseBar("1/2x3/16", units.Inch); err != nil || b.Width.Typed().String() != "12.7 mm" ||
		b.Thickness.Typed().String() != "4.7625 mm" {
		t.Error(b, err)
	}
}
