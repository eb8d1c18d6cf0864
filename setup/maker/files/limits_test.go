package files_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/maker/files"
)

// most is the size up to which a file is read.
const most = 256 << 10

// heavy are texts that cost as much to read as their size allows, each ways
// that another reader of YAML is slow, recurses or takes gigabytes.
func heavy() map[string]string {
	fill := func(head, unit string) string {
		return head + strings.Repeat(unit, (most-len(head)-1)/len(unit))
	}
	many := func(head, format string, n int) string {
		var b strings.Builder
		b.WriteString(head)
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	const profile = "round:\n  profile:\n    - [0, 20]\n"
	return map[string]string{
		"alias bomb":            "a: &a [x]\n" + many("", "k%[1]d: &k%[1]d [*a, *a, *a, *a, *a, *a, *a, *a]\n", 500),
		"open brackets":         fill("a: ", "[\n"),
		"open braces":           fill("a: ", "{\n"),
		"dashes in dashes":      fill("", "- "),
		"questions":             fill("", "? "),
		"steps to the right":    many("", "%[1]*[1]d:\n", 500),
		"keys, all other":       many(partHead, "k%d: 1\n", 7900),
		"keys, all the same":    partHead + strings.Repeat("a: 1\n", 7900),
		"keys without a value":  many(partHead, "k%d:\n", 11900),
		"keys on one line":      many(partHead+"block: {\n", "k%d: 1,\n", 5900) + "}\n",
		"a long list":           fill(partHead+"notes:\n", "- a\n"),
		"a long list of drills": shopHead + "drills:\n" + strings.Repeat("- metric-0.1\n", 2000),
		"wrong drills":          many(shopHead+"drills:\n", "- 6.%05dmm\n", 2000),
		"documents":             fill("", "---\na\n"),
		"anchors":               fill("a: ", "&a\n"),
		"tags":                  fill("a: ", "!\n"),
		"comments":              fill("", "#\n"),
		"blank lines":           fill("", "\n"),
		"a long literal":        fill(partHead+"notes: |\n", "  x\n"),
		"a long plain text":     fill(partHead+"notes: x\n", "  x\n"),
		"a quote left open":     fill(partHead+"notes: \"", "x\n"),
		"a quoted text":         fill(partHead+"notes: \"", "x\\n\\\n") + "\"\n",
		"one long line":         fill("a", "a"),
		"holes of no size":      many(blockHead+"  holes:\n", "  - {at: [%d, 5], dia: 0}\n", 1650),
		"facets on facets": many(partHead+profile+"    - [50, 20]\n  facets:\n",
			"  - {sides: 8, from: 0, to: %d, across: flats}\n", 1300),
		"a long profile": many(partHead+profile, "    - [1%04d, 20]\n", 1200) + many("  holes:\n",
			"  - {at: %d.5, dia: 1}\n", 1100),
		"long numbers": fill(partHead+"block: {size: [1", "1\n"),
		"not text":     fill("", "\xff"),
	}
}

// Reading any file, a wrong one and its message included, stays under 256 MiB.
// The reader runs in a process of its own, so that nothing else is counted: Sys
// is all the memory that process ever had from the system.
func TestMemory(t *testing.T) {
	const limit = 256 << 20
	if name := os.Getenv("READ_AND_MEASURE"); name != "" {
		_, _, err := files.Part(name)
		if strings.Contains(filepath.Base(name), "drills") {
			_, _, err = files.Shop(name)
		}
		said := 0
		if err != nil {
			said = len(err.Error())
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		fmt.Printf("read: %d %d\n", m.Sys, said)
		return
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	texts := heavy()
	texts["a hundred megabytes"] = ""
	hungriest := []string{"a hundred megabytes", "a long list of drills", "keys without a value", "anchors"}
	dir := t.TempDir()
	for name, text := range texts {
		if os.Getenv("SETOVER_SLOW") == "" && !slices.Contains(hungriest, name) {
			continue
		}
		file := filepath.Join(dir, strings.ReplaceAll(name, " ", "-"))
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		if text == "" {
			if err := os.Truncate(file, 100<<20); err != nil {
				t.Fatal(err)
			}
		}
		run := exec.Command(self, "-test.run=^TestMemory$")
		run.Env = append(os.Environ(), "READ_AND_MEASURE="+file)
		out, err := run.CombinedOutput()
		var used, said int
		if _, scan := fmt.Sscanf(string(out), "read: %d %d", &used, &said); err != nil || scan != nil {
			t.Fatalf("%s: %v\n%.2000s", name, err, out)
		}
		t.Logf("%-24s %3d MiB, says %d bytes", name, used>>20, said)
		if used >= limit {
			t.Errorf("%s: took %d MiB", name, used>>20)
		}
		if said > 100_000 {
			t.Errorf("%s: a message of %d bytes", name, said)
		}
	}
}

// The bounds themselves, each by a file just over it, and one just under it
// that is read.
func TestBounds(t *testing.T) {
	line := func(n int) string { return blockHead + "notes: " + strings.Repeat("x", n-len("notes: ")) + "\n" }
	list := func(n int) string { return shopHead + "taps: \n" + strings.Repeat("- M8\n", n) }
	depth := func(n int) string {
		return blockHead + "notes: " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n"
	}
	indent := func(n int) string { return blockHead + "notes:\n" + strings.Repeat(" ", n) + "x\n" }
	size := func(n int) string {
		text := blockHead + strings.Repeat("#"+strings.Repeat("x", 1022)+"\n", most>>10)
		return text[:n-1] + "\n"
	}
	tokens := func(n int) string { return blockHead + "notes:\n" + strings.Repeat("- a\n", n) }
	for _, c := range []struct{ name, under, over, want string }{
		{"size", size(most), size(most + 1), "f.yaml: more than 256 KiB: a file of this kind is far smaller"},
		{"line", line(4096), line(4097), "f.yaml:7:1: a line of more than 4096 characters"},
		{"list", list(2000), list(2001), "f.yaml:2005:3: more than 2000 items in one list"},
		{"indent", indent(120), indent(121), "f.yaml:8:1: nested deeper than any part"},
		{"depth", "", depth(33), "f.yaml:7:1: nested deeper than any part"},
		{"tokens", tokens(1999), tokens(12001), "f.yaml:11995:3: more than 24000 words and marks up to here: a file of " +
			"this kind is far smaller"},
	} {
		if _, err := read(c.under); c.under != "" && err != nil {
			t.Errorf("%s, just under: %v", c.name, err)
		}
		_, err := read(c.over)
		first, _, _ := strings.Cut(fmt.Sprint(err), "\n")
		if first != c.want {
			t.Errorf("%s: got %s\nwant %s", c.name, first, c.want)
		}
		var l problem.List
		if errors.As(err, &l); len(l) != 1 || l[0].Code != problem.TooLarge {
			t.Errorf("%s: got %+v", c.name, l)
		}
	}
}

// A hundred problems are told, and how many more there are.
func TestManyProblems(t *testing.T) {
	_, err := read(partHead + strings.Repeat("x: 1\n", 1) + "block:\n  size: [64, 24, 16]\n" +
		"  holes:\n" + strings.Repeat("  - {at: [5, 5], dia: 0}\n", 150))
	var l problem.List
	if !errors.As(err, &l) || len(l) != 101 {
		t.Fatalf("%d problems", len(l))
	}
	if got, want := l[100].Error(), "f.yaml: 51 more problems, not shown"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// What is not a regular file is not read at all.
func TestNotAFile(t *testing.T) {
	dir := t.TempDir()
	_, _, err := files.Part(dir)
	if want := "read " + dir + ": not a regular file"; fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if _, _, err := files.Shop(filepath.Join(dir, "none.yaml")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
}

func FuzzRead(f *testing.F) {
	for _, text := range heavy() {
		f.Add(text[:min(len(text), 2000)])
	}
	f.Add(files.NewShop())
	f.Add(files.NewPart(false))
	f.Add(files.NewPart(true))
	f.Fuzz(func(t *testing.T, text string) {
		for _, err := range []error{
			second(files.ReadShop("f", []byte(text))),
			second(files.ReadPart("f", []byte(text))),
		} {
			var l problem.List
			if err != nil && (!errors.As(err, &l) || err.Error() == "") {
				t.Errorf("not a list of problems: %v", err)
			}
		}
	})
}

func second[A, B any](_ A, _ B, err error) error { return err }

func BenchmarkRead(b *testing.B) {
	texts := heavy()
	texts["the built-in shop"] = files.NewShop()
	texts["the example part"] = files.NewPart(false)
	for name, text := range texts {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := read(text); err != nil {
					_ = err.Error()
				}
			}
		})
	}
}
