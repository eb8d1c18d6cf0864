// Package cli is the command line: it reads flags into a calculator's input,
// calls it and renders the result. There is no arithmetic here.
//
// Each group of commands stands in a file of its own and is built only when it
// is called, since building all of them costs more than a calculation.
package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Version is the program's version, set when a release is built.
var Version = "0.1.0-dev"

// The exit statuses.
const (
	statusDone   = 0
	statusNo     = 1 // complete, and the answer is no
	statusWrong  = 2 // the command line or an input file is wrong
	statusIO     = 3 // could not read or write
	statusDefect = 4 // a defect of ours
)

// Main runs the program on the process's own arguments and files and returns
// its exit status.
func Main() int {
	cobra.EnableCommandSorting = false // help lists commands in the order of use
	return Run(Process{Args: os.Args[1:], Stdout: os.Stdout, Stderr: os.Stderr, Env: os.LookupEnv})
}

// Process is what a run may touch besides the files it is asked for.
type Process struct {
	Args           []string
	Stdout, Stderr io.Writer
	Env            func(string) (string, bool)
}

// Run runs one command and returns its exit status. A panic is a defect: it is
// reported as such, never as an answer.
func Run(p Process) (status int) { return (&app{Process: p}).run() }

func (a *app) run() (status int) {
	p := a.Process
	defer func() {
		if r := recover(); r != nil {
			status = statusDefect
			fmt.Fprintf(p.Stderr, "setover: a defect in setover itself: %v\n", r)
			fmt.Fprintln(p.Stderr, "Nothing above is an answer. Please report the command line and the files it read.")
			if v, ok := p.Env("SETOVER_DEBUG"); ok && v != "" {
				p.Stderr.Write(debug.Stack())
			}
		}
	}()
	root := newRoot(a, p.Args)
	root.SetArgs(p.Args)
	root.SetOut(p.Stdout)
	root.SetErr(p.Stderr)
	if err := root.Execute(); err != nil {
		return a.report(err)
	}
	return a.status
}

// app is one run of the program.
type app struct {
	Process
	global globalFlags
	status int
	unit   units.Unit     // of the page, once it is known
	ran    *cobra.Command // the command that runs
	// shopWarnings are those of the shop file of this run.
	shopWarnings sheet.Warnings
	// everything builds every group, for the generated pages and their tests.
	everything bool
	// saw is told every result that is written; nil: nobody is.
	saw func(sheet.Result)

	// columns is how wide the screen is where Stdout is none; 0: as wide as it takes.
	columns int
}

// group is a word of the command line that stands directly under the program's
// name, with one line what it is for and what builds it.
type group struct {
	name, short string
	build       func(*app) *cobra.Command
}

// groups are the program's commands, in the order help lists them.
func groups() []group {
	return []group{
		{"plan", "the whole part: blank, order of work, every setting, and what will come out", planGroup},
		{"taper", "solve a taper and set it on the lathe", taperGroup},
		{"thread", "screw threads: sizes, limits, holes to tap, measuring", threadGroup},
		{"facets", "flats on a round bar or on a cone", facetsGroup},
		{"shop", "the machines and tools on hand", shopGroup},
		{"part", "the part as its sketch says it", partGroup},
		{"holes", "rows, circles, grids and slots of holes, V-blocks and depths", holesGroup},
		{"divide", "divide the circle: hole plates, differential, rotary table, collet blocks and jaws", divideCommand},
		{"fit", "the limits of a hole, a shaft or both, and what the fit is good for", fitCommand},
		{"general", "how far a size without limits of its own may be off: ISO 2768-1", generalCommand},
		{"speed", "speeds, feeds, power and time on this machine", speedGroup},
		{"dial", "the reading to wind to for the next cut", dialGroup},
		{"convert", "one size in mm, inches, the nearest 1/64 and the nearest drill", convertGroup},
		{"chart", "charts for the wall; alone, what there is", chartCommand},
		{"completion", "let the Tab key finish commands, flags, materials and sizes", completionCommand},
		{"version", "which setover this is", versionCommand},
	}
}

// shortOf returns what a group is for.
func shortOf(name string) string {
	i := slices.IndexFunc(groups(), func(g group) bool { return g.name == name })
	return groups()[i].short
}

