// Package setup states how the house is built. It holds nothing else.
//
// Imports point downwards: a package may use those on a lower floor. On its own
// floor it may use what stands inside the same house and what the list of
// neighbours below allows, nothing else. The test beside this file reads the
// two lists and the imports of every package, and fails where they part.
//
// The floors. A package that is not named stands with the nearest one above it
// in its path, so tapers/compound is on floor 5 with tapers.
//
//	8  cmd/setover        runs cmd/cli and exits with its status
//	8  cmd/cli            flags -> Input -> call -> render; no arithmetic
//	7  setup/plan         part and shop -> route card
//	7  setup/charts       wall charts, made of the calculators below
//	6  setup/files        the makers' YAML files, read strictly
//	6  setup/walls        the wall every cross hole leaves
//	5  tapers             what a taper is, and how it is set and measured
//	5  threads            designations and sizes, and how they are cut and measured
//	5  setup/holes        rows, circles, slots, V-blocks
//	5  setup/divide       dividing
//	5  setup/fits         limits and fits
//	5  setup/convert      one size in every unit, and the nearest drill
//	4  feeds              speeds, feeds, power, time
//	3  setup/shop         the instruments on hand, each with its own snapping
//	3  setup/part         the part as written
//	3  setup/gears        exact trains from owned wheels
//	2  setup/drills       drill sizes
//	2  setup/materials    what a material allows
//	2  setup/cautions     what can hurt, one sentence each
//	2  setup/render       terminal, Markdown, CSV, JSON, SVG, PDF
//	1  setup/sheet        what a result looks like before it is drawn
//	0  setup/units        quantities
//	0  setup/geom         plane geometry
//	0  setup/problem      the one shape of an error
//	0  setup/tables       reading the reference tables that are built in
//
// Neighbours that may be used on the same floor:
//
//	cmd/setover -> cmd/cli
//	setup/units -> setup/problem
//	setup/geom -> setup/units
//	setup/geom -> setup/problem
//
// Inside the houses of tapers, threads and feeds the rooms use the root
// package and each other, and the root uses no room.
//
// Homes of other people's packages, by the start of their path. Any other is
// used by tests alone:
//
//	github.com/goccy/go-yaml              setup/files
//	github.com/olekukonko/tablewriter     setup/render
//	codeberg.org/go-pdf/fpdf              setup/render
//	github.com/spf13/cobra                cmd/cli
//	github.com/spf13/pflag                cmd/cli
//	golang.org/x/term                     cmd/cli
//	github.com/shopspring/decimal         anywhere
//
// Doors that open to one user only: setup/render is used by cmd/cli alone, and
// setup/published by tests alone.
package setup
