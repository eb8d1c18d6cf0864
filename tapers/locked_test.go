package tapers_test

import (
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/curves"
	"setover/tapers/gauge"
	"setover/tapers/stages"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
)

// What a list says of the carriage, in the order of its words: that it is let go, that it is locked, that it moves.
var (
	letsGo = regexp.MustCompile(`(?i)\bunlock(?:ed)?\b`)
	locks  = regexp.MustCompile(`(?i)\block(?:ed)? (?:it|the carriage|for each)|carriage locked|, locked,`)
	goes   = regexp.MustCompile(`(?i)with the carriage|Unlock the carriage, (?:with it bring the )?tip|` +
		`(?:fed|feed) (?:by|with) the carriage|` +
		`carriage (?:unlocked, )?(?:moved )?[\d.]+ (?:mm|in|times)|carriage (?:to|back)|of carriage toward|` +
		`while the carriage goes|: turn it|turn it to|turn it down|face the shoulder|plunge (?:it|the bar|a slot)`)
)

// lockedWhileMoved returns the line of a list that moves the carriage while it is locked.
func lockedWhileMoved(list []string) string {
	locked := false
	for _, line := range list {
		type word struct {
			from int
			is   string
		}
		var words []word
		for is, re := range map[string]*regexp.Regexp{"go": letsGo, "lock": locks, "move": goes} {
			for _, m := range re.FindAllStringIndex(line, -1) {
				from := m[0]
				if is == "move" && letsGo.MatchString(line[from:m[1]]) { // in one breath
					from = m[1] - 1
				}
				words = append(words, word{from, is})
			}
		}
		for next := 0; next < len(line); next++ {
			for _, w := range words {
				switch {
				case w.from != next:
				case w.is == "go":
					locked = false
				case w.is == "lock":
					locked = true
				case locked:
					return line
				}
			}
		}
	}
	return ""
}

// Whoever obeys a list moves the carriage only while it is free: it is let go before each move after it was locked.
// Every list of a taper that is set and cut, in full and in short, with the dials of a shop in millimetres and without
// any on the carriage.
func TestUnlockedBeforeItMoves(t *testing.T) {
	if got := lockedWhileMoved([]string{"Lock the carriage.", "Feed with the carriage."}); got == "" {
		t.Fatal("sees nothing")
	}
	text, err := os.ReadFile("../testdata/shed.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := files.ReadShop("shed.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	lathe := *s.Lathe
	seen := map[string]int{}
	ask := func(name string, r sheet.Result, err error) {
		if err != nil {
			return
		}
		for _, u := range []units.Unit{units.MM, units.Inch} {
			var full, brief []string
			for _, step := range r.Sheet().Procedure {
				full, brief = append(full, step.Whole().In(u)), append(brief, step.Brief().In(u))
			}
			if len(full) > 0 {
				seen[name]++
			}
			for _, list := range [][]string{full, brief} {
				if line := lockedWhileMoved(list); line != "" {
					t.Fatalf("%s: the carriage is locked: %s\n%s", name, line, strings.Join(list, "\n"))
				}
			}
		}
	}
	rng := rand.New(rand.NewPCG(30, 11))
	mm := func(n int) *units.Length { return new(units.Millimetres(int64(n))) }
	tools := swivel.ToolsOf(s)
	for range 90 {
		small := 6 + rng.IntN(20)
		large := small + 1 + rng.IntN(14)
		long := 10 + rng.IntN(160)
		of := tapers.Input{Large: mm(large), Small: mm(small), Length: mm(long)}
		end := tapers.Ends[rng.IntN(2)]
		in := compound.Input{Input: of, SmallEnd: end, Tools: tools, Internal: rng.IntN(4) == 0}
		in.Lathe = lathe
		if rng.IntN(2) == 0 {
			in.Stock = mm(large + 2)
		}
		made, err := compound.Set(in)
		ask("compound", made, err)
		at := func(z int, off float64) gauge.Reading {
			dia := float64(small) + float64(large-small)*float64(long-z)/float64(long)
			return gauge.Reading{Z: *mm(z), Dia: units.FromFloat(dia + off)}
		}
		c := gauge.CorrectInput{
			Input: of, SmallEnd: end, Measured: []gauge.Reading{at(2, 0.3+rng.Float64()), at(long-2, 0.3+rng.Float64())},
			Compound: lathe.Compound, Cross: lathe.CrossSlide, Tailstock: lathe.Tailstock,
		}
		name := "correct"
		if rng.IntN(2) == 0 {
			c.Between, name = mm(long+60), "correct between centres"
		}
		right, err := gauge.Correct(c)
		ask(name, right, err)
		over, err := tailstock.Set(tailstock.Input{Input: of, Between: mm(long + 60), SmallEnd: end, Lathe: lathe})
		ask("tailstock", over, err)
		var list []stages.Station
		z := 0
		for i := range 2 + rng.IntN(4) {
			if i == 1 || i > 0 && (rng.IntN(4) > 0 || list[i-1].Z.Equal(list[i-2].Z)) {
				z += 8 + rng.IntN(80)
			}
			list = append(list, stages.Station{Z: *mm(z), Dia: *mm(2 * (5 + rng.IntN(13)))})
		}
		st := stages.Input{Stations: list, Tools: tools, Blade: mm(3), BladeReach: mm(20)}
		st.Lathe = lathe
		if rng.IntN(2) == 0 {
			st.FromJaws = mm(20 + rng.IntN(40))
		}
		row, err := stages.Of(st)
		ask("stages", row, err)
		arc, err := curves.Of(curves.Input{
			Radius: *mm(large), From: *mm(0), To: *mm(small), Cross: lathe.CrossSlide, Compound: lathe.Compound,
			Bulge: curves.Out, Step: new(units.MustLength("0.5mm")), Along: shop.CompoundSlide, SmallEnd: end,
		})
		ask("curve", arc, err)
	}
	for _, name := range []string{"compound", "correct", "correct between centres", "tailstock", "stages", "curve"} {
		if seen[name] < 20 {
			t.Error("too few:", name, seen)
		}
	}
}