// newRoot builds the program's command with the groups that args name; the
// others are there by name alone.
func newRoot(a *app, args []string) *cobra.Command {
	root := &cobra.Command{
		Use:           "setover",
		Short:         "lathe and mill set-ups for the hobby machine shop",
		Example:       "setover plan testdata/plumb-bob.yaml",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.ArbitraryArgs,
	}
	root.CompletionOptions.DisableDefaultCmd = true
	which := root.Flags().Bool("version", false, "which setover this is, on one line")
	a.global.register(root)
	for _, g := range groups() {
		if a.everything || slices.Contains(args, g.name) {
			root.AddCommand(g.build(a))
			continue
		}
		nothing := func(*cobra.Command, []string) error { return nil }
		root.AddCommand(&cobra.Command{Use: g.name, Short: g.short, RunE: nothing})
	}
	alone := parent(root)
	root.RunE = func(cmd *cobra.Command, args []string) error {
		if *which { // not by a template of the library's: that links what reads templates
			_, err := fmt.Fprintln(cmd.OutOrStdout(), "setover", Version)
			return err
		}
		return alone(cmd, args)
	}
	root.SetHelpFunc(a.help)
	root.SetHelpCommand(&cobra.Command{
		Use: "help COMMAND", Short: "the page of a command", Hidden: true,
		RunE: func(_ *cobra.Command, args []string) error {
			c, rest, err := root.Find(args)
			if err != nil {
				return err
			}
			if len(rest) > 0 && c.HasSubCommands() {
				return parent(c)(c, rest)
			}
			return c.Help()
		},
	})
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		a.ran = cmd
		return flagError(cmd, err)
	})
	return root
}

// parent returns what a command with sub-commands does by itself: help when it
// stands alone, a problem with the nearest name when a word follows.
func parent(c *cobra.Command) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return cmd.Help()
		}
		var names []string
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() {
				names = append(names, sub.Name())
			}
		}
		_, group, _ := strings.Cut(cmd.CommandPath(), " ")
		return problem.New(problem.Unknown, group, say.Plain(args[0]), "no such command: write ", say.Join(names, ", ")).
			Near(names)
	}
}

// flagError turns the flag library's complaint into a problem.
func flagError(cmd *cobra.Command, err error) error {
	if words := cmd.Flags().Args(); cmd.HasSubCommands() && len(words) > 0 {
		return parent(cmd)(cmd, words) // the wrong command before the flag is what is wrong
	}
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		var names []string
		cmd.Flags().VisitAll(func(f *flagDef) { names = append(names, "--"+f.Name) })
		cmd.InheritedFlags().VisitAll(func(f *flagDef) { names = append(names, "--"+f.Name) })
		found, want := "--"+unknown.GetSpecifiedName(), "no such flag of "+cmd.CommandPath()
		if short := unknown.GetSpecifiedShortnames(); short != "" {
			found = "-" + short
			if strings.ContainsAny(short[:1], ".0123456789") {
				want += " (a value below 0 goes behind a flag with =, as in --along-x=-9deg)"
			}
		}
		return problem.New(problem.UnknownFlag, "", say.Plain(found), want).Near(names)
	case errors.As(err, &bare):
		kind, usage := pflag.UnquoteUsage(bare.GetFlag())
		return problem.New(problem.Missing, bare.GetFlag().Name, nil, "needs a value: ", kind, ", ", usage)
	case errors.As(err, &wrong):
		var p problem.Problem
		if !errors.As(err, &p) {
			p = problem.New(problem.Malformed, "", say.Plain(wrong.GetValue()), "write true or false, or the flag alone")
		}
		return under(wrong.GetFlag().Name, p)
	}
	return problem.New(problem.Usage, "", nil, err.Error())
}

// ioError is a file that could not be read or written.
type ioError struct{ error }

// Error names the file and what is the matter with it, not the system call.
func (e ioError) Error() string { return e.Worded(problem.Wording{}) }

// Worded returns what Error does, worded for a page.
func (e ioError) Worded(w problem.Wording) string {
	switch err := e.error.(type) {
	case *fs.PathError:
		return err.Path + ": " + err.Err.Error()
	case problem.Problem:
		return err.Worded(w)
	}
	return e.error.Error()
}

func (e ioError) Unwrap() error { return e.error }

// report writes what went wrong, in the unit of the page it would have stood
// on, and returns the exit status it earns.
func (a *app) report(err error) int {
	text := err.Error()
	switch e := err.(type) {
	case interface{ Worded(problem.Wording) string }:
		text = e.Worded(problem.Wording{Unit: a.unit, Key: a.flagged, Refusal: true})
	case interface{ Unwrap() []error }:
		status := statusDone
		for _, one := range e.Unwrap() {
			status = max(status, a.report(one))
		}
		return status
	}
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, " ") {
			fmt.Fprintln(a.Stderr, line)
			continue
		}
		fmt.Fprintln(a.Stderr, "setover: "+line)
	}
	var failed ioError
	if errors.As(err, &failed) {
		return statusIO
	}
	return statusWrong
}

// flagged puts dashes before a key that is a flag of the command that ran.
func (a *app) flagged(key string) string {
	if a.ran != nil && a.ran.Flags().Lookup(key) != nil {
		return "--" + key
	}
	return key
}
