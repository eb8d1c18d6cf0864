package cli

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"setover/setup/page/sheet"
)

// computesNothing stands where a command's answer is what it read.
const computesNothing = "computes nothing"

// proofs say of each command where CHANGELOG.md tells of it, by words of one of
// its lines, and which test of the package that makes its result holds a figure
// that somebody else published or that was worked by hand.
var proofs = map[string]struct{ told, test string }{
	"chart":             {"wall charts", "TestTapers"},
	"convert":           {"one size in every unit", "TestDrillCharts"},
	"dial":              {"the reading to wind a dial to", "TestNext"},
	"divide":            {"dividing by hole plates", "TestPublished"},
	"facets jig":        {"the cradle", "TestJigByHand"},
	"facets progress":   {"the growing flat", "TestProgressByHand"},
	"facets size":       {"flats on a round bar", "TestPublishedConstants"},
	"facets slope":      {"planes that slope two ways", "TestSlopeByHand"},
	"facets taper":      {"flats on a round bar and on a cone", "TestTaperByHand"},
	"fit":               {"limits and fits", "TestWorkedLimits"},
	"general":           {"limits and fits", "TestGeneralAsPrinted"},
	"holes circle":      {"circles", "TestChordsAgainstPublished"},
	"holes clock":       {"clocking by a pin", "TestClock"},
	"holes depth":       {"depths with points", "TestPoints"},
	"holes grid":        {"grids", "TestGrid"},
	"holes row":         {"rows", "TestPlaces"},
	"holes slot":        {"chain-drilled slots", "TestChainDrill"},
	"holes vblock":      {"v-blocks", "TestTheVThatMultiplies"},
	"holes wall":        {"the wall every cross hole", "TestByHand"},
	"plan":              {"the whole part", "TestBlankByHand"},
	"speed belt":        {"belts", "TestBeltSpeedsAsPrinted"},
	"speed bore":        {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed countersink": {"speeds, feeds, power", "TestRules"},
	"speed drill":       {"speeds, feeds, power", "TestChoose"},
	"speed face":        {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed finish":      {"finish", "TestFinishPublished"},
	"speed grind":       {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed mill":        {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed overhang":    {"springing work", "TestOverhang"},
	"speed part-off":    {"speeds, feeds, power", "TestRules"},
	"speed ream":        {"speeds, feeds, power", "TestChoose"},
	"speed saw":         {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed tap":         {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed thread":      {"speeds, feeds, power", "TestPublishedSpeeds"},
	"speed turn":        {"speeds, feeds, power", "TestChoose"},
	"taper compound":    {"set on the compound", "TestTurns"},
	"taper correct":     {"putting a taper right", "TestCorrectByHand"},
	"taper curve":       {"domes and arcs", "TestSimulated"},
	"taper gauge balls": {"rolls, discs and balls", "TestBallsByHand"},
	"taper gauge discs": {"rolls, discs and balls", "TestDiscsByHand"},
	"taper gauge rolls": {"rolls, discs and balls", "TestRollsByHand"},
	"taper seat":        {"where a collar stops", "TestSeat"},
	"taper sine":        {"sine bar", "TestSine"},
	"taper solve":       {"solved from any facts", "TestPublishedSlopes"},
	"taper stages":      {"in stages", "TestSettings"},
	"taper standard":    {"tapers that have a name", "TestPublishedSlopes"},
	"taper standards":   {"tapers that have a name", "TestTable"},
	"taper tailstock":   {"the tailstock", "TestPublishedOffsets"},
	"taper way":         {"set on the compound", "TestTimeByHand"},
	"thread clock":      {"clocking", "TestClock"},
	"thread dial":       {"thread dial", "TestDialPlate"},
	"thread drill":      {"the hole to tap", "TestPublishedHoles"},
	"thread engage":     {"engagement", "TestShearAreas"},
	"thread flats":      {"threads on flat bars", "TestFlats"},
	"thread gears":      {"change gears", "TestGears"},
	"thread passes":     {"passes", "TestGrooveDepths"},
	"thread show":       {"sizes and limits", "TestMetricLimits"},
	"thread wires":      {"over three wires", "TestPublished"},

	"completion": {"completion for bash", computesNothing},
	"part check": {"read strictly", computesNothing},
	"part new":   {"commented examples", computesNothing},
	"part show":  {"part and project files", computesNothing},
	"shop check": {"read strictly", computesNothing},
	"shop new":   {"commented examples", computesNothing},
	"shop show":  {"shop, part and project files", computesNothing},
	"version":    {"the first version", computesNothing},
}

// Every command is complete: a script runs it, an example shows it,
// CHANGELOG.md tells of it, and a figure that is not ours stands in a test of
// the package that computes it.
func TestComplete(t *testing.T) {
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join("../..", name))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	changes := strings.ToLower(read("CHANGELOG.md"))
	scripts, examples := "", strings.Join(exampleLines(t), "\n")+"\n"
	names, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		scripts += read(strings.TrimPrefix(name, "../../"))
	}
	seen, missing := results(t), maps.Clone(proofs)
	leaves(everything(), func(c *cobra.Command) {
		name := strings.TrimPrefix(c.CommandPath(), "setover ")
		delete(missing, name)
		said := func(by, text string) bool {
			return regexp.MustCompile(`(?m)^` + by + name + `( .*)?$`).MatchString(text)
		}
		if !said("exec setover ", scripts) {
			t.Errorf("%s: no script in testdata/script runs it", name)
		}
		if !said("setover ", examples) && !strings.Contains(c.Example, "setover "+name) {
			t.Errorf("%s: no example in README.md or in its help", name)
		}
		proof := proofs[name]
		if proof.told == "" || !strings.Contains(changes, strings.ToLower(proof.told)) {
			t.Errorf("%s: CHANGELOG.md has no line with %q, which proofs names", name, proof.told)
		}
		switch proof.test {
		case computesNothing:
		case "":
			t.Errorf("%s: proofs names no test that holds a figure that is not ours", name)
		default:
			proven(t, name, proof.test, seen[name])
		}
	})
	for name := range missing {
		t.Errorf("%s: there is no such command", name)
	}
}

// notOurs is how a test says that a figure is not ours: it reads
// testdata/reference, names its source, or was worked by hand.
var notOurs = regexp.MustCompile(`published\.(Rows|Examples|Answers|NewTally)\(|\b(src|source)\b|by hand`)

// proven reports a command whose proof is not what it should be: a test of the
// package of one of its results, with a figure that is not ours.
func proven(t *testing.T, name, test string, results []sheet.Result) {
	t.Helper()
	var folders []string
	for _, r := range results {
		kind := reflect.TypeOf(r)
		if kind.Kind() == reflect.Pointer {
			kind = kind.Elem()
		}
		folders = append(folders, strings.TrimPrefix(kind.PkgPath(), "setover/"))
	}
	slices.Sort(folders)
	folders = slices.Compact(folders)
	for _, folder := range folders {
		if text := declared(t, folder, test); notOurs.MatchString(text) {
			return
		}
	}
	t.Errorf("%s: no %s in the tests of %v reads testdata/reference, names a source or was worked by hand: "+
		"put into proofs which test does", name, test, folders)
}

// declared returns the text of a function of a folder's tests with its comment,
// or "".
func declared(t *testing.T, folder, name string) string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("../..", folder, "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range names {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, rest, ok := strings.Cut(string(text), "\nfunc "+name+"(")
		if !ok {
			continue
		}
		before := text[:len(text)-len(rest)]
		comment := before[strings.LastIndex(string(before), "\n\n")+1:]
		body, _, _ := strings.Cut(rest, "\n}\n")
		return string(comment) + body
	}
	return ""
}
