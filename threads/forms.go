package threads

import (
	"regexp"
	"sync"

	"setover/setup/base/units"
)

// Form is the shape of a thread, a row of the table below. Every calculator
// reads the row; none of them knows a form by its name. A form is added by its
// row and its sizes in sizes.csv; a test walks the table and demands every
// field, and a published figure of every kind.
//
// Heights are counted from the major diameter inwards, on the diameter, in
// units of the form: the pitch, or the depth its standard gives.
type Form struct {
	Key    string // its name in sizes.csv and in JSON
	Name   string // as a sheet calls it
	Called string // one of them, as a refusal calls it
	Source string // of its heights
	System string // "mm" or "in": whose limits are rounded in it, whose drills fit

	Half   float64 // half the thread's angle, in degrees: from a flank to the square across the axis
	Unit   float64 // the unit of its heights, in pitches
	Step   string  // what the standard rounds the unit to, "" where it does not
	Pitch  Height  // from the major diameter to d2
	Minor  Height  // to D1, the nut's minor diameter
	Root   Height  // to d3, the screw's root, without the gaps
	Stress float64 // to the root that the stress area is reckoned with; 0 on a cone, which has none
	Gaps   []Gap   // between crest and root, by rising pitch; nil where the two fit
	Cone   *OnCone // nil for a thread on a cylinder

	Tool    *Tool    // what the form takes off the sharp triangle
	Tapping Tapping  // how its hole is reckoned
	Blank   string   // what the diameter it is turned to is meant for
	Limits  Standard // what gives its limits of size

	Pattern   string // how it is written, without class and hand: the parts size, pitch, lead and series
	Numbered  bool   // sizes have numbers too, and specials are allowed
	PitchUnit string // of the pitch as written: "mm" or "tpi"
	Usual     string // the series that a designation without a pitch means
	Coarse    string // the coarse series, "" where there is none
	Written   string // as String writes it; with several starts as Several does
	Several   string
	Classes   string // the classes it has
	Want      string // and which they are, for whoever writes another
	Joined    bool   // the class follows without a dash

	compile          sync.Once
	pattern, classes *regexp.Regexp
}

// Height is a height in units of its form, and the same as a working shows it.
type Height struct {
	By   float64
	Text string
}

// Gap is the gap on the radius between crest and root, from a pitch on. The
// first holds for finer ones too.
type Gap struct{ From, Gap string }

// Tool is what a tool has to leave of the sharp triangle: parts of its height,
// outside and inside. Where crest and root are alike they follow from the depth.
type Tool struct {
	Own             bool // the nose is the form's own flat, and no other cuts it
	Alike           bool // crest and root take the same off the triangle
	Rounded         bool // a full nose is rounded
	Outside, Inside Truncation
}

// Truncation is what the crest takes off the triangle, and what a flat and a
// rounded nose leave of it.
type Truncation struct{ Crest, Flat, Round float64 }

// The tools. H/12 inside is from memory.
var (
	sixty   = Tool{Rounded: true, Outside: Truncation{1. / 8, 1. / 8, 1. / 6}, Inside: Truncation{1. / 4, 1. / 8, 1. / 12}}
	rounded = Tool{Alike: true, Rounded: true}
	flat    = Tool{Alike: true}
	own     = Tool{Own: true}
)

// Tapping is how the hole of a nut is reckoned.
type Tapping string

// The ways: by a percentage on the base of the inch charts and of ISO, where
// forming taps are made too; by one of the form's own depth; bored to the minor
// diameter; by the small end of the cone.
const (
	ByCharts Tapping = "charts"
	ByDepth  Tapping = "depth"
	Bored    Tapping = "bored"
	BySmall  Tapping = "small end"
)

// Standard is what gives a form's limits of size.
type Standard string

// The standards, and the lack of one.
const (
	ISO965   Standard = "ISO 965-1"
	ASMEB11  Standard = "ASME B1.1"
	ASMEB15  Standard = "ASME B1.5"
	ISO228   Standard = "ISO 228-1"
	NoLimits Standard = "none"
)

// Parts of patterns.
const (
	number   = `\d{1,3}(?:\.\d{1,3})?`
	diameter = `\d{1,4}(?:\.\d{1,3})?`
	inches   = `\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,2}`
	screwGr  = `[468][efgh]|[3-9][efgh][468][efgh]` // grades of the pitch diameter and, when they differ, of the crest
	nutGr    = `[4-8][GH](?:[4-8][GH])?`
	none     = `\b\B`
)

