package cli

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/render"
	"setover/setup/page/sheet"
)

// globalFlags are the flags every command has.
type globalFlags struct {
	shop, format, out, units, paper string
	force, working, noColor         bool
}

func (g *globalFlags) register(root *cobra.Command) {
	f := root.PersistentFlags()
	f.StringVar(&g.shop, "shop", "", "the shop `FILE`, or builtin")
	f.StringVar(&g.format, "format", "", "write it as `WORD`: "+strings.Join(words(render.Formats()), ", "))
	f.StringVarP(&g.out, "out", "o", "", "write to this `FILE`; its ending chooses the format; - is the screen")
	f.BoolVar(&g.force, "force", false, "write over a file that is there")
	f.StringVar(&g.units, "units", "", "take bare numbers as `mm|in`, and show lengths so")
	f.StringVar(&g.paper, "paper", string(render.A4), "lay a PDF out for `WORD` "+
		"paper: "+strings.Join(words(render.Papers()), " or "))
	f.BoolVar(&g.working, "working", false, "show each formula with its numbers")
	f.BoolVar(&g.noColor, "no-color", false, "plain text on a terminal too")
	for name, list := range map[string][]string{
		"format": words(render.Formats()), "units": {"mm", "in"}, "paper": words(render.Papers()),
	} {
		root.RegisterFlagCompletionFunc(name, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return list, cobra.ShellCompDirectiveNoFileComp
		})
	}
}

// prepare reads what was typed and returns how the answer is to look.
func (c *command) prepare(args []string) (render.Look, error) {
	g := &c.app.global
	var list problem.List
	look := render.Look{Working: g.working, Version: Version, Key: c.app.flagged}
	if g.units != "" {
		u, err := units.ParseUnit(g.units)
		if err != nil {
			list.Add(under("units", err))
		}
		look.Units = u
	}
	format, err := g.chosenFormat()
	list.Add(err)
	look.Format = format
	look.Paper, err = render.ParsePaper(g.paper)
	list.Add(err)
	if len(c.owned) > 0 {
		s, err := c.app.loadShop()
		if err != nil {
			return look, err
		}
		look.Shop, look.ShopHash = s.Name+" ("+s.From+")", s.Hash
		if g.units == "" {
			look.Units = s.Display
		}
		for _, hand := range c.owned {
			hand(s)
		}
	}
	c.app.unit, look.Width = look.Units, c.app.columns
	look.Given, err = c.readAll(args, look.Units)
	list.Add(err)
	if f, ok := c.app.Stdout.(*os.File); ok && g.toScreen() && term.IsTerminal(int(f.Fd())) {
		if format == render.PDF {
			list.Add(problem.New(problem.Usage, "format", format,
				"a PDF is not written on a terminal: add ", say.Key("out"), " NAME.pdf"))
		}
		if w, _, err := term.GetSize(int(f.Fd())); err == nil {
			look.Width = w
		}
		_, plain := c.app.Env("NO_COLOR")
		t, _ := c.app.Env("TERM")
		look.Color = !plain && !g.noColor && t != "dumb"
	}
	return look, list.Err()
}

func (g *globalFlags) toScreen() bool { return g.out == "" || g.out == "-" }

// ending returns the ending of a file in the format that --format names, or in
// usual where it names none.
func (g *globalFlags) ending(usual render.Format) (string, error) {
	if g.format == "" {
		return usual.Ending(), nil
	}
	f, err := render.ParseFormat(g.format)
	if err != nil {
		return "", err
	}
	return f.Ending(), nil
}

// chosenFormat returns the format that --format and --out ask for together.
func (g *globalFlags) chosenFormat() (render.Format, error) {
	var named render.Format
	if g.format != "" {
		f, err := render.ParseFormat(g.format)
		if err != nil {
			return "", err
		}
		named = f
	}
	if g.toScreen() {
		return cmp.Or(named, render.Table), nil
	}
	byName := render.ByEnding(strings.ToLower(filepath.Ext(g.out)))
	switch {
	case byName == "" && named == "":
		var known []string
		for _, f := range render.Formats() {
			known = append(known, f.Ending())
		}
		slices.Sort(known)
		return "", problem.New(problem.Unknown, "out", say.Plain(g.out), "the ending chooses the format: write one of ",
			say.Join(known, " "), ", or say ", say.Key("format"))
	case byName != "" && named != "" && named != byName:
		return "", problem.New(problem.Contradiction, "format", named,
			"contradicts ", say.Key("out"), " ", say.Plain(g.out), ", which would be ", byName)
	}
	return cmp.Or(named, byName), nil
}

// write renders a result and puts it where it was asked for. A result that
// says no is written all the same, and makes the exit status 1.
func (a *app) write(r sheet.Result, look render.Look) error {
	if a.saw != nil {
		a.saw(r)
	}
	if h, ok := r.(interface{ PartHash() string }); ok {
		look.PartHash = h.PartHash()
	}
	text, err := render.Bytes(r, look)
	var p problem.Problem
	if errors.As(err, &p) {
		return p
	}
	if err != nil {
		panic(err) // a defect of ours
	}
	if err := a.put(a.global.out, text); err != nil {
		return err
	}
	if len(r.Fails()) > 0 {
		a.status = statusNo
	}
	return nil
}

// put writes text to a file, or to the screen for "" and "-". An existing file
// is kept unless --force; with it, the new one is written beside the old and
// takes its place whole.
func (a *app) put(name string, text []byte) error {
	if name == "" || name == "-" {
		if _, err := a.Stdout.Write(text); err != nil {
			return ioError{fmt.Errorf("writing the answer: %w", err)}
		}
		return nil
	}
	if a.global.force {
		return replace(name, text)
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return ioError{problem.New(problem.Exists, "out", say.Plain(name),
			"is there already and was kept: choose another name, or add ", say.Key("force"))}
	}
	if err != nil {
		return ioError{err}
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(name)
		return ioError{err}
	}
	return nil
}

// replace writes text beside name and renames it into place. Only a regular
// file is replaced.
func replace(name string, text []byte) error {
	mode := fs.FileMode(0o644)
	if old, err := os.Lstat(name); err == nil {
		if !old.Mode().IsRegular() {
			return ioError{problem.New(problem.Exists, "out", say.Plain(name), "is not a regular file and was left alone")}
		}
		mode = old.Mode().Perm()
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".setover-*")
	if err != nil {
		return ioError{err}
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Chmod(mode), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
		return ioError{err}
	}
	return nil
}
