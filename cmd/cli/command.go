package cli

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	owned  []func(*shop.Shop) // hand the shop's instruments to the input; none: no shop needed
	checks []func() error     // of what was typed, before the answer is asked for
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
	def    *flagDef // nil for an argument, and where the command was not called
	usage  string
	read   func(text string, u units.Unit) (sheet.Value, error)
}

// String, Set and Type make a bound a pflag.Value.
func (b *bound) String() string { return strings.Join(b.typed, " ") }

// Set keeps what was typed.
func (b *bound) Set(text string) error {
	if b.set && !b.many {
		return twice(b.name, text, b.typed[0])
	}
	if !b.set {
		b.typed, b.set = nil, true
	}
	b.typed = append(b.typed, text)
	return nil
}

// twice refuses what was given a second time.
func twice(key, text, before string) error {
	return problem.New(problem.Duplicate, key, say.Plain(text), "given twice: ", say.Plain(before),
		" stands there already")
}

// Type names the value in the help.
func (b *bound) Type() string { return b.kind }

// question starts a command that asks a calculator: its name with its arguments, one
// line what it is for, and one example that works. The flags are bound to the
// input it returns.
func question[I any, R sheet.Result](
	a *app, calc func(I) (R, error), use, short, example string,
) (*command, *I) {
	c, in := newCommand(a, use, short, example), new(I)
	c.runs(func() (sheet.Result, error) { return calc(*in) })
	return c, in
}

// newCommand starts a command that says itself what it does.
func newCommand(a *app, use, short, example string) *command {
	c := &command{Command: &cobra.Command{Use: use, Short: short, Example: example}, app: a}
	c.called = a.everything || slices.Contains(a.Args, c.Name())
	c.PreRun = func(cmd *cobra.Command, _ []string) { a.ran = cmd }
	c.Args = cobra.ArbitraryArgs // counted when the command runs, with the argument's name
	return c
}

// newParent returns a group that only holds other commands.
func newParent(name, example string, subs ...*cobra.Command) *cobra.Command {
	return newSubParent(name, shortOf(name), example, subs...)
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
	b := &bound{name: name, kind: kind, usage: usage, read: read}
	c.bound = append(c.bound, b)
	if c.called {
		b.def = c.Flags().VarPF(b, name, "", usage)
	}
	return b
}

