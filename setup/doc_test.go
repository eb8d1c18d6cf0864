package setup_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// house is what doc.go states.
type house struct {
	floors map[string]int
	homes  map[string]string
}

// stated reads doc.go's lists.
func stated(t *testing.T) house {
	t.Helper()
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	h := house{map[string]int{}, map[string]string{}}
	for _, m := range regexp.MustCompile(`(?m)^//\t([0-9])  (\S+)  +\S`).FindAllStringSubmatch(string(text), -1) {
		h.floors[m[2]] = int(m[1][0] - '0')
	}
	for _, m := range regexp.MustCompile(`(?m)^//\t(\S+\.\S+/\S+)  +(\S+)$`).FindAllStringSubmatch(string(text), -1) {
		h.homes[m[1]] = m[2]
	}
	return h
}

// room returns the named package p stands with, or "".
func (h house) room(p string) string {
	for ; p != "."; p = filepath.ToSlash(filepath.Dir(p)) {
		if _, ok := h.floors[p]; ok {
			return p
		}
	}
	return ""
}

// forbids returns why a package of the product, by its path without "setover/",
// may not import another, or "".
func (h house) forbids(from, to string) string {
	a, b := h.room(from), h.room(to)
	switch {
	case a == "" || b == "":
		return "stands on no floor"
	case to == "setup/page/render" && from != "cmd/cli":
		return "is used by cmd/cli alone"
	case a == b:
		rooted := a == "tapers" || a == "threads" || a == "feeds"
		if rooted && from == a {
			return "is a room, and the root uses no room"
		}
		return ""
	case h.floors[b] < h.floors[a]:
		return ""
	case h.floors[b] == h.floors[a]:
		return fmt.Sprintf("is a neighbour on floor %d", h.floors[a])
	}
	return fmt.Sprintf("runs upward, from floor %d to %d", h.floors[a], h.floors[b])
}

// homeless returns why a package may not import another project's, or "".
func (h house) homeless(from, to string) string {
	for path, home := range h.homes {
		if to == path || strings.HasPrefix(to, path+"/") {
			if home == "anywhere" || from == home {
				return ""
			}
			return "lives in " + home + " only"
		}
	}
	return "has no home here"
}

// Imports point downwards.
func TestFloors(t *testing.T) {
	h := stated(t)
	if len(h.floors) < 10 || len(h.homes) == 0 {
		t.Fatal("doc.go was not understood: ", h)
	}
	seen := map[string]bool{}
	for _, p := range list(t) {
		from, ours := p.ours()
		if !ours || from == "setup" || from == "setup/page/published" {
			continue
		}
		seen[h.room(from)] = true
		if h.room(from) == "" {
			t.Errorf("%s stands on no floor of setup/doc.go", from)
			continue
		}
		for _, to := range p.Imports {
			inside, ours := strings.CutPrefix(to, module)
			why := ""
			switch {
			case to == module+"setup/page/published" || to == module+"setup/plan/judge":
				why = "is used by tests alone"
			case ours:
				why = h.forbids(from, inside)
			case strings.Contains(strings.Split(to, "/")[0], "."):
				why = h.homeless(from, to)
			}
			if why != "" {
				t.Errorf("%s imports %s, which %s", from, to, why)
			}
		}
	}
	for name := range h.floors {
		if !seen[name] {
			if _, err := os.Stat(filepath.Join("..", name)); err == nil {
				t.Errorf("%s is there, but go list does not show it", name)
			}
		}
	}
}

// The check itself: what each kind of wrong import earns.
func TestFloorsForbid(t *testing.T) {
	h := stated(t)
	for _, tc := range []struct{ from, to, want string }{
		{"tapers", "setup/base/units", ""},
		{"tapers/compound", "tapers", ""},
		{"tapers/stages", "tapers/compound", ""},
		{"setup/plan", "setup/plan/order", ""},
		{"setup/base/units", "setup/base/problem", ""},
		{"setup/bench/holes", "feeds", ""},
		{"tapers", "tapers/compound", "is a room, and the root uses no room"},
		{"tapers", "threads", "is a neighbour on floor 4"},
		{"setup/page/sheet", "setup/book/drills", "is a neighbour on floor 1"},
		{"setup/maker/shop", "tapers", "runs upward, from floor 2 to 4"},
		{"setup/page/sheet", "setup/page/render", "is used by cmd/cli alone"},
		{"setup/plan", "setup/page/render", "is used by cmd/cli alone"},
		{"tapers", "setup/elsewhere", "stands on no floor"},
	} {
		if got := h.forbids(tc.from, tc.to); got != tc.want {
			t.Errorf("%s -> %s: %q, want %q", tc.from, tc.to, got, tc.want)
		}
	}
	for _, tc := range []struct{ from, to, want string }{
		{"setup/maker/files", "github.com/goccy/go-yaml/ast", ""},
		{"setup/maker/part", "github.com/goccy/go-yaml/ast", "lives in setup/maker/files only"},
		{"setup/plan", "github.com/olekukonko/tablewriter", "lives in setup/page/render only"},
		{"tapers", "github.com/spf13/cobra", "lives in cmd/cli only"},
		{"tapers", "github.com/shopspring/decimal", ""},
		{"tapers", "example.org/other", "has no home here"},
	} {
		if got := h.homeless(tc.from, tc.to); got != tc.want {
			t.Errorf("%s -> %s: %q, want %q", tc.from, tc.to, got, tc.want)
		}
	}
}

