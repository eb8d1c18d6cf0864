// Package cautions holds the warnings about what can hurt, one sentence each,
// so that every sheet says the same thing in the same words. They are the
// usual cautions of the trade (common practice, no source); a sheet prints
// those that fit its operation and defers to the machine's manual, local codes
// and licensed practice.
//
// Those of every taper have a short form beside, for a sheet of one screen.
package cautions

import "setover/setup/base/say"

// The cautions.
const (
	Manual = say.Long + "The machine's manual, local codes and licensed practice come before this sheet" + say.Short +
		"The machine's manual comes first" + say.End + "."
	EyeProtection = "Eye protection" + say.Long + " on. No" + say.Short + "; no" + say.End +
		" gloves, loose sleeves, rings or long hair" + say.Long + " near anything that turns" + say.Short + say.End + "."
	ChuckKey = "Take the chuck key out before the machine is switched on, every time."
	Isolate  = "Isolate the lathe" + say.Long + " and turn the spindle once by hand through the whole travel before the " +
		"first cut" + say.Short + "; try the whole travel by hand first" + say.End + "."
	BetweenDog = say.Long + "Work set over runs between centres with a dog" + say.Short + "Between centres with a dog" +
		say.End + ", never in a chuck; guard the dog" + say.Long + " and" + say.Short + "," + say.End + " oil a dead centre."
	Dog    = "A dog's tail catches sleeves: guard it. Draw the dead centre up without play, and oil it."
	Rezero = "Bring the tailstock back to true" + say.Long + " with a test bar afterwards, or the next cylinder comes " +
		"out tapered" + say.Short + say.End + "."
	LockCompound = "Lock the carriage while the compound cuts" + say.Long +
		", and tighten both compound bolts after setting the angle" + say.Short + say.End + "."
	Overhang     = "Work that sticks out further than about three diameters needs a centre or a steady."
	VBlocks      = "Bolt the V-blocks down and clamp the work in them; never hold it by hand under a drill."
	ClampDrill   = "Clamp the work: a drill that grabs as it breaks through spins it."
	GrabDrill    = "Brass and acrylic grab the drill: dub the lips flat, and hold the quill back at breakthrough."
	ScrewedChuck = "A screwed-on chuck can unscrew in reverse or under hard braking."
	Files        = "A file near the lathe has a handle on it; file left-handed, sleeves up, clear of the jaws."
	TapBreak     = "A tap that binds is backed off, not forced; chips in a blind hole break taps."
	FormingTap   = "A forming tap needs its own, larger hole: in a hole drilled for a cutting tap it seizes and breaks."
	BlindTap     = "Clear the chips from a blind hole before tapping and again on the way down, and stop " +
		"short of the bottom."
	TapPlastic  = "Plastics close in on a tap and melt on it: a sharp tap, little speed, and back it off often."
	TapLaminate = "Laminates and wood split when tapped along the layers: clamp them across the layers first."
	GrindDust   = "Never grind steel on a belt that carries wood, aluminium, magnesium or titanium dust: it burns."
	HotPart     = "A part hot enough to shrink on burns: lift it with tongs, away from oil, solvent and plastic."
	Whip        = "A bar that sticks out of the spindle's far end bends and whips: carry its end, or run it slowly."
	GearCover   = "Isolate the lathe before the gear cover comes off, and put it back before it runs."
	WheelRating = "Do not run a wheel, belt, chuck or cutter above the speed marked on it."

	// What a material does to whoever cuts it. The dust limits are those of
	// public bodies as of the year named; your own country's come first.
	FireMagnesium = "Magnesium chips burn, and water makes it worse: keep them swept up, dry sand and a class " +
		"D extinguisher at hand, no water."
	FireTitanium = "Fine titanium chips burn: heavy feed, a sharp edge, swarf cleared often, dry sand at hand."
	DustGlass    = "Glass-fibre dust harms skin and lungs: cut it wet or under extraction, with a respirator " +
		"(NIOSH 1977 advises 5 mg/m3 of total fibrous glass)."
	DustCarbon = "Carbon-fibre dust harms lungs and shorts out motors and switches: cut it wet or under " +
		"extraction, with a respirator."
	DustPhenolic   = "The dust of phenolic laminate irritates skin and lungs: extraction and a respirator."
	DustSensitiser = "Its dust can bring on allergy: extraction, a respirator, and skin covered and washed."
	DustWood       = "Wood dust harms lungs and nose: extraction and a respirator (UK limits 2020: hardwood " +
		"and mixtures 3 mg/m3, softwood 5)."
	DustIron = "Cast iron comes off as black dust: a mask on, and the ways covered and wiped."
	Fumes    = "It gives off harmful fumes when overheated: keep it cool, no smoking, air moving."
	Lead     = "It contains lead: no food nearby, hands washed, no dust blown about."
	HotChips = "Chips come off red hot: face and arms covered, nothing near that burns."
	Swarf    = "Long swarf is sharp and wraps: stop, then take it off with a hook or a brush, never with fingers."
)
