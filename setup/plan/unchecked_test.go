package plan

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What is not checked for want of a key in the shop's file is said in words: every key that
// the checks of a step ask for has some.
func TestUncheckedHasWords(t *testing.T) {
	files, err := filepath.Glob("certify/*.go")
	if err != nil {
		t.Fatal(err)
	}
	asked, n := regexp.MustCompile(`missing\("([a-z_.]+)"`), 0
	for _, f := range append(files, "cross.go") {
		for _, m := range asked.FindAllStringSubmatch(string(readFile(t, f)), -1) {
			n++
			keys := strings.Split(m[1], ".")
			if unsaid[keys[len(keys)-1]] == "" {
				t.Errorf("%s: no words for %s", f, m[1])
			}
		}
	}
	if n < 8 {
		t.Errorf("%d keys found", n)
	}
}
