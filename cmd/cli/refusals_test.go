package cli

import (
	"bytes"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
)

const (
	refusalsDir  = "../../testdata/refusals"
	refusalsPage = "docs/refusals.md"
)

// codes returns every code of setup/base/problem by the name of its constant.
func codes(t *testing.T) map[string]problem.Code {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../../setup/base/problem/problem.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]problem.Code{}
	ast.Inspect(file, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok || len(v.Values) != 1 {
			return true
		}
		if kind, ok := v.Type.(*ast.Ident); ok && kind.Name == "Code" {
			text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			all[v.Names[0].Name] = problem.Code(text)
		}
		return true
	})
	if len(all) < 20 {
		t.Fatalf("only %d codes found", len(all))
	}
	return all
}

// A refusal is one file of testdata/refusals: what the code means, the command
// line and files that earn it, and exactly what is said. A code that guards what
// no plan does is shown by a test of its own package instead: "folder test".
type refusal struct {
	meaning, command   string
	shown              string
	files              []txtar.File
	stderr, no, status string
}

func readRefusal(t *testing.T, name string) (*txtar.Archive, refusal) {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r := refusal{meaning: strings.TrimSpace(string(a.Comment))}
	for _, f := range a.Files {
		switch text := strings.TrimSuffix(string(f.Data), "\n"); f.Name {
		case "command":
			r.command = text
		case "shown":
			r.shown = text
		case "stderr":
			r.stderr = text
		case "no":
			r.no = text
		case "status":
			r.status = text
		default:
			r.files = append(r.files, f)
		}
	}
	return a, r
}