// The top of the tree holds the named entries and dot-files, nothing else.
func TestTopLevel(t *testing.T) {
	named := []string{
		"cmd", "setup", "threads", "tapers", "feeds", "testdata",
		"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE", "CHANGELOG.md",
	}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		n := e.Name()
		if !slices.Contains(named, n) && !strings.HasPrefix(n, ".") && !ignored(n) {
			t.Errorf("%s stands at the top of the tree; it holds only %s and dot-files", n, strings.Join(named, " "))
		}
	}
	for _, n := range named[6:] {
		if _, err := os.Stat(filepath.Join("..", n)); err != nil {
			t.Error(err)
		}
	}
}

// ignored reports whether a name at the top is what a build leaves behind.
func ignored(name string) bool {
	text, _ := os.ReadFile("../.gitignore")
	for _, line := range strings.Fields(string(text)) {
		if ok, _ := filepath.Match(strings.Trim(line, "/"), name); ok {
			return true
		}
	}
	return false
}

// modules are those the program is linked of, beside itself. Adding one is a
// decision: say in the commit what it brings and what it costs.
var modules = []string{
	"codeberg.org/go-pdf/fpdf",
	"github.com/cespare/xxhash/v2",
	"github.com/clipperhouse/displaywidth",
	"github.com/clipperhouse/uax29/v2",
	"github.com/fatih/color",
	"github.com/goccy/go-yaml",
	"github.com/mattn/go-colorable",
	"github.com/mattn/go-isatty",
	"github.com/mattn/go-runewidth",
	"github.com/olekukonko/cat",
	"github.com/olekukonko/errors",
	"github.com/olekukonko/ll",
	"github.com/olekukonko/tablewriter",
	"github.com/shopspring/decimal",
	"github.com/spf13/cobra",
	"github.com/spf13/pflag",
	"golang.org/x/sys",
	"golang.org/x/term",
}

// The budgets: how many modules are linked, how large the stripped program is
// in bytes, and how often a package of ours allocates before main: enough for
// a few names and constants, too little for a table or a regular expression.
const (
	mostModules = 24
	mostBytes   = 16 << 20
	mostAllocs  = 24
)

// What the program is made of, by name and by weight.
func TestBudget(t *testing.T) {
	linked := map[string]bool{}
	all, seen := list(t), map[string]bool{}
	var follow func(path string)
	follow = func(path string) {
		if seen[path] {
			return
		}
		seen[path] = true
		if m := all[path].Module; m != nil && m.Path+"/" != module {
			linked[m.Path] = true
		}
		for _, to := range all[path].Imports {
			follow(to)
		}
	}
	follow(module + "cmd/setover")
	for m := range linked {
		if !slices.Contains(modules, m) {
			t.Errorf("%s is linked and not on the list", m)
		}
	}
	for _, m := range modules {
		if !linked[m] {
			t.Errorf("%s is on the list and not linked", m)
		}
	}
	if len(linked) > mostModules {
		t.Errorf("%d modules are linked, at most %d", len(linked), mostModules)
	}
	program := filepath.Join(t.TempDir(), "setover")
	build := exec.Command("go", "build", "-tags", "netgo", "-ldflags=-s", "-o", program, "./cmd/setover")
	build.Dir = ".."
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	info, err := os.Stat(program)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d modules, %d bytes", len(linked), info.Size())
	if info.Size() > mostBytes {
		t.Errorf("the program has %d bytes, at most %d", info.Size(), mostBytes)
	}

	// Nothing is computed when a package is loaded: the runtime's own trace
	// says how much each allocates before main.
	run := exec.Command(program, "--version")
	run.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	trace, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, trace)
	}
	loads := regexp.MustCompile(`(?m)^init (setover/\S+) .* (\d+) allocs$`).FindAllStringSubmatch(string(trace), -1)
	if len(loads) == 0 {
		t.Fatalf("the trace was not understood:\n%s", trace)
	}
	for _, m := range loads {
		if n, err := strconv.Atoi(m[2]); err != nil || n > mostAllocs {
			t.Errorf("%s allocates %s times when it is loaded, at most %d: do it on first use", m[1], m[2], mostAllocs)
		}
	}
}
