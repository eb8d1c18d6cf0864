package cli

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// About is the answer to "which setover is this?", for a report of a defect.
type About struct {
	Version  string `json:"version" show:"version"`
	Go       string `json:"go" show:"built with"`
	Platform string `json:"platform" show:"for"`
	sheet.Remarks
}

// Sheet implements sheet.Result.
func (v About) Sheet() sheet.Sheet {
	s := sheet.Of(&v, "setover")
	s.Figures()
	return *s
}

func versionCommand(a *app) *cobra.Command {
	c := newCommand(a, "version", shortOf("version"), "setover version")
	return c.runs(func() (sheet.Result, error) {
		return About{Version: Version, Go: runtime.Version(), Platform: runtime.GOOS + "/" + runtime.GOARCH}, nil
	})
}

// shells are the shells completion is written for, each with the line that
// switches it on.
var shells = []struct {
	name, enable string
	write        func(*cobra.Command, io.Writer) error
}{
	{"bash", "source <(setover completion bash)", func(c *cobra.Command, w io.Writer) error {
		return c.GenBashCompletionV2(w, true)
	}},
	{"zsh", "source <(setover completion zsh)", (*cobra.Command).GenZshCompletion},
	{"fish", "setover completion fish | source", func(c *cobra.Command, w io.Writer) error {
		return c.GenFishCompletion(w, true)
	}},
	{
		"powershell", "setover completion powershell | Out-String | Invoke-Expression",
		(*cobra.Command).GenPowerShellCompletionWithDesc,
	},
}

func shellNames() []string {
	names := make([]string, len(shells))
	for i, s := range shells {
		names[i] = s.name
	}
	return names
}

func completionCommand(a *app) *cobra.Command {
	c := newCommand(a, "completion SHELL", shortOf("completion"), "")
	lines := make([]string, len(shells))
	for i, s := range shells {
		lines[i] = s.enable
	}
	c.Example = strings.Join(lines, "\n")
	shell := 0
	c.arg("SHELL", func(text string, _ units.Unit) (sheet.Value, error) {
		if shell = slices.Index(shellNames(), text); shell < 0 {
			return nil, problem.New(problem.Unknown, "", say.Plain(text),
				"not a shell known here: write ", say.Join(shellNames(), ", ")).Near(shellNames())
		}
		return nil, nil
	})
	c.offerArgs(shellNames)
	c.RunE = func(cmd *cobra.Command, args []string) error {
		return c.writeAsIs(args, func() ([]byte, error) {
			var b bytes.Buffer
			if err := shells[shell].write(cmd.Root(), &b); err != nil {
				return nil, fmt.Errorf("writing the completion of %s: %w", shells[shell].name, err)
			}
			return b.Bytes(), nil
		})
	}
	return c.Command
}
