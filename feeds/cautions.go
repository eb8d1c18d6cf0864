package feeds

import (
	"slices"

	"setover/setup/base/say"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
)

// traits says what a material's traits make one careful of, the worst first,
// and how it likes to be cut; of all operations, or of those named.
var traits = []struct {
	trait         materials.Trait
	caution, hint say.Text
	ops           []Operation
}{
	{trait: materials.FireMagnesium, caution: cautions.FireMagnesium},
	{trait: materials.FireTitanium, caution: cautions.FireTitanium},
	{trait: materials.DustMixing, caution: cautions.GrindDust, ops: []Operation{Grind, Saw}},
	{trait: materials.DustGlass, caution: cautions.DustGlass},
	{trait: materials.DustCarbon, caution: cautions.DustCarbon},
	{trait: materials.DustPhenolic, caution: cautions.DustPhenolic},
	{trait: materials.DustSensitiser, caution: cautions.DustSensitiser},
	{trait: materials.DustWood, caution: cautions.DustWood},
	{trait: materials.DustIron, caution: cautions.DustIron},
	{trait: materials.Fumes, caution: cautions.Fumes},
	{trait: materials.Lead, caution: cautions.Lead},
	{trait: materials.GrabsDrill, caution: cautions.GrabDrill, ops: []Operation{Drill, Ream, Countersink}},
	{trait: materials.HotChips, caution: cautions.HotChips},
	{trait: materials.Stringy, caution: cautions.Swarf, ops: []Operation{Turn, Face, Bore, PartOff, Thread, Drill}},
	{trait: materials.WorkHardens, hint: "It hardens where a tool rubs: keep the feed up and never dwell."},
	{
		trait: materials.HardSkin, hint: "A casting's skin is hard: the first cut goes under it.",
		ops: []Operation{Turn, Face, Bore, Mill},
	},
	{trait: materials.HardSpots, hint: "Welds and layers differ in hardness: take light, steady cuts."},
	{trait: materials.Abrasive, hint: "It wears high-speed steel fast: look at the edge often, or use carbide."},
	{trait: materials.Melts, hint: "It softens when the tool rubs: a sharp edge, a free chip and air on the cut."},
	{trait: materials.Springs, hint: "It gives way from the tool: a keen edge and a light grip, and measure it cold."},
	{trait: materials.Delaminates, hint: "Its layers part at the edges: back it up where the tool comes out."},
	{trait: materials.Splits, hint: "It splits at the edges: a sharp tool, and a backing where it breaks through."},
	{trait: materials.Swells, hint: "It takes up water and grows: keep it dry until it is measured."},
}

// said returns the cautions and the hints of a material for an operation.
func said(m *materials.Material, op Operation) (careful, hints []say.Text) {
	for _, t := range traits {
		switch {
		case !m.Has(t.trait) || t.ops != nil && !slices.Contains(t.ops, op):
		case t.caution != "":
			careful = append(careful, t.caution)
		case op != Grind: // a belt has no edge
			hints = append(hints, t.hint)
		}
	}
	return careful, hints
}

// Cautions returns what there is to be careful of when a material is cut, the
// worst first. machine may be "".
func Cautions(m *materials.Material, op Operation, machine shop.Machine) []say.Text {
	list, _ := said(m, op)
	f := op.facts()
	switch {
	case machine == shop.OnLathe:
		list = append(list, cautions.ChuckKey, cautions.WheelRating)
	case f.clamped:
		list = append(list, cautions.ClampDrill)
	}
	return append(append(list, f.cautions...), cautions.EyeProtection, cautions.Manual)
}
