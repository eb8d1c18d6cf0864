package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// A screen as it is: what is wrapped counts as it stands there.
const (
	screenColumns = 80
	screenLines   = 25
)

// longer are the questions whose answer does not fit, with the reason: what a line of
// theirs begins with, and how many lines it may be.
var longer = []struct {
	begins string
	lines  int
	why    string
}{
	{"setover taper standards", 300, "a list of all there are"},
	{"setover taper curve --radius 15", 85, "a row for every cut"},
	{"setover taper curve --radius 20", 37, "a row for every cut"},
	{"setover taper stages", 59, "a procedure for every taper of the work"},
	{"setover facets", 66, "a row for every flat, or for every place along them"},
}

// noCautions are the questions of which no answer is cut.
var noCautions = regexp.MustCompile(`taper (solve|standards?|sine|gauge|seat)`)

// questions are the examples of tapers and flats that README.md and the help show.
func questions(t *testing.T) (list []string) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	list = regexp.MustCompile(`(?m)^setover (taper|facets) .*`).FindAllString(string(text), -1)
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		for line := range strings.Lines(c.Example) {
			list = append(list, strings.TrimSpace(line))
		}
	}
	for _, c := range newRoot(&app{Process: Process{Env: os.LookupEnv}, everything: true}, nil).Commands() {
		if c.Name() == "taper" || c.Name() == "facets" {
			walk(c)
		}
	}
	return list
}

// onScreen reports what does not fit a screen, and an answer without its cautions.
func onScreen(t *testing.T, line, plain string, most int, why string) {
	t.Helper()
	if n := strings.Count(plain, "\n"); n > most {
		t.Errorf("%s: %d lines, at most %d %s\n%s", line, n, most, why, plain)
	}
	for said := range strings.Lines(plain) {
		if len([]rune(strings.TrimRight(said, "\n"))) > screenColumns {
			t.Errorf("%s: wider than the screen: %s", line, said)
		}
	}
	mark := func(r rune) bool { return r == '\uFFFD' || '\uE000' <= r && r <= '\uF8FF' }
	if i := strings.IndexFunc(plain, mark); i >= 0 {
		t.Errorf("%s: a mark is left: %q", line, plain[max(0, i-20):min(len(plain), i+40)])
	}
	if !strings.Contains(plain, "Caution") && !noCautions.MatchString(line) {
		t.Errorf("%s: no cautions", line)
	}
}

// Every plain question of the tapers and of the flats is answered on one screen, its
// cautions too, but for the few that are listed.
func TestOneScreen(t *testing.T) {
	used := map[string]bool{}
	for _, line := range append(questions(t),
		"setover taper compound --large 1.5 --small 1.25 --length 2 --units in",
		"setover taper compound --half-angle 30",
		"setover taper stages --station 0=30 --station 60=20 --within 1",
		"setover taper compound --large 60 --small 20 --length 60 --small-end headstock",
		"setover taper compound --large 30 --small 20 --length 60 --small-end headstock",
		"setover taper compound --large 20 --small 15 --length 30 --internal --small-end headstock",
		"setover taper compound --large 20 --small 15 --length 30 --internal --small-end tailstock",
		"setover taper tailstock --large 1.2 --small 1.15 --length 5 --between 8 --units in",
		"setover taper tailstock --large 30 --small 28 --length 120 --between 200 --small-end headstock",
		"setover taper correct --large 30 --small 20 --length 60 --blue large",
		"setover taper correct --large 30 --small 20 --length 60 --measured 5=29.63 --measured 55=21.41",
		"setover taper correct --large 30 --small 20 --length 60 --measured 5=20.95 --measured 55=29.55",
		"setover taper correct --large 30 --small 20 --length 60 --blue small --gap 0.03",
		"setover taper correct --large 30 --small 28 --length 120 --between 200 --measured 5=30.2 --measured 115=28.4",
	) {
		if strings.Contains(line, "--out") || strings.Contains(line, "--working") {
			continue
		}
		most, why := screenLines, ""
		for _, l := range longer {
			if strings.HasPrefix(line, l.begins) {
				most, why, used[l.begins] = l.lines, l.why, true
			}
		}
		var plain string
		t.Run(line, func(t *testing.T) { _, plain, _ = trySeen(t, line, screenColumns, nil) })
		onScreen(t, line, plain, most, why)
	}
	for _, l := range longer {
		if !used[l.begins] {
			t.Errorf("no question begins with %s any more: it fits, or is gone", l.begins)
		}
	}
}

