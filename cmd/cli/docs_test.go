package cli

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"setover/setup/maker/files"
)

// compareDoc compares a generated page with the committed one, or writes it
// with -update.
func compareDoc(t *testing.T, name, made string) {
	t.Helper()
	if updating() {
		if err := os.WriteFile(name, []byte(made), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if string(text) == made {
		return
	}
	had, has := strings.Split(string(text), "\n"), strings.Split(made, "\n")
	for i := range max(len(had), len(has)) {
		if i >= len(had) || i >= len(has) || had[i] != has[i] {
			t.Errorf("cmd/cli/%s is out of date from line %d on: go test ./cmd/cli -update", name, i+1)
			return
		}
	}
}

// updating reports whether -update was given; the flag belongs to the script
// tests.
func updating() bool {
	f := flag.Lookup("update")
	return f != nil && f.Value.String() == "true"
}

// cell makes a text fit for a cell of a Markdown table.
func cell(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, "|", `\|`), "\n", " ") }

// flagLine is one row of a table of flags.
func flagLine(f *pflag.Flag) string {
	kind, usage := pflag.UnquoteUsage(f)
	name := "--" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	if kind != "" {
		name += " " + kind
	}
	def := f.DefValue
	if def == "false" {
		def = ""
	}
	return fmt.Sprintf("| `%s` | %s | %s |\n", cell(name), cell(usage), cell(def))
}

// flagTable is the table of the flags that visit visits.
func flagTable(visit func(func(*pflag.Flag))) string {
	var b strings.Builder
	visit(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" {
			return
		}
		if b.Len() == 0 {
			b.WriteString("\n| flag | what it says | when left out |\n|---|---|---|\n")
		}
		b.WriteString(flagLine(f))
	})
	return b.String()
}