// ChartDepth is 3√3/4, four times what lies over the pitch line of a 60°
// thread: the depth on the diameter, in pitches, that the inch charts call 100 %
// and ASME B1.1 reckons the stress area with.
const ChartDepth = 1.299038105676657970

const (
	usualBlank = "before a single-point tool or a die"
	height55   = 0.640327 // h of BS 84, in pitches
)

// forms are the forms there are, in the order their patterns are tried.
var forms = []*Form{
	{
		Key: "metric", Name: "ISO metric, 60°", Called: "metric thread", Source: "ISO 68-1, ISO 724", System: "mm",
		Half: 30, Unit: 1,
		Pitch:  Height{0.649519052838328985, "3*sqrt(3)/8*P"},   // 3/4 H
		Minor:  Height{1.082531754730548308, "5*sqrt(3)/8*P"},   // 5/4 H
		Root:   Height{1.226869322027954749, "17*sqrt(3)/24*P"}, // 17/12 H, rounded
		Stress: 1.226869322027954749,
		Tool:   &sixty, Tapping: ByCharts, Blank: usualBlank, Limits: ISO965,
		Pattern:   `(?P<size>M` + diameter + `)(?:x(?P<pitch>` + number + `))?`,
		PitchUnit: "mm", Usual: "coarse", Coarse: "coarse", Written: "{size}x{pitch}",
		Classes: screwGr + `|` + nutGr + `|(?:` + nutGr + `)/(?:` + screwGr + `)`,
		Want: "write a grade and a position: external such as 6g, 6h or 4g6g (pitch diameter first), " +
			"internal such as 6H, 5H or 6G",
	},
	{
		Key: "unified", Name: "Unified, 60°", Called: "unified thread", Source: "ASME B1.1", System: "in",
		Half: 30, Unit: 1,
		Pitch:  Height{0.649519052838328985, "3*sqrt(3)/8*P"},
		Minor:  Height{1.082531754730548308, "5*sqrt(3)/8*P"},
		Root:   Height{1.190784930203603139, "11*sqrt(3)/16*P"}, // 11/8 H, UNR
		Stress: ChartDepth,
		Tool:   &sixty, Tapping: ByCharts, Blank: usualBlank, Limits: ASMEB11,
		Pattern: `(?P<size>No\d{1,2}|` + inches + `)-(?P<pitch>` + number + `)(?P<series>UN[A-Z]*)?`, Numbered: true,
		PitchUnit: "tpi", Coarse: "UNC", Written: "{size}-{pitch}{series}",
		Classes: `[123][AB]`, Want: "write 1A, 2A or 3A for the screw, 1B, 2B or 3B for the nut",
	},
	{
		Key: "whitworth", Name: "Whitworth, 55°", Called: "Whitworth thread", Source: "BS 84", System: "in",
		Half: 27.5, Unit: height55,
		Pitch: Height{1, "0.640327*P"}, Minor: Height{2, "2*0.640327*P"}, Root: Height{2, "2*0.640327*P"}, Stress: 2,
		Tool: &rounded, Tapping: ByDepth, Blank: usualBlank, Limits: NoLimits,
		Pattern:   `(?P<size>` + inches + `)(?:-(?P<pitch>` + number + `))?(?P<series>BSW|BSF)`,
		PitchUnit: "tpi", Coarse: "BSW", Written: "{size}{series}",
		Classes: none, Want: "no classes of Whitworth threads are known here",
	},
	{
		Key: "ba", Name: "BA, 47.5°", Called: "BA thread", Source: "BS 93", System: "mm",
		Half: 23.75, Unit: 0.6, Step: "0.005mm",
		Pitch: Height{1, "h"}, Minor: Height{2, "2*h"}, Root: Height{2, "2*h"}, Stress: 2,
		Tool: &rounded, Tapping: ByDepth, Blank: usualBlank, Limits: NoLimits,
		Pattern: `(?P<size>\d{1,2}BA)`, PitchUnit: "mm",
		Coarse: "BA", Written: "{size}",
		Classes: none, Want: "no classes of BA threads are known here",
	},
	{
		Key: "g", Name: "parallel pipe (G), 55°", Called: "G thread", Source: "ISO 228-1", System: "mm",
		Half: 27.5, Unit: height55, Step: "0.001mm",
		Pitch: Height{1, "h"}, Minor: Height{2, "2*h"}, Root: Height{2, "2*h"}, Stress: 2,
		Tool: &rounded, Tapping: ByDepth, Blank: usualBlank, Limits: ISO228,
		Pattern: `(?P<size>G(?:` + inches + `))`, PitchUnit: "tpi", Written: "{size}", Joined: true,
		Classes: `[AB]`, Want: "write A or B for the external thread; the internal one has one class",
	},
	{
		Key: "r", Name: "taper pipe (R), 55° on 1:16", Called: "R thread", Source: "ISO 7-1", System: "mm",
		Half: 27.5, Unit: height55, Step: "0.001mm",
		Pitch: Height{1, "h"}, Minor: Height{2, "2*h"}, Root: Height{2, "2*h"}, Cone: &byGaugePlane,
		Tool: &rounded, Tapping: BySmall, Blank: "at the gauge plane; the taper goes on past it", Limits: NoLimits,
		Pattern: `(?P<size>R(?:` + inches + `))`, PitchUnit: "tpi", Written: "{size}",
		Classes: none, Want: "R threads have no classes",
	},
	{
		Key: "npt", Name: "taper pipe (NPT), 60° on 1:16", Called: "NPT thread", Source: "ASME B1.20.1", System: "in",
		Half: 30, Unit: 0.8,
		Pitch: Height{1, "h"}, Minor: Height{2, "2*h"}, Root: Height{2, "2*h"}, Cone: &bySmallEnd,
		Tool: &flat, Tapping: BySmall, Blank: "the pipe's outside, before the taper is turned", Limits: NoLimits,
		Pattern:   `(?P<size>` + inches + `)(?:-(?P<pitch>` + number + `))?(?P<series>NPT)`,
		PitchUnit: "tpi", Written: "{size}{series}",
		Classes: none, Want: "NPT threads have no classes",
	},
	{
		Key: "trapezoidal", Name: "trapezoidal, 30°", Called: "trapezoidal thread", Source: "ISO 2902 to 2904", System: "mm",
		Half: 15, Unit: 1,
		Pitch: Height{0.5, "P/2"}, Minor: Height{1, "P"}, Root: Height{1, "P"}, Stress: 1,
		Gaps: []Gap{{"1.5mm", "0.15mm"}, {"2mm", "0.25mm"}, {"6mm", "0.5mm"}, {"14mm", "1mm"}}, // ac of ISO 2902
		Tool: &own, Tapping: Bored, Blank: usualBlank, Limits: NoLimits,
		Pattern:   `(?P<size>Tr` + diameter + `)x(?P<lead>` + number + `)(?:P(?P<pitch>` + number + `))?`,
		PitchUnit: "mm", Written: "{size}x{pitch}", Several: "{size}x{lead}P{pitch}",
		Classes: none, Want: "no classes of trapezoidal threads are known here",
	},
	{
		Key: "acme", Name: "ACME, 29°", Called: "ACME thread", Source: "ASME B1.5", System: "in",
		Half: 14.5, Unit: 1,
		Pitch: Height{0.5, "P/2"}, Minor: Height{1, "P"}, Root: Height{1, "P"}, Stress: 1,
		Gaps: []Gap{{"16tpi", "0.005in"}, {"10tpi", "0.01in"}}, // half of 0.010 in and 0.020 in on the diameter
		Tool: &own, Tapping: Bored, Blank: usualBlank, Limits: ASMEB15,
		Pattern:   `(?P<size>` + inches + `)-(?P<pitch>` + number + `)ACME`,
		PitchUnit: "tpi", Written: "{size}-{pitch}ACME",
		Classes: `2G`, Want: "write 2G, the class known here",
	},
}

