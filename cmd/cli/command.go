package cli

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

type flagDef = pflag.Flag

// command is a command with its flags and arguments bound to a calculator's
// input. Text is kept as typed and read when the command runs, since what a
// bare number means depends on --units.
type command struct {
	*cobra.Command
	app *app
	// called is whether the command line names the command. The neighbours of
	// the one that is called are known by name alone: their flags would cost
	// more than its answer.
	called bool
	bound  []*bound
	args   []*bound
	shop   func(*shop.Shop) // hands the instruments to the input; nil: no shop needed
}

// bound is one flag or argument: what was typed, and how it is read.
type bound struct {
	name   string
	arg    bool
	kind   string // LEN, ANGLE, WORD …
	many   bool
	needed bool
	typed  []string
	set    bool
	read   func(text string, u units.Unit) (sheet.Value, error)
}

// String, Set and Type make a bound a pflag.Value.
func (b *bound) String() string { return strings.Join(b.typed, " ") }

// Set keeps what was typed.
func (b *bound) Set(text string) error {
	if b.set && !b.many {
		return problem.New(problem.Duplicate, "", text, "given twice: "+b.typed[0]+" stands there already")
	}
	if !b.set {
		b.typed, b.set = nil, true
	}
	b.typed = append(b.typed, text)
	return nil
}

// Type names the value in the help.
func (b *bound) Type() string { return b.kind }

// newCommand starts a command: its name with its arguments, one line what it
// is for, and one example that works.
func newCommand(a *app, use, short, example string) *command {
	c := &command{Command: &cobra.Command{Use: use, Short: short, Example: example}, app: a}
	c.called = a.everything || slices.Contains(a.Args, c.Name())
	c.Args = cobra.ArbitraryArgs // counted when the command runs, with the argument's name
	return c
}

// newParent returns a command that only holds others.
func newParent(g string, subs ...*cobra.Command) *cobra.Command {
	i := slices.IndexFunc(groups(), func(x group) bool { return x.name == g })
	def := groups()[i]
	return newSubParent(def.name, def.short, def.example, subs...)
}

// newSubParent is newParent for one that stands inside a group.
func newSubParent(use, short, example string, subs ...*cobra.Command) *cobra.Command {
	c := &cobra.Command{Use: use, Short: short, Example: example, Args: cobra.ArbitraryArgs}
	c.AddCommand(subs...)
	c.RunE = parent(c)
	return c
}

// flag binds a flag; read is called when the command runs.
func (c *command) flag(name, kind, usage string, read func(string, units.Unit) (sheet.Value, error)) *bound {
	b := &bound{name: name, kind: kind, read: read}
	c.bound = append(c.bound, b)
	if c.called {
		c.Flags().Var(b, name, usage)
	}
	return b
}

// arg binds the next argument.
func (c *command) arg(name string, read func(string, units.Unit) (sheet.Value, error)) *bound {
	b := &bound{name: name, arg: true, kind: name, needed: true, read: read}
	c.args = append(c.args, b)
	return b
}

// required marks a flag that must be given.
func (b *bound) required() *bound { b.needed = true; return b }

// repeated marks a flag that may be given more than once, or a last argument
// that takes the rest of the line.
func (b *bound) repeated() *bound { b.many = true; return b }

// optional marks an argument that may be left out.
func (b *bound) optional() *bound { b.needed = false; return b }

// defaults gives the value used when the flag is not typed; help shows it.
func (c *command) defaults(b *bound, text string) *bound {
	b.typed = []string{text}
	if c.called {
		c.Flags().Lookup(b.name).DefValue = text
	}
	return b
}

// as reads a quantity into dst and shows it as a value.
func as[T any](dst *T, parse func(string, units.Unit) (T, error), show func(T) sheet.Value) func(string, units.Unit) (sheet.Value, error) {
	return func(text string, u units.Unit) (sheet.Value, error) {
		v, err := parse(text, u)
		if err != nil {
			return nil, err
		}
		*dst = v
		if show == nil {
			return nil, nil
		}
		return show(v), nil
	}
}

