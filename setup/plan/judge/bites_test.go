package judge_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/plan/judge"
)

// rods are too thin for a tool to finish their taper, which a file does, and it is longer than
// the compound's slide goes. Each is no thicker than the bar at its large end, where the feed
// begins, so that the tip meets nothing there. By hand in mm, of a tool that leaves 0.4 for the
// file: 8 touched, (8 + 0.4 - 8)/2 = 0.2 out, 8 lines of 0.025. In inches on lines of 0.001 in:
// 5/16 is 7.9375, 0.2/0.0254 = 7.87, the nearest line 8.
var rods = []struct{ shop, part, last string }{
	{"shop-small", `format: 1
part: Rod
units: mm
material: low-carbon-steel
round:
  stock: 8
  profile: [[0, 8], [10, 8], [80, 5], [100, 5]]
`, "the last line is 0.2 mm (8 div) out from 0"},
	{"shop-inch", `format: 1
part: Rod
units: in
material: low-carbon-steel
round:
  stock: 0.3125
  profile: [[0, 0.3125], [0.375, 0.3125], [3.375, 0.1875], [4, 0.1875]]
`, "the last line is 0.203 mm (8 div) out from 0"},
}

// A taper that a file finishes, in bites that begin at its large end, is counted from there.
func TestFiledInBitesFromTheLargeEnd(t *testing.T) {
	for _, rod := range rods {
		shop, err := os.ReadFile(shopFile(rod.shop))
		if err != nil {
			t.Fatal(err)
		}
		// Else the tailstock is set over for it, or a steady carries it.
		lines := strings.Split(string(shop), "\n")
		for i, line := range lines {
			if strings.Contains(line, "tailstock:") {
				lines[i] = line[:strings.Index(line, "setover:")] + line[strings.Index(line, "}, ")+3:]
			}
			if strings.Contains(line, "steady:") {
				lines[i] = ""
			}
		}
		path := filepath.Join(t.TempDir(), "shop.yaml")
		if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")), 0o600); err != nil {
			t.Fatal(err)
		}
		text, status, err := planned("rod.yaml", []byte(rod.part), path)
		if err != nil {
			t.Fatal(rod.shop, ": ", err)
		}
		for _, f := range judge.Judge(status, text, tree(t, []byte(rod.part)), file(t, path)) {
			t.Errorf("%s, status %d: %s", rod.shop, status, f)
		}
		if !strings.Contains(string(text), rod.last) {
			t.Errorf("%s: not %q in %s", rod.shop, rod.last, text)
		}
	}
}
