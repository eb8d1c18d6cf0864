package judge_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"setover/setup/plan/judge"
)

// file reads a YAML file as it is decoded by the library, not by the program.
func file(t *testing.T, path string) judge.Tree {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return tree(t, text)
}

func tree(t *testing.T, text []byte) judge.Tree {
	t.Helper()
	var m map[string]any
	if err := yaml.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// written is a plan of testdata, written by hand.
func written(t *testing.T, name string) map[string]any {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var p map[string]any
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

func judged(t *testing.T, name string, status int, p map[string]any) []judge.Fault {
	t.Helper()
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return judge.Judge(status, text, file(t, "testdata/"+name+".yaml"), file(t, "testdata/bench.yaml"))
}

// The plans that were written by hand can be cut.
func TestByHand(t *testing.T) {
	for _, name := range []string{"pin", "bush", "bar"} {
		for _, f := range judged(t, name, 0, written(t, name)) {
			t.Errorf("%s: %s", name, f)
		}
	}
}

// Each plan is spoiled in one place, and refused with the code of that place
// alone.
func TestSpoiled(t *testing.T) {
	for _, s := range spoiled {
		p := written(t, s.plan)
		s.spoil(card(p))
		faults := judged(t, s.plan, s.status, p)
		if got := strings.Join(judge.Codes(faults), " "); got != s.code {
			t.Errorf("%s, %s: refused with %q, want %q: %v", s.plan, s.what, got, s.code, faults)
		}
	}
}