// maybe is as for an input that is nil when not given.
func maybe[T any](dst **T, parse func(string, units.Unit) (T, error), show func(T) sheet.Value) func(string, units.Unit) (sheet.Value, error) {
	return func(text string, u units.Unit) (sheet.Value, error) {
		var v T
		out, err := as(&v, parse, show)(text, u)
		if err == nil {
			*dst = &v
		}
		return out, err
	}
}

// each is as for an input that is a list.
func each[T any](dst *[]T, parse func(string, units.Unit) (T, error), show func(T) sheet.Value) func(string, units.Unit) (sheet.Value, error) {
	return func(text string, u units.Unit) (sheet.Value, error) {
		var v T
		out, err := as(&v, parse, show)(text, u)
		if err == nil {
			*dst = append(*dst, v)
		}
		return out, err
	}
}

// bare makes a parser that needs no unit fit the others.
func bare[T any](parse func(string) (T, error)) func(string, units.Unit) (T, error) {
	return func(text string, _ units.Unit) (T, error) { return parse(text) }
}

// The readers of plain numbers and words.

func readCount(text string, _ units.Unit) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || strings.HasPrefix(text, "+") {
		return 0, problem.New(problem.Malformed, "", text, "not a whole number")
	}
	return n, nil
}

func readDecimal(text string, _ units.Unit) (decimal.Decimal, error) {
	l, err := units.ParseLength(text+"mm", units.MM)
	if err != nil {
		return decimal.Decimal{}, problem.New(problem.Malformed, "", text, "not a plain number: write one such as 0.6")
	}
	return l.Decimal(), nil
}

// readNumber is readDecimal for a figure that need not stay exact.
func readNumber(text string, u units.Unit) (units.Number, error) {
	d, err := readDecimal(text, u)
	return units.Number(d.InexactFloat64()), err
}

// lengths, angles and the like, as commands bind them.

func (c *command) length(dst *units.Length, name, usage string) *bound {
	return c.flag(name, "LEN", usage, as(dst, units.ParseLength, sheet.Len))
}

func (c *command) lengthMaybe(dst **units.Length, name, usage string) *bound {
	return c.flag(name, "LEN", usage, maybe(dst, units.ParseLength, sheet.Len))
}

func (c *command) angleMaybe(dst **units.Angle, name, usage string) *bound {
	return c.flag(name, "ANGLE", usage, maybe(dst, bare(units.ParseAngle), sheet.Ang))
}

func (c *command) angle(dst *units.Angle, name, usage string) *bound {
	return c.flag(name, "ANGLE", usage, as(dst, bare(units.ParseAngle), sheet.Ang))
}

func (c *command) count(dst *int, name, usage string) *bound {
	return c.flag(name, "N", usage, as(dst, readCount, nil))
}

func (c *command) toggle(dst *bool, name, usage string) {
	if c.called {
		c.Flags().BoolVar(dst, name, false, usage)
	}
}

// choice binds a flag that takes one of a few words, which completion offers.
func choice[T ~string](c *command, dst *T, name, usage string, words []string) *bound {
	b := c.flag(name, "WORD", usage+" ("+strings.Join(words, ", ")+")", as(dst, func(text string, _ units.Unit) (T, error) {
		if !slices.Contains(words, text) {
			return "", problem.New(problem.Unknown, name, text, "write "+strings.Join(words, " or ")).Near(words)
		}
		return T(text), nil
	}, nil))
	c.offer(name, func() []string { return words })
	return b
}

