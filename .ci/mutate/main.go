// Command mutate changes the program in one place at a time, in a copy, and
// says whether a test notices.
//
//	go run .ci/mutate/main.go [-only TEXT] .ci/mutations.txt
//
// The list holds one mutation a block, blocks parted by an empty line, lines
// that start with # for people:
//
//	file setup/plan/slotting.go
//	old  reach := depth.Plus(leave)
//	new  reach := depth.Minus(leave)
//	test ./cmd/cli
//	lives the two are the same where no slot leaves anything
//
// The old text stands in the file exactly once; several old or new lines are
// lines of one text. The tests of the file's package are run, and those of the
// packages that test names. A mutation that lives has no test that notices it;
// where none can, lives says why.
//
// The exit status is 1 when a mutation does not apply or does not build any
// more, when one lives without a reason, and when one with a reason is killed.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// mutation is one block of the list.
type mutation struct {
	line           int // of the list
	file, old, new string
	tests          []string
	lives          string
}

func main() {
	log.SetFlags(0)
	only := flag.String("only", "", "run those whose file or text contains this")
	flag.Parse()
	if flag.NArg() != 1 {
		log.Fatal("usage: mutate [-only TEXT] LIST")
	}
	list, err := read(flag.Arg(0))
	if err != nil {
		log.Fatal(err)
	}
	folder, err := copied()
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	count, wrong := map[string]int{}, 0
	for _, m := range list {
		if !strings.Contains(m.file+"\n"+m.old+"\n"+m.new, *only) {
			continue
		}
		verdict, why := m.try(folder)
		count[verdict]++
		expected := "killed"
		if m.lives != "" {
			expected = "lives"
			why = m.lives
		}
		if verdict != expected {
			wrong++
		}
		fmt.Printf("%-10s %s: %s -> %s %s\n", verdict, m.file, oneLine(m.old), oneLine(m.new), why)
	}
	fmt.Printf("%d killed, %d live, %d are no mutation any more\n", count["killed"], count["lives"], count["broken"])
	if wrong > 0 {
		os.RemoveAll(folder)
		log.Fatalf("%d not as expected", wrong)
	}
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// read reads the list.
func read(name string) ([]mutation, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var list []mutation
	inside := false
	for i, line := range strings.Split(string(text), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		if strings.TrimSpace(line) == "" {
			inside = false
			continue
		}
		if !inside {
			list = append(list, mutation{line: i + 1})
			inside = true
		}
		m := &list[len(list)-1]
		key, value, _ := strings.Cut(line, " ")
		switch value = strings.TrimPrefix(value, " "); key {
		case "file":
			m.file = strings.TrimSpace(value)
		case "old":
			m.old = joined(m.old, value)
		case "new":
			m.new = joined(m.new, value)
		case "test":
			m.tests = strings.Fields(value)
		case "lives":
			m.lives = strings.TrimSpace(value)
		default:
			return nil, fmt.Errorf("%s:%d: %s: write file, old, new, test or lives", name, i+1, key)
		}
	}
	for _, m := range list {
		if m.file == "" || m.old == "" || m.old == m.new {
			return nil, fmt.Errorf("%s:%d: a mutation has a file, an old text and another new one", name, m.line)
		}
	}
	return list, nil
}

// joined adds a line to a text.
func joined(text, line string) string {
	if text == "" {
		return line
	}
	return text + "\n" + line
}

// copied copies every file that git knows into a folder of its own.
func copied() (string, error) {
	names, err := exec.Command("git", "ls-files", "-z").Output()
	if err != nil {
		return "", fmt.Errorf("git ls-files, at the top of the tree: %w", err)
	}
	folder, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return "", err
	}
	for _, name := range strings.Split(strings.Trim(string(names), "\x00"), "\x00") {
		text, err := os.ReadFile(name)
		if err != nil {
			return folder, err
		}
		to := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
			return folder, err
		}
		if err := os.WriteFile(to, text, 0o666); err != nil {
			return folder, err
		}
	}
	return folder, nil
}

// try applies a mutation in the copy, runs the tests and takes it back.
func (m mutation) try(folder string) (verdict, why string) {
	name := filepath.Join(folder, m.file)
	text, err := os.ReadFile(name)
	if err != nil {
		return "broken", err.Error()
	}
	if n := bytes.Count(text, []byte(m.old)); n != 1 {
		return "broken", fmt.Sprintf("(the old text stands there %d times)", n)
	}
	defer os.WriteFile(name, text, 0o666)
	changed := bytes.Replace(text, []byte(m.old), []byte(m.new), 1)
	if err := os.WriteFile(name, changed, 0o666); err != nil {
		return "broken", err.Error()
	}
	args := []string{"test", "-vet=off", "-failfast", "-timeout=180s", "./" + filepath.ToSlash(filepath.Dir(m.file))}
	c := exec.Command("go", append(args, m.tests...)...)
	c.Dir = folder
	c.Env = append(os.Environ(), "GOFLAGS=-buildvcs=false")
	out, err := c.CombinedOutput()
	switch {
	case err == nil:
		return "lives", ""
	case bytes.Contains(out, []byte("[build failed]")) || bytes.Contains(out, []byte("[setup failed]")):
		return "broken", "(it does not build)\n" + string(out)
	}
	return "killed", ""
}
