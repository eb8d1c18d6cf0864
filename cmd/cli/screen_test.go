package cli

import (
	"strings"
	"testing"
)

// What is asked in the plainest words fits a screen of 25 lines, title and cautions
// included, and begins with the angle; everything else is there with the working.
func TestOneScreen(t *testing.T) {
	for _, line := range []string{
		"setover taper compound --large 30 --small 20 --length 60 --shop builtin",
		"setover taper compound --large 1.5 --small 1.25 --length 2 --units in --shop builtin",
		"setover taper compound --half-angle 30 --shop builtin",
		"setover taper compound --standard MT2 --shop builtin",
		"setover taper compound --large 20 --small 15 --length 30 --internal --small-end headstock --shop builtin",
	} {
		_, plain, _ := try(t, line)
		if n := strings.Count(plain, "\n"); n > 25 || !strings.Contains(plain, "\n1.  From zero") {
			t.Errorf("%s: %d lines\n%s", line, n, plain)
		}
		_, whole, _ := try(t, line+" --working")
		for _, figure := range []string{"exact reading", "included angle", "nearest mark", "Working"} {
			if !strings.Contains(whole, figure) || strings.Contains(plain, figure+"  ") {
				t.Errorf("%s: %s", line, figure)
			}
		}
	}
}
