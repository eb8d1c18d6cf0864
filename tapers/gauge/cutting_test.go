package gauge_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/gauge"
)

// said finds a figure in what is said.
func said(t interface{ Fatalf(string, ...any) }, text, pattern string) string {
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %q in %s", pattern, text)
	}
	return m[1]
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err)
	}
	return v
}

// A taper that was cut at a wrong half angle is cut as the sheet says, on a side of a thousand
// places. The path is laid against the work at the end that is named: nowhere else does it lie
// in the metal, so that the tip does touch there. Then it goes in as the lines say. What is
// said to come off comes off, and what is said to be left is left; where the size is not known
// the whole side is cut at the depth that is told.
func TestCutAgainObeyed(t *testing.T) {
	compound := &shop.Compound{
		Travel: length("200mm"), Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50},
		Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(0.5)},
	}
	rapid.Check(t, func(rt *rapid.T) {
		const places = 1000
		inside, known := rapid.Bool().Draw(rt, "bore"), rapid.Bool().Draw(rt, "known")
		large, l := hundredths(rt, "large", 4000, 6000), hundredths(rt, "length", 2000, 6000)
		small := large - hundredths(rt, "taper", 100, 2000)
		end := rapid.SampledFrom(tapers.Ends).Draw(rt, "small end")
		in := gauge.CorrectInput{
			Input:    tapers.Input{Large: mm(large), Small: mm(small), Length: mm(l)},
			SmallEnd: end, Internal: inside, Compound: compound, Care: gauge.Care{ReadingError: length("0.0001mm")},
			Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
		}
		out := hundredths(rt, "out", 5, 40) * rapid.SampledFrom([]float64{-1, 1}).Draw(rt, "way")
		left := hundredths(rt, "left", 20, 100) // at the end with least of it
		if inside {
			left = -left
		}
		cut := func(z float64) float64 { // from the large end, on the diameter
			d := large + (small-large)*z/l - out*z/l
			if more := -out; (more < 0) == !inside { // the small end is the one with least
				return d + out + left
			}
			return d + left
		}
		in.Measured = []gauge.Reading{at(0, cut(0)), at(l, cut(l))}
		if !known { // the sizes have no places on this taper
			in.Measured = []gauge.Reading{at(-5, cut(-5)), at(l+5, cut(l+5))}
		}
		r, err := gauge.Correct(in)
		if err != nil {
			rt.Fatal(err)
		}
		text := ""
		for _, step := range r.Sheet().Procedure {
			text += step.Brief().In(units.MM) + "\n"
		}
		named := said(rt, text,
			`(?:to|bring the tip to) the (\w+) end(?:; lock it\.\n|, )[Tt]ouch`)
		switch named {
		case string(end):
			named = "small"
		case "headstock", "tailstock":
			named = "large"
		}
		tan := (large - small) / 2 / l
		touch, sign := 0.0, 1.0
		if named == "small" {
			touch = l
		}
		if inside {
			sign = -1
		}
		path := func(z, deep float64) float64 { return cut(touch)/2 - tan*(z-touch) - sign*deep }
		deep := 0.0
		if known {
			deep = number(said(rt, text, `ross slide (?:in|out) to .* ([\d.]+) mm a side`))
		} else {
			deep = number(said(rt, text, `: that is ([\d.]+) mm a side in all`))
		}
		for i := range places + 1 {
			z := l * float64(i) / places
			if over := sign * (cut(z)/2 - path(z, 0)); over > 1e-6 {
				rt.Fatalf("%s: the tip is in the metal by %f at %f before it touches\n%s", named, over, z, text)
			}
			if over := sign * (cut(z)/2 - path(z, deep)); !known && over < -1e-6 {
				rt.Fatalf("at %f the side is not cut: %f\n%s", z, over, text)
			}
		}
		if !known {
			return
		}
		came, off := 2*path(touch, deep), number(said(rt, text, `[Tt]akes ([\d.]+) mm off`))
		if math.Abs(sign*(cut(touch)-came)-off) > 0.0006 {
			rt.Errorf("%f comes off, %f is said", sign*(cut(touch)-came), off)
		}
		wanted := large + (small-large)*touch/l
		rest := 0.0
		if strings.Contains(text, "leaves") {
			rest = number(said(rt, text, `leaves ([\d.]+) mm`))
		}
		if is := sign * (came - wanted); is < -1e-6 || math.Abs(is-rest) > 0.0011 {
			rt.Errorf("%f is left, %f is said\n%s", is, rest, text)
		}
	})
}

// mm is a length.
func mm(v float64) *units.Length { return new(units.FromFloat(v)) }
