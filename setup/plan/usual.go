package plan

import (
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// usual is what is left, added or taken where nothing was said: common
// practice, no source.
type usual struct {
	leaveTurning  units.Length // on diameter, for the finishing cut
	sawnFace      units.Length // faced off a sawn end
	skim          units.Length // on diameter, to clean up a bar
	stubLength    units.Length // beyond an end too thin for a centre
	stubDia       units.Length // of that stub
	thinEnd       units.Length // a thinner end takes no centre
	partingExtra  units.Length // beside the blade
	kerf          units.Length // of the saw
	leastGrip     units.Length // the shortest band that is held; larger bars need one diameter
	taperDepth    units.Length // off a taper in a pass, a side
	indicatorStep units.Length // a tailstock is set over by indicator to this
	chainWeb      units.Length // between chain-drilled holes
	barStep       units.Length // bars are counted in steps of this
	cusp          units.Length // left by an arc that is turned in steps
	insideTool    units.Length // the least bore a threading tool goes into
	wall          units.Length // the least wall in metal, where none is written
	finishDepth   units.Length // of a finishing cut, a side
	finishFeed    float64      // mm a turn
	clear         units.Length // of the jaws, where the tool runs out
	formTool      units.Length // the longest side a form tool cuts without chatter
	easy          units.Length // clear of chuck and tailstock by this is easy
}

// size returns a length to stand inside a sentence of the card.
func size(l units.Length) string { return sheet.Inline(l, units.Nearest) }

// usually returns those figures.
func usually() usual {
	return usual{
		leaveTurning:  units.MustLength("0.4mm"),
		sawnFace:      units.MustLength("1mm"),
		skim:          units.MustLength("1mm"),
		stubLength:    units.MustLength("10mm"),
		stubDia:       units.MustLength("8mm"),
		thinEnd:       units.MustLength("5mm"),
		partingExtra:  units.MustLength("0.5mm"),
		kerf:          units.MustLength("2mm"),
		leastGrip:     units.MustLength("12mm"),
		taperDepth:    units.MustLength("0.5mm"),
		indicatorStep: units.MustLength("0.01mm"),
		chainWeb:      units.MustLength("0.5mm"),
		barStep:       units.MustLength("0.5mm"),
		cusp:          units.MustLength("0.1mm"),
		insideTool:    units.MustLength("10mm"),
		wall:          units.MustLength("1.5mm"),
		finishDepth:   units.MustLength("0.2mm"),
		finishFeed:    0.06,
		clear:         units.MustLength("3mm"),
		formTool:      units.MustLength("4mm"),
		easy:          units.MustLength("3mm"),
	}
}
