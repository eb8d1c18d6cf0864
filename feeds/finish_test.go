package feeds_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"setover/feeds"
	"setover/setup/base/units"
	"setover/setup/page/published"
)

func number(text string) *units.Number {
	if text == "" {
		return nil
	}
	d := units.Number(units.MustLength(text).MM())
	return &d
}

// The height of the marks against what others print. Ra of a row of parabolas
// is f²/(18·√3·r) = f²/(31.2·r), the form the handbooks print.
func TestFinishPublished(t *testing.T) {
	for _, tc := range []struct {
		name      string
		feed      units.Feed
		nose      string
		trail     string
		rt, ra    string
		inside    bool
		src, note string
	}{
		{
			"0.2 mm/rev, nose 0.8", *feed(0.2), "0.8mm", "8deg", "6.25", "1.60", true,
			"Mitsubishi Materials, formulas for turning: h = 0.2²/(8·0.8)·1000; Ra by f²/(31.2·r)", "",
		},
		{
			"0.1 mm/rev, nose 0.4", *feed(0.1), "0.4mm", "8deg", "3.12", "0.80", true, "the same formulas",
			"3.125, a half, which Go prints to the even digit",
		},
		{
			"0.010 in/rev, nose 1/32 in", *feed(0.254), "1/32in", "15deg", "10.16", "2.61", true,
			"the same formulas: 400 and 103 millionths of an inch", "",
		},
	} {
		r, err := feeds.Finish(feeds.FinishInput{Feed: &tc.feed, Nose: size(tc.nose), Trail: units.MustAngle(tc.trail)})
		if err != nil {
			t.Fatal(tc.name, err)
		}
		if rt, ra := fmt.Sprintf("%.2f", float64(r.Rt)), fmt.Sprintf("%.2f", float64(r.Ra)); rt != tc.rt || ra != tc.ra ||
			r.Inside != tc.inside {
			t.Errorf("%s: Rt %s, Ra %s, inside %v; %s gives %s and %s", tc.name, rt, ra, r.Inside, tc.src, tc.rt, tc.ra)
		}
		published.Works(t, r.Sheet())
	}
}

// The parabola's height is short of the arc's by about f²/(16·r²) of itself.
func TestNoseRtAgainstArc(t *testing.T) {
	for _, part := range []float64{0.1, 0.25, 0.5} {
		r, f := 0.8, 0.8*part
		arc := 1000 * (r - math.Sqrt(r*r-f*f/4))
		short := 1 - feeds.NoseRt(*feed(f), units.FromFloat(r))/arc
		if got, want := fmt.Sprintf("%.1f", 100*short), fmt.Sprintf("%.1f", 100*part*part/16); got != want {
			t.Errorf("feed %g of the nose: short by %s %%, want %s", part, got, want)
		}
	}
}

// Beyond the arc the formula is held against the profile itself, drawn point by
// point: arcs with a straight edge behind them, a feed apart, the lower one
// counting.
func TestFinishAgainstDrawnProfile(t *testing.T) {
	for _, tc := range []struct{ feed, nose, trail float64 }{{0.2, 0.4, 8}, {0.3, 0.4, 15}, {0.5, 0.8, 5}, {1, 0.4, 8}} {
		r, err := feeds.Finish(feeds.FinishInput{
			Feed: feed(tc.feed), Nose: units.FromFloat(tc.nose),
			Trail: units.Degrees(tc.trail),
		})
		if err != nil {
			t.Fatal(err)
		}
		k := tc.trail * math.Pi / 180
		tool := func(x float64) float64 {
			switch {
			case x < -tc.nose*math.Sin(k):
				return tc.nose*(1-math.Cos(k)) + math.Tan(k)*(-x-tc.nose*math.Sin(k))
			case x > tc.nose:
				return math.Inf(1)
			}
			return tc.nose - math.Sqrt(tc.nose*tc.nose-x*x)
		}
		high, mean, ra := 0.0, 0.0, 0.0
		const n = 2_000_000
		height := func(i int) float64 {
			x := tc.feed * float64(i) / n
			return math.Min(tool(x), tool(x-tc.feed))
		}
		for i := range n {
			high, mean = math.Max(high, height(i)), mean+height(i)/n
		}
		for i := range n {
			ra += math.Abs(height(i)-mean) / n
		}
		if got, want := fmt.Sprintf("%.4g", float64(r.Ra)), fmt.Sprintf("%.4g", 1000*ra); got != want {
			t.Errorf("%+v: Ra %s, of the drawn profile %s um", tc, got, want)
		}
		if got, want := fmt.Sprintf("%.2f", float64(r.Rt)), fmt.Sprintf("%.2f", 1000*high); got != want || r.Inside {
			t.Errorf("%+v: Rt %s, the drawn profile is %s um high", tc, got, want)
		}
	}
}

// A feed found for a finish leaves that finish, and one a hair coarser does
// not.
func TestFinishThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := feeds.FinishInput{
			Nose:  units.FromFloat(float64(rapid.IntRange(1, 16).Draw(t, "nose")) / 10),
			Trail: units.Degrees(float64(rapid.IntRange(3, 30).Draw(t, "trail"))),
		}
		want := fmt.Sprintf("%d.%d", rapid.IntRange(0, 12).Draw(t, "um"), rapid.IntRange(1, 9).Draw(t, "tenths"))
		mean := rapid.Bool().Draw(t, "ra")
		if mean {
			in.Ra = number(want)
		} else {
			in.Rt = number(want)
		}
		limit, err := strconv.ParseFloat(want, 64)
		if err != nil {
			t.Fatal(err)
		}
		marks := func(in feeds.FinishInput) (units.Feed, float64) {
			r, err := feeds.Finish(in)
			if err != nil {
				t.Fatal(err)
			}
			if mean {
				return r.Feed, float64(r.Ra)
			}
			return r.Feed, float64(r.Rt)
		}
		f, leaves := marks(in)
		_, coarser := marks(feeds.FinishInput{Feed: feed(f.MM() * (1 + 1e-6)), Nose: in.Nose, Trail: in.Trail})
		if leaves > limit || coarser <= limit {
			t.Fatalf("%s um wanted, nose %s, trail %v: %v leaves %v, a hair more %v", want, in.Nose.Decimal(), in.Trail, f,
				leaves, coarser)
		}
	})
}

func TestFinishRefusals(t *testing.T) {
	ok := units.MustAngle("8deg")
	for _, tc := range []struct {
		in   feeds.FinishInput
		want string
	}{
		{feeds.FinishInput{Nose: size("0.4mm"), Trail: ok}, "feed: needs exactly one of feed, ra and rt"},
		{
			feeds.FinishInput{Feed: feed(0.1), Ra: number("1"), Nose: size("0.4mm"), Trail: ok},
			"feed: feed and ra: give one of them",
		},
		{
			feeds.FinishInput{Ra: number("0"), Nose: size("0mm"), Trail: units.MustAngle("0")},
			"ra: 0: must be above 0\nnose: 0 mm: must be above 0\ntrail: 0 deg: must be above 0 and at most 45 deg",
		},
		{
			feeds.FinishInput{Rt: number("-1"), Nose: size("1mm"), Trail: units.MustAngle("46")},
			"rt: -1: must be above 0\ntrail: 46 deg: must be above 0 and at most 45 deg",
		},
		{
			feeds.FinishInput{Feed: feed(5), Nose: size("0.4mm"), Trail: ok},
			"feed: 5 mm/rev: too coarse for a nose of 0.4 mm: the marks would be higher than the nose",
		},
	} {
		if _, err := feeds.Finish(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got %v\nwant %s", err, tc.want)
		}
	}
}