// run runs the refusal's command in a folder with its files, and returns what
// was said and the codes it was said with.
func (r *refusal) run(t *testing.T) (said refusal, told []problem.Code) {
	t.Helper()
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("SETOVER_SHOP", "")
	for _, f := range r.files {
		if err := os.WriteFile(f.Name, f.Data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var out, problems bytes.Buffer
	a := &app{Process: Process{Args: shellWords(r.command)[1:], Stdout: &out, Stderr: &problems, Env: os.LookupEnv}}
	var list problem.List
	a.saw = func(x sheet.Result) { list = append(list, x.Fails()...) }
	root := newRoot(a, a.Args)
	root.SetArgs(a.Args)
	status := 0
	if err := root.Execute(); err != nil {
		status = a.report(err)
		var file ioError
		if errors.As(err, &file) {
			err = file.error
		}
		list.Add(err)
	} else {
		status = a.status
	}
	for _, p := range list {
		told = append(told, p.Code)
	}
	var no []string
	for _, m := range regexp.MustCompile(`(?m)^NO: (.*)$`).FindAllStringSubmatch(out.String(), -1) {
		no = append(no, m[1])
	}
	if status > statusNo && out.Len() > 0 {
		t.Errorf("status %d, and stdout is not empty:\n%s", status, out.String())
	}
	return refusal{
		stderr: strings.TrimSuffix(problems.String(), "\n"), no: strings.Join(no, "\n"),
		status: strconv.Itoa(status),
	}, told
}

// Every code has a file, every file is a code, and what is said is what stands
// in it, to the letter. -update writes it anew; then read the difference.
func TestRefusals(t *testing.T) {
	names, err := filepath.Glob(refusalsDir + "/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files := map[problem.Code]string{}
	for _, name := range names {
		files[problem.Code(strings.TrimSuffix(filepath.Base(name), ".txtar"))] = name
	}
	known := slices.Collect(maps.Values(codes(t)))
	for _, c := range known {
		if _, ok := files[c]; !ok {
			t.Errorf("%s has no file in testdata/refusals", c)
		}
	}
	var page strings.Builder
	page.WriteString("# Refusals\n\nEvery kind of refusal with an example: what was asked, and what is said. The code " +
		"in the heading stays the same for scripts; statuses are in the table. This page is generated from " +
		"`testdata/refusals`; `go test ./cmd/cli -update` writes it.\n\n" +
		"| status | meaning |\n|---|---|\n| 0 | done |\n| 1 | the answer is no; the sheet is complete and says why |\n" +
		"| 2 | the command line or an input file is wrong; nothing is printed but the reason |\n" +
		"| 3 | a file could not be read or written |\n| 4 | a defect of setover itself |\n")
	for _, c := range slices.Sorted(maps.Keys(files)) {
		if !slices.Contains(known, c) {
			t.Errorf("%s is no code of setup/base/problem", files[c])
		}
		name, err := filepath.Abs(files[c])
		if err != nil {
			t.Fatal(err)
		}
		t.Run(string(c), func(t *testing.T) {
			a, want := readRefusal(t, name)
			if want.shown != "" {
				page.WriteString(want.guard(t, c))
				return
			}
			if want.meaning == "" || want.command == "" {
				t.Fatal("needs its meaning and a command")
			}
			got, told := want.run(t)
			if !slices.Contains(told, c) {
				t.Errorf("its command earns %v", told)
			}
			got.meaning, got.command, got.files = want.meaning, want.command, want.files
			page.WriteString(got.page(c))
			if updating() {
				if err := os.WriteFile(name, txtar.Format(got.archive(a)), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			for what, texts := range map[string][2]string{
				"stderr": {got.stderr, want.stderr}, "no": {got.no, want.no},
				"status": {got.status, want.status},
			} {
				if texts[0] != texts[1] {
					t.Errorf("%s is\n%s\nwant\n%s", what, texts[0], texts[1])
				}
			}
		})
	}
	compareDoc(t, refusalsPage, page.String())
}

// guard checks that the test that shows the code is there and names it, and
// returns its part of the page.
func (r refusal) guard(t *testing.T, c problem.Code) string {
	t.Helper()
	folder, test, _ := strings.Cut(r.shown, " ")
	names, err := filepath.Glob("../../" + folder + "/*_test.go")
	if err != nil || len(names) == 0 {
		t.Fatal(folder, "has no tests", err)
	}
	constant := ""
	for name, code := range codes(t) {
		if code == c {
			constant = name
		}
	}
	found := regexp.MustCompile(`(?s)func ` + test + `\(t \*testing\.T\) \{.*?\bproblem\.` + constant + `\b.*?\n\}\n`)
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if found.Match(text) {
			return fmt.Sprintf("\n## %s\n\n%s\n\nIt is a guard: a plan that is drafted as it should be never fails by it. "+
				"%s in `%s` breaks it by hand.\n", c, r.meaning, test, folder)
		}
	}
	t.Errorf("%s: %s does not name problem.%s", folder, test, constant)
	return ""
}

// archive returns the file of a refusal.
func (r refusal) archive(old *txtar.Archive) *txtar.Archive {
	a := &txtar.Archive{Comment: old.Comment, Files: []txtar.File{{Name: "command", Data: []byte(r.command + "\n")}}}
	a.Files = append(a.Files, r.files...)
	for _, s := range [][2]string{{"stderr", r.stderr}, {"no", r.no}, {"status", r.status}} {
		if s[1] != "" {
			a.Files = append(a.Files, txtar.File{Name: s[0], Data: []byte(s[1] + "\n")})
		}
	}
	return a
}

// page returns the refusal's part of the page.
func (r refusal) page(c problem.Code) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n## %s\n\n%s\n", c, r.meaning)
	for _, f := range r.files {
		fmt.Fprintf(&b, "\n`%s`:\n\n```yaml\n%s```\n", f.Name, f.Data)
	}
	fmt.Fprintf(&b, "\n```text\n$ %s\n", r.command)
	if r.stderr != "" {
		fmt.Fprintln(&b, r.stderr)
	}
	for line := range strings.Lines(r.no) {
		fmt.Fprintf(&b, "NO: %s\n", strings.TrimSuffix(line, "\n"))
	}
	fmt.Fprintf(&b, "```\n\nStatus %s.\n", r.status)
	return b.String()
}

// A code that nothing uses is no code.
func TestEveryCodeIsUsed(t *testing.T) {
	used := map[string]bool{}
	err := filepath.WalkDir("../..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range regexp.MustCompile(`\bproblem\.([A-Z]\w+)`).FindAllSubmatch(text, -1) {
			used[string(m[1])] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range codes(t) {
		if !used[name] {
			t.Errorf("problem.%s (%s) is used nowhere: take it out of setup/base/problem", name, c)
		}
	}
}