// commandsPage is the page of every command.
func commandsPage() string {
	var b strings.Builder
	root := everything()
	fmt.Fprintln(&b, "# Commands\n\nEvery command with what it is for, an example that works, and its flags. This page "+
		"is generated; `go test ./cmd/cli -update` writes it.")
	fmt.Fprintf(&b, "\n## Flags of every command\n%s", flagTable(root.PersistentFlags().VisitAll))
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c != root {
			fmt.Fprintf(&b, "\n%s %s\n\n%s\n", strings.Repeat("#", min(3, 1+strings.Count(c.CommandPath(), " "))),
				c.CommandPath(),
				c.Short)
			if !c.HasSubCommands() {
				fmt.Fprintf(&b, "\n    %s\n\nUsage: `%s`\n%s", strings.ReplaceAll(c.Example, "\n", "\n    "), c.UseLine(),
					flagTable(c.LocalNonPersistentFlags().VisitAll))
			}
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(root)
	return b.String()
}

// keysPage is the page of the files' keys.
func keysPage() string {
	var b strings.Builder
	b.WriteString(`# Keys of the files

Every key of the shop, part and project files. This page is generated from the tables that read ` +
		"them; `go test ./cmd/cli -update`" + ` writes it.

- The first line is ` + "`format: 1`" + `. Keys in **bold** must be written where their group is.
- A bare number is what its column says; where it says "no", a number needs its unit. A unit may always be ` +
		"written: `12.5mm`, `3/8in`, `10thou`, `6d15m`" + `.
- ` + "`notes`" + ` may stand in any group: a text or a list of texts for yourself.
- An instrument that is absent is not owned. Nothing is borrowed: results stay exact, and sheets say what was ` +
		`not checked.
`)
	for _, f := range []struct {
		title string
		rows  []files.Row
	}{{"Shop", files.ShopKeys()}, {"Part", files.PartKeys()}, {"Project", files.ProjectKeys()}} {
		fmt.Fprintf(&b, "\n## %s\n\n| key | what it says | kind | bare number | default | when absent |\n"+
			"|---|---|---|---|---|---|\n", f.title)
		for _, r := range f.rows {
			key := "`" + r.Key + "`"
			if r.Required {
				key = "**" + key + "**"
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", key, cell(r.Doc), r.Kind, r.Bare, r.Default, cell(r.Absent))
		}
	}
	return b.String()
}

func TestCommandsPage(t *testing.T) { compareDoc(t, "docs/commands.md", commandsPage()) }

func TestKeysPage(t *testing.T) { compareDoc(t, "docs/keys.md", keysPage()) }

// Help, completion and the page of commands name the same commands and the same
// flags, no more and no fewer, which are those there are.
func TestSameNamesEverywhere(t *testing.T) {
	page, err := os.ReadFile("docs/commands.md")
	if err != nil {
		t.Fatal(err)
	}
	sections := map[string]string{}
	for _, s := range regexp.MustCompile(`(?m)^##+ `).Split(string(page), -1)[1:] {
		title, body, _ := strings.Cut(s, "\n")
		sections[title] = body
	}
	everywhere := flagsIn(sections["Flags of every command"], "(?m)^\\| `(?:-\\w, )?--([\\w-]+)")
	root := everything()
	run := func(args ...string) string {
		var out, problems bytes.Buffer
		Run(Process{Args: args, Stdout: &out, Stderr: &problems, Env: os.LookupEnv})
		return out.String()
	}
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		path := strings.Fields(c.CommandPath())[1:]
		help := run(append(slices.Clone(path), "--help")...)
		commands := []string{}
		for _, sub := range c.Commands() {
			if sub.Name() != "help" {
				commands = append(commands, sub.Name())
				walk(sub)
			}
		}
		slices.Sort(commands)
		flags := []string{}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { flags = append(flags, f.Name) })
		c.InheritedFlags().VisitAll(func(f *pflag.Flag) { flags = append(flags, f.Name) })
		flags = slices.DeleteFunc(flags, func(f string) bool { return f == "help" })
		slices.Sort(flags)
		flags = slices.Compact(flags)

		_, listed, _ := strings.Cut(help, "\ncommands:\n")
		listed, _, _ = strings.Cut(listed, "\n\n")
		same(t, c, "commands", "help", commands, flagsIn(listed, `(?m)^  ([\w-]+)`))
		same(t, c, "flags", "help", flags, flagsIn(help, `(?m)^  (?:-\w, )?--([\w-]+)`))

		if len(commands) > 0 {
			offered := flagsIn(run(append(append([]string{"__complete"}, path...), "")...), `(?m)^([a-z][\w-]*)\t`)
			same(t, c, "commands", "completion", commands, slices.DeleteFunc(offered,
				func(n string) bool { return n == "help" }))
		}
		offered := flagsIn(run(append(append([]string{"__complete"}, path...), "--")...), `(?m)^--([\w-]+)`)
		same(t, c, "flags", "completion", flags, slices.DeleteFunc(offered, func(n string) bool { return n == "help" }))

		if c == root {
			return
		}
		body, ok := sections[c.CommandPath()]
		if !ok {
			t.Errorf("%s is not in docs/commands.md", c.CommandPath())
		}
		delete(sections, c.CommandPath())
		if !c.HasSubCommands() {
			written := append(flagsIn(body, "(?m)^\\| `(?:-\\w, )?--([\\w-]+)"), everywhere...)
			slices.Sort(written)
			same(t, c, "flags", "docs/commands.md", flags, slices.Compact(written))
		}
	}
	walk(root)
	delete(sections, "Flags of every command")
	for title := range sections {
		t.Errorf("docs/commands.md has %s, which is no command", title)
	}
}

// flagsIn returns the names that a pattern's group finds in a text, sorted.
func flagsIn(text, pattern string) []string {
	names := []string{}
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		names = append(names, m[1])
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func same(t *testing.T, c *cobra.Command, what, where string, want, got []string) {
	t.Helper()
	if !slices.Equal(want, got) {
		t.Errorf("%s: %s in %s:\n got %v\nwant %v", c.CommandPath(), what, where, got, want)
	}
}
