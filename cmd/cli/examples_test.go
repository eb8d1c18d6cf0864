package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"setover/setup/page/sheet"
)

// try runs one line of the command line in a folder of its own that holds
// testdata, and returns what it printed.
func try(t *testing.T, line string) (status int, stdout, stderr string) {
	t.Helper()
	return trySeen(t, line, 0, nil)
}

// trySeen is try on a screen of so many columns, 0 for none, that hands every result
// that is written to saw.
func trySeen(t *testing.T, line string, columns int, saw func(sheet.Result)) (status int, stdout, stderr string) {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.Symlink(filepath.Join(root, "testdata"), "testdata"); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("SETOVER_SHOP", "")
	var out, problems bytes.Buffer
	a := &app{Process: Process{Args: shellWords(line)[1:], Stdout: &out, Stderr: &problems, Env: os.LookupEnv}, saw: saw}
	a.columns = columns
	status = a.run()
	return status, out.String(), problems.String()
}

// shellWords parts a line as a shell would, as far as the examples go: blanks
// part, double quotes hold together.
func shellWords(line string) []string {
	var list []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|\S+`).FindAllStringSubmatch(line, -1) {
		if strings.HasPrefix(m[0], `"`) {
			list = append(list, m[1])
			continue
		}
		list = append(list, m[0])
	}
	return list
}

// run is what an example printed, and the results it wrote.
type run struct {
	status         int
	stdout, stderr string
	results        []sheet.Result
}

// runs are the examples that ran already, by their lines.
var runs = map[string]run{}

// runOnce runs an example, unless a test before did.
func runOnce(t *testing.T, line string) run {
	t.Helper()
	r, ok := runs[line]
	if !ok {
		r.status, r.stdout, r.stderr = trySeen(t, line, 0, func(x sheet.Result) { r.results = append(r.results, x) })
		runs[line] = r
	}
	return r
}

// works reports an example that does not do what an example should: print an
// answer, or write the file it names, without a complaint.
func works(t *testing.T, line string) {
	t.Helper()
	r := runOnce(t, line)
	status, stdout, stderr := r.status, r.stdout, r.stderr
	if status > statusNo || stderr != "" {
		t.Fatalf("status %d\n%s", status, stderr)
	}
	if stdout == "" && !strings.Contains(line, "--out") && !strings.Contains(line, "--into") {
		t.Error("it printed nothing")
	}
}

// Every line of README.md that starts with setover works.
func TestREADME(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := regexp.MustCompile(`(?m)^setover .*`).FindAllString(string(text), -1)
	if len(lines) < 50 {
		t.Fatalf("only %d examples found in README.md", len(lines))
	}
	for _, line := range lines {
		t.Run(line, func(t *testing.T) { works(t, line) })
	}
}

// Every answer that README.md shows is what its command prints, to the letter.
func TestREADMEAnswers(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```console\n\\$ ([^\n]*)\n(.*?)```").FindAllStringSubmatch(string(text), -1)
	if len(blocks) == 0 {
		t.Fatal("README.md shows no answer")
	}
	for _, b := range blocks {
		t.Run(b[1], func(t *testing.T) {
			if status, stdout, stderr := try(t, b[1]); status != statusDone || stdout != b[2] || stderr != "" {
				t.Errorf("status %d, and it prints\n%s%s\nREADME.md shows\n%s", status, stdout, stderr, b[2])
			}
		})
	}
}

// Every command has one line what it is for, and an example that works.
func TestHelpExamples(t *testing.T) {
	a := &app{Process: Process{Env: os.LookupEnv}, everything: true}
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		path := c.CommandPath()
		if c.Short == "" || c.Example == "" {
			t.Errorf("%s: its help lacks a caption or an example", path)
		}
		if strings.HasPrefix(path, "setover completion") {
			return // its examples are lines for a shell; a script tries the command
		}
		for line := range strings.Lines(c.Example) {
			line = strings.TrimSpace(line)
			if !strings.HasPrefix(line, path) && !c.HasSubCommands() {
				t.Errorf("%s: the example %q is another command's", path, line)
			}
			t.Run(line, func(t *testing.T) { works(t, line) })
		}
	}
	walk(newRoot(a, nil))
}
