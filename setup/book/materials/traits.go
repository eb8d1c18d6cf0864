package materials

import "slices"

// Trait is something a material does, or does to whoever cuts it. A material
// has the traits of its own row and those of its group's. What a calculator
// makes of one is not decided here.
type Trait string

// The traits, as the tables write them.
const (
	Abrasive       Trait = "abrasive"        // wears high-speed steel fast
	BreaksOut      Trait = "breaks-out"      // the edge of a cross hole breaks out when it is turned over: plug it
	ClosesOnTap    Trait = "closes-on-tap"   // closes in on a tap and melts on it
	CoarseThreads  Trait = "coarse-threads"  // holds coarse threads only
	Crumbles       Trait = "crumbles"        // does not flow: no forming tap, no knurl
	Crushes        Trait = "crushes"         // crushes and splits in the jaws
	Delaminates    Trait = "delaminates"     // layers part at the edges: back the work up
	DustCarbon     Trait = "dust-carbon"     // carbon fibre dust: conducts, harms lungs
	DustGlass      Trait = "dust-glass"      // glass fibre dust
	DustIron       Trait = "dust-iron"       // graphite and iron dust: keep it off the ways
	DustMixing     Trait = "dust-mixing"     // burns when steel is ground into its dust
	DustPhenolic   Trait = "dust-phenolic"   // dust of phenolic resin and cloth or paper
	DustSensitiser Trait = "dust-sensitiser" // dust that brings on allergy
	DustWood       Trait = "dust-wood"       // wood dust
	FireMagnesium  Trait = "fire-magnesium"  // chips burn, water makes it worse
	FireTitanium   Trait = "fire-titanium"   // fine chips burn
	Fumes          Trait = "fumes"           // gives off harmful fumes when overheated
	GrabsDrill     Trait = "grabs-drill"     // a sharp drill digs in: dub the lips
	HardSkin       Trait = "hard-skin"       // the first cut goes under the casting's skin
	HardSpots      Trait = "hard-spots"      // welds and layers of uneven hardness
	HeatSpoils     Trait = "heat-spoils"     // is not heated to be shrunk on
	HotChips       Trait = "hot-chips"       // chips come off red hot
	HSSRefused     Trait = "hss-refused"     // high-speed and carbon steel do not cut it
	Lead           Trait = "lead"            // contains lead: wash hands, no food nearby
	Melts          Trait = "melts"           // softens and smears when the tool rubs
	NotMetal       Trait = "not-metal"       // half the tensile strength is not its shear strength
	RoughStart     Trait = "rough-start"     // is put on the lathe before it is round
	Splits         Trait = "splits"          // splits or cracks at edges and at breakthrough
	SplitsOnTap    Trait = "splits-on-tap"   // splits when it is tapped along its layers
	Springs        Trait = "springs"         // gives way from the tool: sharp edge, light grip
	Stringy        Trait = "stringy"         // long sharp swarf: hook and brush, never fingers
	Swells         Trait = "swells"          // takes up water and changes size
	ThreeSided     Trait = "three-sided"     // gives way in the jaws and comes out three-sided
	WorkHardens    Trait = "work-hardens"    // hardens where a tool rubs: keep the feed up
)

// Has reports whether the material has a trait. m may be nil.
func (m *Material) Has(t Trait) bool { return m != nil && slices.Contains(m.Traits, t) }
