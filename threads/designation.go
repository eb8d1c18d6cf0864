package threads

import (
	"encoding/json"
	"math/big"
	"strings"

	"setover/setup/base/units"
)

// Form is the shape of a thread.
type Form string

// The forms.
const (
	Metric      Form = "metric"      // ISO metric, 60°
	Unified     Form = "unified"     // UN series, 60°, inch
	Whitworth   Form = "whitworth"   // BSW and BSF, 55°
	BA          Form = "ba"          // British Association, 47.5°
	ParallelG   Form = "g"           // pipe thread that does not seal by itself, ISO 228
	TaperR      Form = "r"           // pipe thread that seals, ISO 7
	NPT         Form = "npt"         // American taper pipe thread
	Trapezoidal Form = "trapezoidal" // ISO metric trapezoidal, 30°
	Acme        Form = "acme"        // ACME, 29°
)

// Name returns the form as a sheet calls it.
func (f Form) Name() string {
	switch f {
	case Metric:
		return "ISO metric, 60°"
	case Unified:
		return "Unified, 60°"
	case Whitworth:
		return "Whitworth, 55°"
	case BA:
		return "BA, 47.5°"
	case ParallelG:
		return "parallel pipe (G), 55°"
	case TaperR:
		return "taper pipe (R), 55° on 1:16"
	case NPT:
		return "taper pipe (NPT), 60° on 1:16"
	case Trapezoidal:
		return "trapezoidal, 30°"
	}
	return "ACME, 29°"
}

// HalfAngle returns the angle from a flank to the square across the axis: half
// the thread's angle.
func (f Form) HalfAngle() units.Angle {
	switch f {
	case Metric, Unified, NPT:
		return units.Degrees(30)
	case BA:
		return units.Degrees(23.75)
	case Trapezoidal:
		return units.Degrees(15)
	case Acme:
		return units.Degrees(14.5)
	}
	return units.Degrees(27.5)
}

// Tapered reports whether the thread stands on a cone of 1:16.
func (f Form) Tapered() bool { return f == NPT || f == TaperR }

// Designation is a thread as it is called. Size is the part that names the
// diameter: "M8", "1/4", "No8", "2BA", "G1/4", "Tr12". Series is coarse or
// fine, UNC, UNF, UNEF, UN or UNS, BSW or BSF, or the form's own mark. Class
// is as written and empty when none was.
type Designation struct {
	Form   Form
	Size   string
	Major  units.Length
	Pitch  units.Pitch
	Starts int
	Series string
	Class  string
	Left   bool

	gauge  units.Length
	source string
}

// Lead returns how far one turn carries: the pitch times the starts.
func (d Designation) Lead() units.Pitch { return d.Pitch.Times(int64(d.Starts)) }

// Inch reports whether the thread belongs to an inch system, whose limits are
// rounded in inches.
func (d Designation) Inch() bool {
	return d.Form == Unified || d.Form == Whitworth || d.Form == NPT || d.Form == Acme
}

// Show returns a length as a refusal about the thread gives it, rounded in the
// direction dir: in inches to 4 places for an inch thread, in mm to 3 for the
// others. A sentence of a sheet takes sheet.Inline instead.
func (d Designation) Show(l units.Length, dir units.Direction) string {
	if d.Inch() {
		return l.Fixed(units.Inch, 4, dir) + " in"
	}
	return l.Fixed(units.MM, 3, dir) + " mm"
}

// String returns the designation in its one written form, which Parse reads
// back unchanged: "M8", "M8x1-6g", "1/4-20UNC-2A", "No8-32UNC", "3/8BSF",
// "2BA", "G1/4A", "R1/2", "1/4NPT", "Tr40x14P7", "1/2-10ACME-2G", each with
// "-LH" behind it when left-hand.
func (d Designation) String() string {
	if d.Form == "" {
		return ""
	}
	text := d.plain()
	if d.Class != "" {
		if d.Form == ParallelG {
			text += d.Class
		} else {
			text += "-" + d.Class
		}
	}
	if d.Left {
		text += "-LH"
	}
	return text
}

// plain returns the designation without class and hand.
func (d Designation) plain() string {
	switch d.Form {
	case Metric:
		if d.Series == "coarse" {
			return d.Size
		}
		return d.Size + "x" + mm(d.Pitch)
	case Unified:
		return d.Size + "-" + tpi(d.Pitch) + d.Series
	case Whitworth, NPT:
		return d.Size + d.Series
	case Trapezoidal:
		if d.Starts > 1 {
			return d.Size + "x" + mm(d.Lead()) + "P" + mm(d.Pitch)
		}
		return d.Size + "x" + mm(d.Pitch)
	case Acme:
		return d.Size + "-" + tpi(d.Pitch) + "ACME"
	}
	return d.Size
}

func mm(p units.Pitch) string { return strings.TrimSuffix(p.String(), " mm") }

func tpi(p units.Pitch) string { return strings.TrimSuffix(p.String(), " tpi") }

// TPI returns the threads per inch of an inch thread, or nil.
func (d Designation) TPI() *units.Number {
	if !d.Pitch.IsInch() {
		return nil
	}
	f, _ := new(big.Rat).Set(d.Pitch.TPI()).Float64()
	n := units.Number(f)
	return &n
}

// MarshalJSON returns the designation as text.
func (d Designation) MarshalJSON() ([]byte, error) { return json.Marshal(d.String()) }

// MarshalText returns the same text as String.
func (d Designation) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText is Parse.
func (d *Designation) UnmarshalText(text []byte) (err error) {
	*d, err = Parse(string(text))
	return err
}
