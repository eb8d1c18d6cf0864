package feeds

import (
	"slices"

	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
)

// Cautions returns what there is to be careful of when a material is cut, the
// worst first. machine may be "".
func Cautions(m *materials.Material, op Operation, machine shop.Machine) []string {
	var list []string
	code := func(code, sentence string, ops ...Operation) {
		if slices.Contains(m.Cautions, code) && (len(ops) == 0 || slices.Contains(ops, op)) {
			list = append(list, sentence)
		}
	}
	code(materials.FireMagnesium, cautions.FireMagnesium)
	code(materials.FireTitanium, cautions.FireTitanium)
	if op == Grind {
		list = append(list, cautions.WheelRating)
	}
	code(materials.DustMixing, cautions.GrindDust, Grind, Saw)
	if op == Grind && !slices.Contains(m.Cautions, materials.DustMixing) {
		list = append(list, cautions.GrindDust)
	}
	code(materials.DustGlass, cautions.DustGlass)
	code(materials.DustCarbon, cautions.DustCarbon)
	code(materials.DustPhenolic, cautions.DustPhenolic)
	code(materials.DustSensitiser, cautions.DustSensitiser)
	code(materials.DustWood, cautions.DustWood)
	code(materials.DustIron, cautions.DustIron)
	code(materials.Fumes, cautions.Fumes)
	code(materials.Lead, cautions.Lead)
	code(materials.GrabsDrill, cautions.GrabDrill, Drill, Ream, Countersink)
	code(materials.HotChips, cautions.HotChips)
	code(materials.Stringy, cautions.Swarf, Turn, Face, Bore, PartOff, Thread, Drill)
	switch {
	case machine == shop.OnLathe:
		list = append(list, cautions.ChuckKey, cautions.WheelRating)
	case slices.Contains([]Operation{Drill, Ream, Tap, Countersink}, op):
		list = append(list, cautions.ClampDrill)
	case op == Mill:
		list = append(list, cautions.WheelRating)
	}
	switch op {
	case Turn, Thread:
		list = append(list, cautions.Overhang)
	case Tap:
		list = append(list, cautions.TapBreak)
	}
	return append(list, cautions.EyeProtection, cautions.Manual)
}

// hints returns how a material likes to be cut by an edge, for the sheet's
// notes.
func hints(m *materials.Material, op Operation) []string {
	if op == Grind {
		return nil
	}
	var notes []string
	for _, h := range []struct {
		code, text string
		ops        []Operation
	}{
		{materials.WorkHardens, "It hardens where a tool rubs: keep the feed up and never dwell.", nil},
		{materials.HardSkin, "A casting's skin is hard: the first cut goes under it.", []Operation{Turn, Face, Bore, Mill}},
		{materials.HardSpots, "Welds and layers differ in hardness: take light, steady cuts.", nil},
		{materials.Abrasive, "It wears high-speed steel fast: look at the edge often, or use carbide.", nil},
		{materials.Melts, "It softens when the tool rubs: a sharp edge, a free chip and air on the cut.", nil},
		{materials.Springs, "It gives way from the tool: a keen edge and a light grip, and measure it cold.", nil},
		{materials.Delaminates, "Its layers part at the edges: back it up where the tool comes out.", nil},
		{materials.Splits, "It splits at the edges: a sharp tool, and a backing where it breaks through.", nil},
		{materials.Swells, "It takes up water and grows: keep it dry until it is measured.", nil},
	} {
		if slices.Contains(m.Cautions, h.code) && (h.ops == nil || slices.Contains(h.ops, op)) {
			notes = append(notes, h.text)
		}
	}
	return notes
}
