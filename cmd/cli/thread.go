package cli

import "github.com/spf13/cobra"

func threadGroup(a *app) *cobra.Command {
	return newParent("thread", threadGears(a), threadDial(a), threadClock(a), threadEngage(a), threadFlats(a))
}
