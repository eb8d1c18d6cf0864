package materials

import "slices"

// The caution codes a material may carry. What a sheet says for each, and for
// which operations, is not decided here.
const (
	Abrasive       = "abrasive"        // wears high-speed steel fast
	Delaminates    = "delaminates"     // layers part at the edges: back the work up
	DustCarbon     = "dust-carbon"     // carbon fibre dust: conducts, harms lungs
	DustGlass      = "dust-glass"      // glass fibre dust
	DustIron       = "dust-iron"       // graphite and iron dust: keep it off the ways
	DustMixing     = "dust-mixing"     // burns when steel is ground into its dust
	DustPhenolic   = "dust-phenolic"   // dust of phenolic resin and cloth or paper
	DustSensitiser = "dust-sensitiser" // dust that brings on allergy
	DustWood       = "dust-wood"       // wood dust
	FireMagnesium  = "fire-magnesium"  // chips burn, water makes it worse
	FireTitanium   = "fire-titanium"   // fine chips burn
	Fumes          = "fumes"           // gives off harmful fumes when overheated
	GrabsDrill     = "grabs-drill"     // a sharp drill digs in: dub the lips
	HardSkin       = "hard-skin"       // the first cut goes under the casting's skin
	HardSpots      = "hard-spots"      // welds and layers of uneven hardness
	HotChips       = "hot-chips"       // chips come off red hot
	HSSRefused     = "hss-refused"     // high-speed and carbon steel do not cut it
	Lead           = "lead"            // contains lead: wash hands, no food nearby
	Melts          = "melts"           // softens and smears when the tool rubs
	Splits         = "splits"          // splits or cracks at edges and at breakthrough
	Springs        = "springs"         // gives way from the tool: sharp edge, light grip
	Stringy        = "stringy"         // long sharp swarf: hook and brush, never fingers
	Swells         = "swells"          // takes up water and changes size
	WorkHardens    = "work-hardens"    // hardens where a tool rubs: keep the feed up
)

var cautionCodes = []string{
	Abrasive, Delaminates, DustCarbon, DustGlass, DustIron, DustMixing,
	DustPhenolic, DustSensitiser, DustWood, FireMagnesium, FireTitanium, Fumes,
	GrabsDrill, HardSkin, HardSpots, HotChips, HSSRefused, Lead, Melts, Splits,
	Springs, Stringy, Swells, WorkHardens,
}

// CautionCodes returns every caution code, in alphabetical order.
func CautionCodes() []string { return slices.Clone(cautionCodes) }