// matrixShops are the five shops of the plans' tests.
const matrixShops = "../../setup/plan/judge/testdata/parts/shops"

// slopes are tapers of each half angle, in mm and in inches: the large diameter, the length, and
// how long work between centres is.
var slopes = []struct {
	half, units          string
	large, long, between string
}{
	{"5", "mm", "30", "40", "200"},
	{"5", "mm", "50", "120", "200"}, // in bites
	{"30", "mm", "40", "25", "200"},
	{"30", "mm", "90", "60", "200"}, // in bites
	{"60", "mm", "60", "12", "200"},
	{"85", "mm", "80", "3", "200"},
	{"5", "in", "1.25", "1.5", "8"},
	{"5", "in", "2", "5", "8"},
	{"30", "in", "1.5", "1", "8"},
	{"30", "in", "3.5", "2.5", "8"},
	{"60", "in", "2.5", "0.5", "8"},
	{"85", "in", "3", "0.1", "8"},
}

// more are the questions of the matrix that do not fit, with the reason.
var more = []struct {
	asks  *regexp.Regexp
	lines int
	why   string
}{
	{
		regexp.MustCompile(`taper compound --large (50|90|2|3\.5) .* --shop shop-inch`), 29,
		"in bites on a compound whose scale does not reach: how the indicator is held, and what moves, want a procedure each",
	},
	{
		regexp.MustCompile(`taper compound .* --from-jaws`), 28,
		"where it stands, what was not checked, and which tool clears, beside a procedure that fills the screen",
	},
	{
		regexp.MustCompile(`taper compound --large (60|2\.5) .*--small-end headstock --from-jaws`), 31,
		"tight, or a no: what gives more room",
	},
	{
		regexp.MustCompile(`taper compound --large (50|2) .*--from-jaws`), 33,
		"in bites and by indicator, and where it stands",
	},
	{
		regexp.MustCompile(`taper correct --large (40|2) .*--measured`), 29,
		"in bites: what is done to each, and how one comes to the next",
	},
	{
		regexp.MustCompile(`taper stages (--station \S+ ){2}`), 33,
		"the bar that all is counted from is the first step, and the work beside the taper is told in every one",
	},
	{regexp.MustCompile(`taper stages (--station \S+ ){4}`), 59, "two tapers: a procedure for each"},
	{
		regexp.MustCompile(`taper tailstock .*--small-end headstock --shop shop-latheonly`), 26,
		"the shop says so little that what was not checked takes two lines",
	},
}

// matrix asks for every slope, outside and bore, both ends, and how it is put right and best cut.
func matrix() (list []string) {
	for _, s := range slopes {
		is := fmt.Sprintf(" --large %s --half-angle %s --length %s --units %s", s.large, s.half, s.long, s.units)
		list = append(list, "compound"+is, "compound"+is+" --small-end headstock",
			"compound"+is+" --internal --small-end headstock", "compound"+is+" --internal --small-end tailstock",
			"way"+is, "correct"+is+" --blue large",
			"tailstock"+is+" --between "+s.between, "tailstock"+is+" --between "+s.between+" --small-end headstock")
	}
	return append(list, standing()...)
}

