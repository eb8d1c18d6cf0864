package rules

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/plan/op"
)

// spoiling is why an operation that is held on what another takes away comes before that.
var spoiling = Rule{
	Code: string(problem.GripSurface), Reason: "what it is held on is not there any more after the other",
	Binds: func(a, b *op.Op) bool {
		if slices.Contains(b.Opens, a.Setup.Grip()) {
			return true
		}
		on := a.Setup.On.Shape
		if on == op.NoSurface || on == op.Hole || !a.Setup.Held.Overlaps(b.Along()) || a.Setup.Machine == op.BandSaw {
			return false
		}
		spoils := coned(b) || is(b, op.Thread) && !b.Axial && a.Setup.Device != op.SplitNut
		if a.Setup.On == op.Stock {
			spoils = spoils || is(b, op.Turn)
		}
		return spoils && !chucking(a, b) && b.Leaves != a.Setup.On
	},
}

// Spoiling is the reason of what Spoils returns, as a rule is told.
func Spoiling() Rule { return spoiling }

// Spoils returns the pairs of which the first is held on what the second takes away. No rule
// says so: an order that has them the other way round is refused as it is walked through
// (grip-surface), and a search that keeps them from the start is spared finding that out.
// Where they collide with the rules the part is held otherwise, and which step fails tells how.
func Spoils(ops []*op.Op) []Before { return pairsOf(ops, []Rule{spoiling}) }
