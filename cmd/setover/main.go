// Command setover is a lathe and mill set-up helper for the hobby machine
// shop.
package main

import (
	"os"
	"runtime/debug"

	"setover/cmd/cli"
)

// collectAt is how much the heap may grow, in per cent, before it is swept: a command that
// ends within a second has no use for the runtime's 100.
const collectAt = 400

func main() {
	debug.SetGCPercent(collectAt)
	os.Exit(cli.Main())
}