// arg binds the next argument.
func (c *command) arg(name string, read func(string, units.Unit) (sheet.Value, error)) *bound {
	b := &bound{name: name, arg: true, needed: true, read: read}
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
func (b *bound) defaults(text string) *bound {
	b.typed = []string{text}
	if b.def != nil {
		b.def.DefValue = text
	}
	return b
}

// usually is defaults from the table of usual practice, which is not read for a
// neighbour of the command that is called.
func (b *bound) usually(text func() string) *bound {
	if b.def == nil {
		return b
	}
	return b.defaults(text())
}

// kind is a kind of value on the command line: its name in help, how its text is
// read, and how it is shown where what was typed does not say it; nil: not at
// all.
type kind[V any] struct {
	name string
	read func(text string, u units.Unit) (V, error)
	show func(V) sheet.Value
}

// into reads a value and hands it to keep.
func (k kind[V]) into(keep func(V)) func(string, units.Unit) (sheet.Value, error) {
	return func(text string, u units.Unit) (sheet.Value, error) {
		v, err := k.read(text, u)
		if err != nil {
			return nil, err
		}
		keep(v)
		if k.show == nil {
			return nil, nil
		}
		return k.show(v), nil
	}
}

// flag binds a flag to its target.
func (k kind[V]) flag(c *command, dst *V, name, usage string) *bound {
	if !c.called { // a neighbour has no flags
		return new(bound)
	}
	return c.flag(name, k.name, usage, k.into(func(v V) { *dst = v }))
}

// maybe is flag for a target that is nil when the flag is not given.
func (k kind[V]) maybe(c *command, dst **V, name, usage string) *bound {
	if !c.called { // a neighbour has no flags
		return new(bound)
	}
	return c.flag(name, k.name, usage, k.into(func(v V) { *dst = &v }))
}

// each is flag for one that may be repeated.
func (k kind[V]) each(c *command, dst *[]V, name, usage string) *bound {
	if !c.called { // a neighbour has no flags
		return new(bound)
	}
	return c.flag(name, k.name, usage, k.into(func(v V) { *dst = append(*dst, v) })).repeated()
}

// arg binds the next argument, called as the kind is.
func (k kind[V]) arg(c *command, dst *V) *bound {
	return c.arg(k.name, k.into(func(v V) { *dst = v }))
}

// kindOf is a kind whose values show themselves as typed.
func kindOf[V any](name string, read func(string, units.Unit) (V, error)) kind[V] {
	return kind[V]{name: name, read: read}
}

// called is the kind under another name.
func (k kind[V]) called(name string) kind[V] { k.name = name; return k }

// The kinds of value.
var (
	length = kind[units.Length]{"LEN", units.ParseLength, func(l units.Length) sheet.Value { return l.Nearest() }}
	angle  = kind[units.Angle]{"ANGLE", bare(units.ParseAngle), sheet.Ang}
	count  = kindOf("N", readCount)
	number = kindOf("N", readNumber)
	speed  = kindOf("N", bare(units.ParseSpindleSpeed))
	word   = kindOf("WORD", func(text string, _ units.Unit) (string, error) { return text, nil })
)

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

func (c *command) toggle(dst *bool, name, usage string) {
	if c.called {
		c.Flags().BoolVar(dst, name, false, usage)
	}
}

// choice binds a flag that takes one of a few words, which completion offers.
func choice[T, W ~string](c *command, dst *T, name, usage string, of []W) *bound {
	if !c.called { // a neighbour has no flags
		return new(bound)
	}
	list := words(of)
	b := kindOf("WORD", func(text string, _ units.Unit) (T, error) {
		var wrong check.List
		check.OneOf(&wrong, name, text, list)
		return T(text), wrong.Err()
	}).flag(c, dst, name, usage+" ("+strings.Join(list, ", ")+")")
	c.offer(name, func() []string { return list })
	return b
}

// words returns the names of a choice.
func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

// needs hands what the shop has to the input, before what was typed is read.
func (c *command) needs(owned func(*shop.Shop)) { c.owned = append(c.owned, owned) }

// lathe is needs for a command that has use of a lathe alone.
func (c *command) lathe(owned func(*shop.Lathe)) {
	c.needs(func(s *shop.Shop) {
		if s.Lathe != nil {
			owned(s.Lathe)
		}
	})
}

// checked adds a check of what was typed that the calculator cannot make.
func (c *command) checked(check func() error) { c.checks = append(c.checks, check) }

// option is a flag as the shared checks take it.
func (b *bound) option() check.Option { return check.Option{Key: b.name, Given: b.set} }

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

// runs says what a command does: calc is called once every flag is read.
func (c *command) runs(calc func() (sheet.Result, error)) *cobra.Command {
	c.RunE = func(_ *cobra.Command, args []string) error {
		look, err := c.prepare(args)
		if err != nil {
			return err
		}
		for _, check := range c.checks {
			if err := check(); err != nil {
				return err
			}
		}
		r, err := calc()
		if err != nil {
			return err
		}
		return c.app.write(r, look)
	}
	return c.Command
}

// readAll reads every flag and argument that was typed or has a default, and
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
		list.Add(problem.New(problem.Usage, "", say.Plain(rest[0]), "one argument too many: ", c.UseLine()))
	}
	var given []sheet.Fact
	for _, b := range slices.Concat(c.args, c.bound) {
		if len(b.typed) == 0 && b.needed {
			usage := b.usage
			if b.arg {
				usage = c.UseLine()
			}
			list.Add(problem.New(problem.Missing, b.name, nil, "is needed: ", usage))
		}
		for _, text := range b.typed {
			v, err := b.read(text, u)
			if err != nil {
				list.Add(under(b.name, err))
				continue
			}
			if b.set {
				given = append(given, b.given(text, v, u))
			}
		}
	}
	return given, list.Err()
}

// given is a flag or argument as it was typed, and its value unless that says it
// in the unit of the page.
func (b *bound) given(text string, v sheet.Value, u units.Unit) sheet.Fact {
	if _, ok := v.(units.Rounded); ok && strings.HasSuffix(text, u.String()) {
		v = nil
	}
	typed := say.Plain(text)
	if !b.arg {
		typed = say.Of("--", b.name, " ", typed)
	}
	return sheet.Fact{Label: say.Text(strings.TrimSpace(string(typed))), Value: v}
}

// under puts every problem of err under the key of a flag or argument. When it
// is worded, a key that is a flag gets its dashes.
func under(key string, err error) error {
	var list problem.List
	list.Add(err)
	for i := range list {
		if list[i].At.File == "" {
			list[i].At.Key = key
		}
	}
	return list.Err()
}
