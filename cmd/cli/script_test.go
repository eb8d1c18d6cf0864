package cli_test

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"setover/cmd/cli"
)

var update = flag.Bool("update", false, "rewrite the expected layouts in testdata/golden")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"setover": func() { os.Exit(cli.Main()) }})
}

// The scripts in testdata/script say what a user types and sees.
//
//	layout NAME     compares the last output with testdata/golden/NAME, every digit as #
//	json KEY VALUE  compares one value of the last output's JSON object; KEY is a path such as stages.0.kind
func TestScripts(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join(root, "testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir)
			e.Setenv("DATA", filepath.Join(root, "testdata"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"layout": func(ts *testscript.TestScript, neg bool, args []string) {
				compareLayout(ts, filepath.Join(root, "testdata", "golden", args[0]))
			},
			"json": compareJSON,
		},
	})
}

var (
	digits = regexp.MustCompile(`[0-9]`)
	// A column is as wide as its widest number: runs of blanks and rules count
	// as one, so that a changed number does not change the layout.
	blanks = regexp.MustCompile(` {2,}`)
	rules  = regexp.MustCompile(`-{3,}`)
)

// compareLayout compares the last output with a golden file, digits as #.
func compareLayout(ts *testscript.TestScript, name string) {
	got := digits.ReplaceAllString(ts.ReadFile("stdout"), "#")
	got = regexp.MustCompile(`#+`).ReplaceAllString(got, "#")
	got = rules.ReplaceAllString(blanks.ReplaceAllString(got, "  "), "---")
	if *update {
		ts.Check(os.MkdirAll(filepath.Dir(name), 0o777))
		ts.Check(os.WriteFile(name, []byte(got), 0o666))
		return
	}
	want, err := os.ReadFile(name)
	ts.Check(err)
	if got != string(want) {
		ts.Fatalf("the layout differs from %s (rewrite it with: go test ./cmd/cli -update)\n--- got\n%s--- want\n%s", name,
			got, want)
	}
}

// compareJSON compares one value of the last output's JSON object.
func compareJSON(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: json KEY VALUE")
	}
	d := json.NewDecoder(strings.NewReader(ts.ReadFile("stdout")))
	d.UseNumber()
	var v any
	ts.Check(d.Decode(&v))
	for _, key := range strings.Split(args[0], ".") {
		switch at := v.(type) {
		case map[string]any:
			next, ok := at[key]
			if !ok {
				ts.Fatalf("no key %s in %s", key, args[0])
			}
			v = next
		case []any:
			var i int
			ts.Check(json.Unmarshal([]byte(key), &i))
			if i < 0 || i >= len(at) {
				ts.Fatalf("%s has %d items", args[0], len(at))
			}
			v = at[i]
		default:
			ts.Fatalf("%s goes deeper than the answer", args[0])
		}
	}
	got := ""
	switch x := v.(type) {
	case string:
		got = x
	case json.Number:
		got = x.String()
	default:
		text, err := json.Marshal(x)
		ts.Check(err)
		got = string(text)
	}
	if (got == args[1]) == neg {
		ts.Fatalf("%s is %s, want %s", args[0], got, args[1])
	}
}
