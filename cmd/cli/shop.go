package cli

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// loadShop returns the shop of this run: the one --shop names, else the one
// SETOVER_SHOP names, else setover/shop.yaml in the user's configuration
// folder, else the built-in one. A named file that is missing is an error; it
// is never passed over.
func (a *app) loadShop() (*shop.Shop, error) {
	name := a.global.shop
	if name == "" {
		name, _ = a.Env("SETOVER_SHOP")
	}
	if name == "builtin" {
		return files.Builtin(), nil
	}
	if name != "" {
		return a.readShop(name)
	}
	if dir, err := os.UserConfigDir(); err == nil {
		own := filepath.Join(dir, "setover", "shop.yaml")
		if _, err := os.Stat(own); err == nil {
			return a.readShop(own)
		}
	}
	return files.Builtin(), nil
}

// readShop reads a shop file and keeps its warnings, which the commands about
// the file itself show.
func (a *app) readShop(name string) (s *shop.Shop, err error) {
	s, a.shopWarnings, err = files.Shop(name)
	return s, readingError(err)
}

// readingError marks an error of the system, as against one of the file's
// contents.
func readingError(err error) error {
	var list problem.List
	var one problem.Problem
	if err == nil || errors.As(err, &list) || errors.As(err, &one) {
		return err
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path
	}
	return ioError{err}
}

func shopGroup(a *app) *cobra.Command {
	return newParent("shop", "setover shop new --out shop.yaml",
		shopShow(a), shopCheck(a), shopNew(a))
}

func shopShow(a *app) *cobra.Command {
	var s *shop.Shop
	c := newCommand(a, "show", "the machines and tools that will be used", "setover shop show --shop testdata/shed.yaml")
	c.needs(func(x *shop.Shop) { s = x })
	return c.runs(func() (sheet.Result, error) { return s.Inventory(a.shopWarnings), nil })
}

func shopCheck(a *app) *cobra.Command {
	var s *shop.Shop
	c := newCommand(a, "check [FILE]", "is the shop file right, and does each dial prove true",
		"setover shop check testdata/shed.yaml")
	var name string
	word.called("FILE").arg(c, &name).optional()
	c.offerArgs(nil)
	return c.runs(func() (sheet.Result, error) {
		var err error
		if name == "" {
			s, err = a.loadShop()
		} else {
			s, err = a.readShop(name)
		}
		if err != nil {
			return nil, err
		}
		return s.Prove(a.shopWarnings), nil
	})
}

func shopNew(a *app) *cobra.Command {
	c := newCommand(a, "new", "write a commented shop file with every key", "setover shop new --out shop.yaml")
	c.RunE = func(cmd *cobra.Command, args []string) error { return c.writeExample(args, files.NewShop()) }
	return c.Command
}

// writeExample puts a file's text where --out says, whatever its ending.
func (c *command) writeExample(args []string, text string) error {
	return c.writeAsIs(args, func() ([]byte, error) { return []byte(text), nil })
}

// writeAsIs reads the arguments and puts what text returns where --out says. A
// text that is no sheet has one format only.
func (c *command) writeAsIs(args []string, text func() ([]byte, error)) error {
	var list problem.List
	_, err := c.readAll(args, units.MM)
	list.Add(err)
	if f := c.app.global.format; f != "" {
		list.Add(problem.New(problem.Usage, "format", say.Plain(f),
			c.CommandPath(), " writes a text as it is: leave ", say.Key("format"), " out"))
	}
	if err := list.Err(); err != nil {
		return err
	}
	b, err := text()
	if err != nil {
		return err
	}
	return c.app.put(c.app.global.out, b)
}