// Forms returns every form.
func Forms() []*Form { return append([]*Form(nil), forms...) }

// FormOf returns the form of a key. It panics on any other: a form that is no
// row does not exist.
func FormOf(key string) *Form {
	for _, f := range forms {
		if f.Key == key {
			return f
		}
	}
	panic("threads: no form " + key)
}

// HalfAngle returns the angle from a flank to the square across the axis.
func (f *Form) HalfAngle() units.Angle { return units.Degrees(f.Half) }

// Inch reports whether the form belongs to an inch system.
func (f *Form) Inch() bool { return f.System == "in" }

// Tapered reports whether the thread stands on a cone of 1:16.
func (f *Form) Tapered() bool { return f.Cone != nil }

// grammar returns the patterns of the form and of its classes, compiled when
// they are first asked for.
func (f *Form) grammar() (pattern, classes *regexp.Regexp) {
	f.compile.Do(func() {
		class := `(?:-(?P<class>[^-]+))?`
		if f.Joined {
			class = `(?:-?(?P<class>[A-Z]+))?`
		}
		f.pattern = regexp.MustCompile(`^` + f.Pattern + class + `$`)
		f.classes = regexp.MustCompile(`^(?:` + f.Classes + `)$`)
	})
	return f.pattern, f.classes
}