// standing asks for work that stands in the chuck, for several stages of it, and for what was measured
// within one bite or cut in one go.
func standing() (list []string) {
	for _, in := range []struct {
		units, jaws, centre string
		tapers, measured    []string
		one, two            string
	}{
		{
			"mm", "30", "200",
			[]string{
				"--large 30 --half-angle 5 --length 40", "--large 50 --half-angle 5 --length 120",
				"--large 40 --half-angle 30 --length 25", "--large 60 --half-angle 60 --length 12",
			},
			[]string{
				"--large 40 --small 20 --length 200 --measured 5=39.8 --measured 35=36.9",
				"--large 30 --small 25 --length 40 --measured 3=29.95 --measured 37=25.9",
			},
			"0=34 50=24", "0=20 40=34 60=34 100=20",
		},
		{
			"in", "1.2", "8",
			[]string{
				"--large 1.25 --half-angle 5 --length 1.5", "--large 2 --half-angle 5 --length 5",
				"--large 1.5 --half-angle 30 --length 1", "--large 2.5 --half-angle 60 --length 0.5",
			},
			[]string{
				"--large 2 --small 1 --length 8 --measured 0.2=1.99 --measured 1=1.9",
				"--large 1.25 --small 1 --length 1.5 --measured 0.1=1.248 --measured 1.4=1.035",
			},
			"0=1.3 2=0.9", "0=0.8 1.5=1.3 2.4=1.3 4=0.8",
		},
	} {
		units := " --units " + in.units
		for _, is := range in.tapers {
			for _, end := range []string{"", " --small-end headstock"} {
				at := end + " --from-jaws " + in.jaws
				list = append(list, "compound "+is+units+at, "compound "+is+units+at+" --centre-at "+in.centre)
			}
		}
		for _, is := range in.measured {
			list = append(list, "correct "+is+units, "correct "+is+units+" --small-end headstock",
				"correct "+is+units+" --internal --small-end headstock")
		}
		for _, is := range []string{in.one, in.two} {
			stations := ""
			for _, s := range strings.Fields(is) {
				stations += "--station " + s + " "
			}
			list = append(list, "stages "+stations+units[1:], "stages "+stations+"--from-jaws "+in.jaws+units)
		}
	}
	return list
}

// The plain question about a taper is answered on one screen in every shop, at every angle, outside
// and inside, in mm and in inches, with its cautions.
func TestOneScreenInEveryShop(t *testing.T) {
	shops, err := filepath.Glob(matrixShops + "/*.yaml")
	if err != nil || len(shops) != 5 {
		t.Fatal(shops, err)
	}
	dir := t.TempDir()
	for _, shop := range shops {
		body, err := os.ReadFile(shop)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(shop)), body, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("SETOVER_SHOP", "")
	for _, shop := range shops {
		for _, question := range matrix() {
			line := "setover taper " + question + " --shop " + filepath.Base(shop)
			var out, problems bytes.Buffer
			a := &app{Process: Process{Args: strings.Fields(line)[1:], Stdout: &out, Stderr: &problems, Env: os.LookupEnv}}
			a.columns = screenColumns
			if status := a.run(); status > 1 {
				t.Errorf("%s: %s", line, &problems)
			}
			most, why := screenLines, ""
			for _, m := range more {
				if m.asks.MatchString(line) {
					most, why = m.lines, m.why
				}
			}
			onScreen(t, line, out.String(), most, why)
		}
	}
}

// What is set stands in the title and the first step; the rest is there with the
// working, and in full.
func TestWorkingIsWhole(t *testing.T) {
	for _, line := range []string{
		"setover taper compound --large 30 --small 20 --length 60 --shop builtin",
		"setover taper compound --half-angle 30 --shop builtin",
		"setover taper compound --standard MT2 --shop builtin",
		"setover taper compound --large 20 --small 15 --length 30 --internal --small-end headstock --shop builtin",
	} {
		_, plain, _ := try(t, line)
		if !strings.Contains(plain, ", half angle ") || !strings.Contains(plain, "\n1.  From zero") {
			t.Errorf("%s:\n%s", line, plain)
		}
		_, whole, _ := try(t, line+" --working")
		for _, figure := range []string{
			"exact reading", "included angle", "nearest mark", "Working", "only the compound feeds", "before the first cut",
			"local codes",
		} {
			if !strings.Contains(whole, figure) || strings.Contains(plain, figure) {
				t.Errorf("%s: %s", line, figure)
			}
		}
		if _, page, _ := try(t, line+" --format md"); !strings.Contains(page, "only the compound feeds") {
			t.Errorf("%s: on paper it is not whole:\n%s", line, page)
		}
	}
}
