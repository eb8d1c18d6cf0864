// Package setup states how the house is built. It holds nothing else.
//
// Imports point downwards: a package may use those on a lower floor. On its own
// floor it may use what stands inside the same house and what the list of
// neighbours below allows, nothing else. The test beside this file reads the
// two lists and the imports of every package, and fails where they part.
//
// The floors. Every name is a house: what stands below it in the tree belongs
// to it, so setup/base/units is on floor 0 with setup/base.
//
//	6  cmd            flags -> Input -> call -> render; no arithmetic
//	5  setup/plan     a part and a shop become a route card: what an operation is, rules, order, walls, charts
//	4  tapers         what a taper is, and how it is set and measured
//	4  threads        designations and sizes, and how they are cut and measured
//	4  setup/bench    the bench sums: holes, dividing, fits, the dial, one size in every unit
//	3  feeds          speeds, feeds, power, time, and what springs
//	2  setup/maker    the maker's files: the shop and its instruments, the part as written, reading both
//	1  setup/book     what does not depend on the part: drills, materials, usual practice, cautions
//	1  setup/page     what a result looks like, how it is drawn, and published figures for tests
//	0  setup/base     sentences, quantities, problems, plane geometry, gear trains, built-in tables
//
// Inside a house the rooms use each other and its root. The roots of tapers,
// threads and feeds use no room of theirs.
//
// Homes of other people's packages, by the start of their path. Any other is
// used by tests alone:
//
//	github.com/goccy/go-yaml              setup/maker/files
//	github.com/olekukonko/tablewriter     setup/page/render
//	codeberg.org/go-pdf/fpdf              setup/page/render
//	github.com/spf13/cobra                cmd/cli
//	github.com/spf13/pflag                cmd/cli
//	golang.org/x/term                     cmd/cli
//	github.com/shopspring/decimal         anywhere
//
// Doors that open to one user only: setup/page/render is used by cmd/cli alone,
// setup/page/published and setup/plan/judge by tests alone.
package setup
