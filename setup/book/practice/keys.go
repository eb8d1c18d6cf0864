package practice

// The keys of practice.csv, typed by what their values are. What each figure
// is, and where it comes from, stands on its row.
//
// Lengths.
const (
	LeaveTurning     length = "leave-turning"
	SawnFace         length = "sawn-face"
	SkimBar          length = "skim-bar"
	TaperDepth       length = "taper-depth"
	FinishDepth      length = "finish-depth"
	FeedApproach     length = "feed-approach"
	FeedOverrun      length = "feed-overrun"
	BarStep          length = "bar-step"
	Kerf             length = "kerf"
	PartingExtra     length = "parting-extra"
	LeastGrip        length = "least-grip"
	RunOut           length = "run-out"
	EasyClear        length = "easy-clear"
	ThinEnd          length = "thin-end"
	StubLength       length = "stub-length"
	StubDia          length = "stub-dia"
	IndicatorStep    length = "indicator-step"
	FaceMill         length = "face-mill"
	FacetMill        length = "facet-mill"
	SpotAs           length = "spot-as"
	IndicatorTravel  length = "indicator-travel"
	TestBarTravel    length = "test-bar-travel"
	FormToolSide     length = "form-tool-side"
	ChainWeb         length = "chain-web"
	ArcCusp          length = "arc-cusp"
	Breakthrough     length = "breakthrough"
	DrillNear        length = "drill-near"
	PilotAbove       length = "pilot-above"
	InsideThreadBore length = "inside-thread-bore"
	ThreadFirstCut   length = "thread-first-cut"
	ThreadFirstForm  length = "thread-first-form"
	ThreadLeastCut   length = "thread-least-cut"
	SmallTap         length = "small-tap"
	EpoxyLeast       length = "epoxy-least"
	EpoxyMost        length = "epoxy-most"
	RetainingLeast   length = "retaining-least"
	RetainingMost    length = "retaining-most"
	SpringRough      length = "spring-rough"
	SpringAside      length = "spring-aside"
	DrawnMajor       length = "drawn-major"
	ToolOut          length = "tool-out"
	ToolLeast        length = "tool-least"
	BarrelMore       length = "barrel-more"
	HandRoom         length = "hand-room"
	GeneralBelow     length = "general-below"
)

// Angles.
const (
	FormToolStep     angle = "form-tool-step"
	ViceStep         angle = "vice-step"
	PointAngle       angle = "point-angle"
	CentreCone       angle = "centre-cone"
	TrailClear       angle = "trail-clear"
	UsualTrail       angle = "usual-trail"
	PointedTrail     angle = "pointed-trail"
	PostTurn         angle = "post-turn"
	CountersinkAngle angle = "countersink-angle"
	InfeedLess       angle = "infeed-less"
	ClockShort       angle = "clock-short"
	ClockWithin      angle = "clock-within"
)

// Feeds a revolution.
const (
	FinishFeed feed = "finish-feed"
)

// Numbers, in the unit of their row: diameters (D), thread diameters (d),
// pitches (P), parts, minutes, newtons (N).
const (
	DepthPart            number = "depth-part"
	MillDepth            number = "mill-depth"
	MillWidth            number = "mill-width"
	CutterTeeth          number = "cutter-teeth"
	ChipOfCutter         number = "chip-of-cutter"
	Efficiency           number = "efficiency"
	HandFeed             number = "hand-feed"
	GripLength           number = "grip-length"
	SlenderNeck          number = "slender-neck"
	SteadyAbove          number = "steady-above"
	RadialPart           number = "radial-part"
	SideForce            number = "side-force"
	SpringFinish         number = "spring-finish"
	StandOut             number = "stand-out"
	WhirlPart            number = "whirl-part"
	BoringBarSteel       number = "boring-bar-steel"
	BoringBarCarbide     number = "boring-bar-carbide"
	BoringBarFill        number = "boring-bar-fill"
	PeckFirst            number = "peck-first"
	PeckThen             number = "peck-then"
	PeckDeepFrom         number = "peck-deep-from"
	PeckDeep             number = "peck-deep"
	DeepHole             number = "deep-hole"
	BothSides            number = "both-sides"
	PilotPart            number = "pilot-part"
	ThreadMouth          number = "thread-mouth"
	ReliefWidth          number = "relief-width"
	ReliefDepth          number = "relief-depth"
	DieUnder             number = "die-under"
	ThreadFirstPart      number = "thread-first-part"
	ThreadMostPasses     number = "thread-most-passes"
	SpringPasses         number = "spring-passes"
	HandReaction         number = "hand-reaction"
	GearError            number = "gear-error"
	TapLeadTaper         number = "tap-lead-taper"
	TapLeadPlug          number = "tap-lead-plug"
	TapLeadBottoming     number = "tap-lead-bottoming"
	ThreadPercentUnsaid  number = "thread-percent-unsaid"
	ThreadInBoreLeast    number = "thread-in-bore-least"
	ThreadInBoreMost     number = "thread-in-bore-most"
	ThreadInBoreOwn      number = "thread-in-bore-own"
	TaperThreadBore      number = "taper-thread-bore"
	ThreadPercentForming number = "thread-percent-forming"
	FormingLeast         number = "forming-least"
	FormingMost          number = "forming-most"
	SmallTapPercent      number = "small-tap-percent"
	DeepThread           number = "deep-thread"
	DeepThreadLess       number = "deep-thread-less"
	PressLeast           number = "press-least"
	PressMost            number = "press-most"
	ShrinkSlip           number = "shrink-slip"
	TaperRate            number = "taper-rate"
	ProofTurns           number = "proof-turns"
	RechuckMinutes       number = "rechuck-minutes"
	SwingMinutes         number = "swing-minutes"
	VblockMinutes        number = "vblock-minutes"
	DividingMinutes      number = "dividing-minutes"
	ToolMinutes          number = "tool-minutes"
	ThreadMinutes        number = "thread-minutes"
	FlatMinutes          number = "flat-minutes"
)

// Lengths by the material that is cut.
const (
	RoughDepth lengthOf = "rough-depth"
	LeastWall  lengthOf = "least-wall"
	ClosesIn   lengthOf = "closes-in"
)

// Numbers by the material.
const (
	WallOfHole    numberOf = "wall-of-hole"
	Overhang      numberOf = "overhang"
	ThreadPercent numberOf = "thread-percent"
	Engagement    numberOf = "engagement"
)

// Lengths by the size of the work or the hole.
const (
	PartingBlade  lengthBy = "parting-blade"
	CentreDrill   lengthBy = "centre-drill"
	DrillOver     lengthBy = "drill-over"
	ReamAllowance lengthBy = "ream-allowance"
)
