// Package convert says one size in every way a shop does: millimetres, decimal
// inches, the nearest 1/64 and the nearest drill. Angles, threads per inch,
// surface speeds, feeds and powers are said in their other units.
package convert

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

// Quantity is a value with its kind, as it was read.
type Quantity struct {
	kind   string
	length units.Length // a length
	base   float64      // in the first unit of its kind
}

// unit is a unit of a kind, what it is called in full, and how many of it make
// a value in the kind's first unit.
type unit struct {
	kind, name, title string
	factor            float64
}

// table is the units of every kind. 1 in = 25.4 mm and 1 ft = 0.3048 m exactly;
// 1 hp = 745.7 W as units reads it.
var table = []unit{
	{"length", "mm", "millimetres", 1},
	{"length", "in", "inches", 1 / 25.4},
	{"length", "cm", "centimetres", 0.1},
	{"length", "um", "micrometres", 1000},
	{"length", "thou", "thousandths", 1000 / 25.4},
	{"angle", "deg", "degrees", 1},
	{"angle", "rad", "radians", math.Pi / 180},
	{"pitch", "mm", "millimetres", 1},
	{"pitch", "tpi", "threads per inch", 25.4},
	{"pitch", "in", "inches", 1 / 25.4},
	{"surface speed", "m/min", "metres a minute", 1},
	{"surface speed", "sfm", "feet a minute", 1 / 0.3048},
	{"surface speed", "m/s", "metres a second", 1.0 / 60},
	{"feed", "mm/rev", "millimetres a turn", 1},
	{"feed", "in/rev", "inches a turn", 1 / 25.4},
	{"power", "W", "watts", 1},
	{"power", "kW", "kilowatts", 0.001},
	{"power", "hp", "horsepower", 1 / 745.7},
}

// of returns a value in the unit. Threads per inch count the other way round.
func (u unit) of(base float64) float64 {
	if u.name == "tpi" {
		return u.factor / base
	}
	return base * u.factor
}

// key is the unit's name as a heading of CSV: of a length as in JSON.
func (u unit) key() string {
	return strings.ReplaceAll(u.kind, " ", "_") + "_" + strings.ReplaceAll(u.name, "/", "_")
}

// The words that a length is converted to beside its units.
const (
	fraction = "fraction"
	drill    = "drill"
)

// Units returns every word a value can be converted to.
func Units() []string {
	var words []string
	for _, u := range table {
		if !slices.Contains(words, u.name) {
			words = append(words, u.name)
		}
	}
	return append(words, fraction, drill)
}

