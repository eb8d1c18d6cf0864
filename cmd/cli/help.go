package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"setover/setup/page/render"
)

// help writes a command's page: what it is for, an example that works, its
// commands and flags.
func (a *app) help(c *cobra.Command, _ []string) {
	w := a.Stdout
	fmt.Fprintf(w, "%s: %s\n", c.CommandPath(), c.Short)
	if c.Example != "" {
		fmt.Fprintf(w, "\n  %s\n", strings.ReplaceAll(c.Example, "\n", "\n  "))
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintln(w)
		var rows [][2]string
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() {
				rows = append(rows, [2]string{sub.Name(), sub.Short})
			}
		}
		fmt.Fprint(w, render.Captions("commands", rows))
	} else {
		fmt.Fprintf(w, "\nusage: %s\n", c.UseLine())
	}
	fmt.Fprint(w, flagCaptions("flags", c.LocalNonPersistentFlags().VisitAll))
	if c.HasParent() {
		fmt.Fprint(w, flagCaptions("flags of every command", c.InheritedFlags().VisitAll))
	} else {
		fmt.Fprint(w, flagCaptions("flags of every command", c.PersistentFlags().VisitAll))
	}
}

func flagCaptions(title string, visit func(func(*flagDef))) string {
	var rows [][2]string
	visit(func(f *flagDef) {
		if f.Hidden || f.Name == "help" {
			return
		}
		name := "--" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", " + name
		}
		kind, usage := pflag.UnquoteUsage(f) // the kind is the word in backquotes, else the value's own
		if kind != "" {
			name += " " + kind
		}
		if f.DefValue != "" && f.DefValue != "false" {
			usage += " [" + f.DefValue + "]"
		}
		rows = append(rows, [2]string{name, usage})
	})
	if len(rows) == 0 {
		return ""
	}
	return "\n" + render.Captions(title, rows)
}
