// Command setover is a lathe and mill set-up helper for the hobby machine
// shop.
package main

import (
	"os"

	"setover/cmd/cli"
)

func main() { os.Exit(cli.Main()) }