// gauge matches the name of a number or letter drill: No7, #7 or F.
var gauge = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^((No|#)[0-9]+|[A-Z])$`) })

// Parse reads a value. Its unit says what kind it is; a bare number is a
// length in the unit bare. The name of a number or letter drill is its size.
func Parse(text string, bare units.Unit) (Quantity, error) {
	ends := func(marks ...string) bool {
		return slices.ContainsFunc(marks, func(m string) bool { return strings.HasSuffix(text, m) })
	}
	switch {
	case gauge().MatchString(text):
		d, err := drills.Find(text)
		return Quantity{"length", d.Dia, d.Dia.MM()}, err
	case ends("tpi"):
		p, err := units.ParsePitch(text)
		if err != nil {
			return Quantity{}, err
		}
		return Quantity{kind: "pitch", base: p.MM()}, nil
	case ends("m/min", "sfm", "ft/min", "m/s"):
		v, err := units.ParseSurfaceSpeed(text)
		return Quantity{kind: "surface speed", base: v.MetresPerMinute()}, err
	case ends("/rev", "/tooth"):
		v, err := units.ParseFeed(text, bare)
		return Quantity{kind: "feed", base: v.MM()}, err
	case ends("W", "hp"):
		v, err := units.ParsePower(text)
		return Quantity{kind: "power", base: v.Watts()}, err
	case ends("deg", "°", "'") || strings.ContainsAny(text, "d°"):
		v, err := units.ParseAngle(text)
		return Quantity{kind: "angle", base: v.Deg()}, err
	}
	l, err := units.ParseLength(text, bare)
	return Quantity{"length", l, l.MM()}, err
}

// MarshalJSON writes the value as a number in the first unit of its kind.
func (q Quantity) MarshalJSON() ([]byte, error) { return units.Number(q.base).MarshalJSON() }

// Input is a value, and the unit it is wanted in; "" for all of them.
type Input struct {
	Value Quantity `json:"value"`
	To    string   `json:"to,omitempty"`
}

// Value is one way to say it.
type Value struct {
	Value units.Number `json:"value"`
	Unit  string       `json:"unit"`

	unit unit
}

// Result is a value in every unit. The length's figures are nil for another
// kind, and the drill's for a length that no drill is near: 0 or less, or
// above the largest. Over is what the length is over (+) or under (-) the
// fraction; DrillError is the drill's size less the length.
type Result struct {
	Inputs     Input         `json:"inputs"`
	Kind       string        `json:"kind"`
	Values     []Value       `json:"values"`
	Length     *units.Length `json:"length_mm"`
	Inches     *units.Number `json:"length_in"`
	Fraction   *string       `json:"fraction" show:"nearest 1/64"`
	Over       *units.Length `json:"fraction_over_mm"`
	Drill      *string       `json:"drill" show:"nearest drill"`
	DrillSize  *units.Length `json:"drill_mm"`
	DrillError *units.Length `json:"drill_error_mm"`
	sheet.Remarks
}

// Convert says a value in every unit of its kind. A length in mm is exact, in
// inches good to 9 decimals; the fraction's remainder is exact. It fails on a
// word that is no unit of the value's kind.
func Convert(in Input) (Result, error) {
	r := Result{Inputs: in, Kind: in.Value.kind}
	var words []string
	for _, u := range table {
		if u.kind == r.Kind {
			r.Values = append(r.Values, Value{units.Number(u.of(in.Value.base)), u.name, u})
			words = append(words, u.name)
		}
	}
	if r.Kind == "length" {
		words = append(words, fraction, drill)
		r.length(in.Value.length)
	}
	if in.To != "" && !slices.Contains(words, in.To) {
		return Result{}, problem.New(problem.WrongUnit, "to", say.Plain(in.To),
			"not a unit of ", r.Kind, ": write ", say.Choice(words)).Near(words)
	}
	if in.To == drill && r.Drill == nil {
		return Result{}, problem.New(problem.OutOfRange, "to", drill, "no drill is near ", in.Value.length)
	}
	return r, nil
}

func (r *Result) length(l units.Length) {
	f := l.NearestFraction(64)
	r.Length, r.Inches, r.Fraction, r.Over = &l, &r.Values[1].Value, new(f.String()), &f.Rest
	all := drills.All()
	if l.Sign() <= 0 || all[len(all)-1].Dia.Less(l) {
		return
	}
	d := drills.Nearest(all, l)
	r.Drill, r.DrillSize, r.DrillError = &d.Name, &d.Dia, new(d.Dia.Minus(l))
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	to := r.Inputs.To
	wanted := func(unit string) bool { return to == "" || to == unit }
	s := sheet.Of(&r, "Said another way")
	if to != "" {
		s.Title = say.Of("Said in ", to)
	}
	for _, v := range r.Values {
		if !wanted(v.Unit) {
			continue
		}
		number, dms := float64(v.Value), ""
		if v.Unit == "deg" {
			dms = units.Degrees(number).DMS(true)
		}
		_, decimals, _ := strings.Cut(string(say.Num(number, 6)), ".")
		s.Keyed(v.unit.key(), sheet.Text(v.unit.title), sheet.Num(number, len(decimals), v.Unit), dms)
	}
	if r.Fraction != nil && wanted(fraction) {
		s.Show(&r.Fraction, apart(*r.Over, "over", "under"))
	}
	if r.Drill != nil && wanted(drill) {
		off := apart(*r.DrillError, "larger", "smaller")
		if r.DrillError.Sign() != 0 {
			off = say.Of(r.DrillSize.Typed(), ", ", off)
		}
		s.Show(&r.Drill, off)
	}
	return *s
}

// apart says how far two sizes are apart, in both units.
func apart(off units.Length, more, less string) say.Text {
	switch off.Sign() {
	case 0:
		return "exactly"
	case -1:
		more = less
	}
	mm := units.MM
	return say.Of(units.Rounded{Length: off.Abs(), More: 1, Unit: &mm}, " (", off.Abs().Always(units.Inch), ") ", more)
}