// exactlyOne returns the problem of flags of which not exactly one was typed.
func exactlyOne(flags ...*bound) error {
	var names, typed []string
	for _, b := range flags {
		names = append(names, "--"+b.name)
		if b.set {
			typed = append(typed, "--"+b.name)
		}
	}
	switch len(typed) {
	case 0:
		return problem.New(problem.Missing, flags[0].name, nil, "needs one of "+strings.Join(names, " and "))
	case 1:
		return nil
	}
	return problem.New(problem.Contradiction, flags[0].name, strings.Join(typed, " and "), "give one of them")
}

// offer completes a flag with words.
func (c *command) offer(name string, words func() []string) {
	if !c.called {
		return
	}
	c.RegisterFlagCompletionFunc(name, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return words(), cobra.ShellCompDirectiveNoFileComp
	})
}

// offerArgs completes the arguments with words, the first list for the first
// argument; a nil list stands for file names.
func (c *command) offerArgs(words ...func() []string) {
	c.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= len(words) {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		if words[len(args)] == nil {
			return nil, cobra.ShellCompDirectiveDefault
		}
		return words[len(args)](), cobra.ShellCompDirectiveNoFileComp
	}
}

// runs ends a command: calc is called once every flag is read.
func (c *command) runs(calc func() (sheet.Result, error)) *cobra.Command {
	c.RunE = func(cmd *cobra.Command, args []string) error {
		look, err := c.prepare(args)
		if err != nil {
			return c.placed(err)
		}
		r, err := calc()
		if err != nil {
			return c.placed(err)
		}
		return c.app.write(r, look)
	}
	return c.Command
}

// read reads every flag and argument that was typed or has a default, and
// returns what was understood. All problems come at once.
func (c *command) readAll(args []string, u units.Unit) ([]sheet.Fact, error) {
	var list problem.List
	rest := args
	for _, b := range c.args {
		n := min(1, len(rest))
		if b.many {
			n = len(rest)
		}
		b.typed, b.set = rest[:n], n > 0
		rest = rest[n:]
	}
	if len(rest) > 0 {
		list.Add(problem.New(problem.Usage, "", rest[0], "one argument too many: "+c.UseLine()))
	}
	var given []sheet.Fact
	for _, b := range slices.Concat(c.args, c.bound) {
		if len(b.typed) == 0 && b.needed {
			list.Add(problem.Problem{Code: problem.Missing, At: problem.Pos{Key: b.title()}, Want: "is needed: " + c.usageOf(b)})
		}
		for _, text := range b.typed {
			v, err := b.read(text, u)
			if err != nil {
				list.Add(at(err, b.title()))
				continue
			}
			if b.set {
				given = append(given, sheet.Fact{Label: strings.TrimSpace(b.flagName() + " " + text), Value: echo(text, v, u)})
			}
		}
	}
	return given, list.Err()
}

// echo returns v unless what was typed says it in the unit of the sheet.
func echo(text string, v sheet.Value, u units.Unit) sheet.Value {
	if _, ok := v.(units.Rounded); ok && strings.HasSuffix(text, u.String()) {
		return nil
	}
	return v
}

func (b *bound) flagName() string {
	if b.arg {
		return ""
	}
	return "--" + b.name
}

func (b *bound) title() string { return cmp.Or(b.flagName(), b.name) }

func (c *command) usageOf(b *bound) string {
	if b.arg {
		return c.UseLine()
	}
	return c.Flags().Lookup(b.name).Usage
}

// at places every problem of err at a flag or argument.
func at(err error, flag string) error {
	var list problem.List
	list.Add(err)
	for i := range list {
		if list[i].At.File == "" {
			list[i].At.Flag = flag
		}
	}
	return list
}

// placed puts dashes back on the keys that name a flag of this command.
func (c *command) placed(err error) error {
	var list problem.List
	switch err.(type) {
	case problem.Problem, problem.List:
		list.Add(err)
	default:
		return err
	}
	for i, p := range list {
		if p.At.Flag == "" && p.At.File == "" && c.Flags().Lookup(p.At.Key) != nil {
			list[i].At.Flag = "--" + p.At.Key
		}
	}
	return list
}
