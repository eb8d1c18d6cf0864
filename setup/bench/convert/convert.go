// Package convert says one size in every way a shop does: millimetres, decimal
// inches, the nearest 1/64 and the nearest drill. Angles, threads per inch,
// surface speeds, feeds and powers are said in their other units.
package convert

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

// Quantity is a value with its kind, as it was read.
type Quantity struct {
	kind   string
	length units.Length // a length
	base   float64      // any other kind, in the first unit of its kind
}

// kind is a kind of quantity and the units it is said in.
type kind struct {
	name  string
	units []unit
}

// unit is a unit, what it is called in full, and how many of it make a value
// in the kind's first unit.
type unit struct {
	name, title string
	of          func(base float64) float64
}

// key is the unit's name as a heading of CSV: of a length as in JSON.
func (u unit) key(kind string) string {
	return strings.ReplaceAll(kind, " ", "_") + "_" + strings.ReplaceAll(u.name, "/", "_")
}

func times(f float64) func(float64) float64 { return func(v float64) float64 { return v * f } }

// The kinds. 1 in = 25.4 mm and 1 ft = 0.3048 m exactly; 1 hp = 745.7 W as
// units reads it.
func kinds() []kind {
	return []kind{
		{"length", []unit{
			{"mm", "millimetres", times(1)},
			{"in", "inches", times(1 / 25.4)},
			{"cm", "centimetres", times(0.1)},
			{"um", "micrometres", times(1000)},
			{"thou", "thousandths", times(1000 / 25.4)},
		}},
		{"angle", []unit{{"deg", "degrees", times(1)}, {"rad", "radians", times(math.Pi / 180)}}},
		{"pitch", []unit{
			{"mm", "millimetres", times(1)}, {"tpi", "threads per inch", func(v float64) float64 { return 25.4 / v }}, {"in", "inches", times(1 / 25.4)},
		}},
		{"surface speed", []unit{
			{"m/min", "metres a minute", times(1)}, {"sfm", "feet a minute", times(1 / 0.3048)}, {"m/s", "metres a second", times(1.0 / 60)},
		}},
		{"feed", []unit{{"mm/rev", "millimetres a turn", times(1)}, {"in/rev", "inches a turn", times(1 / 25.4)}}},
		{"power", []unit{{"W", "watts", times(1)}, {"kW", "kilowatts", times(0.001)}, {"hp", "horsepower", times(1 / 745.7)}}},
	}
}

// forms are the words --to takes for a length beside its units.
const (
	fraction = "fraction"
	drill    = "drill"
)

// Units returns every word a value can be converted to.
func Units() []string {
	var words []string
	for _, k := range kinds() {
		for _, u := range k.units {
			if !slices.Contains(words, u.name) {
				words = append(words, u.name)
			}
		}
	}
	return append(words, fraction, drill)
}

// isGauge reports whether text is the name of a number or letter drill: No7,
// #7 or F.
func isGauge(text string) bool {
	number, numbered := strings.CutPrefix(text, "No")
	if !numbered {
		number, numbered = strings.CutPrefix(text, "#")
	}
	if numbered {
		return number != "" && strings.Trim(number, "0123456789") == ""
	}
	return len(text) == 1 && (text[0] >= 'A' && text[0] <= 'Z')
}

// Parse reads a value. Its unit says what kind it is; a bare number is a
// length in the unit bare. The name of a number or letter drill is its size.
func Parse(text string, bare units.Unit) (Quantity, error) {
	ends := func(marks ...string) bool {
		return slices.ContainsFunc(marks, func(m string) bool { return strings.HasSuffix(text, m) })
	}
	other := func(kind string, v float64, err error) (Quantity, error) {
		return Quantity{kind: kind, base: v}, err
	}
	switch {
	case isGauge(text):
		d, err := drills.Find(text)
		return Quantity{kind: "length", length: d.Dia, base: d.Dia.MM()}, err
	case ends("tpi"):
		p, err := units.ParsePitch(text)
		if err != nil {
			return Quantity{}, err
		}
		return other("pitch", p.MM(), nil)
	case ends("m/min", "sfm", "ft/min", "m/s"):
		v, err := units.ParseSurfaceSpeed(text)
		return other("surface speed", v.MetresPerMinute(), err)
	case ends("/rev", "/tooth"):
		v, err := units.ParseFeed(text, bare)
		return other("feed", v.MM(), err)
	case ends("W", "hp"):
		v, err := units.ParsePower(text)
		return other("power", v.Watts(), err)
	case ends("deg", "°", "'") || strings.ContainsAny(text, "d°"):
		v, err := units.ParseAngle(text)
		return other("angle", v.Deg(), err)
	}
	l, err := units.ParseLength(text, bare)
	return Quantity{kind: "length", length: l, base: l.MM()}, err
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
	Fraction   *string       `json:"fraction"`
	Over       *units.Length `json:"fraction_over_mm"`
	Drill      *string       `json:"drill"`
	DrillSize  *units.Length `json:"drill_mm"`
	DrillError *units.Length `json:"drill_error_mm"`
	sheet.Remarks
}

// Convert says a value in every unit of its kind. A length in mm is exact, in
// inches good to 9 decimals; the fraction's remainder is exact. It fails on a
// word that is no unit of the value's kind.
func Convert(in Input) (Result, error) {
	k := kindOf(in.Value.kind)
	r := Result{Inputs: in, Kind: k.name}
	var words []string
	for _, u := range k.units {
		r.Values = append(r.Values, Value{units.Number(u.of(in.Value.base)), u.name})
		words = append(words, u.name)
	}
	if k.name == "length" {
		words = append(words, fraction, drill)
		r.length(in.Value.length)
	}
	if in.To != "" && !slices.Contains(words, in.To) {
		return Result{}, problem.New(problem.WrongUnit, "to", in.To, "not a unit of "+k.name+": write "+strings.Join(words, ", ")).Near(words)
	}
	if in.To == drill && r.Drill == nil {
		return Result{}, problem.New(problem.OutOfRange, "to", drill, fmt.Sprintf("no drill is near %v", in.Value.length))
	}
	return r, nil
}

// kindOf returns the kind called name, which is one of ours.
func kindOf(name string) kind {
	return kinds()[slices.IndexFunc(kinds(), func(k kind) bool { return k.name == name })]
}

func (r *Result) length(l units.Length) {
	inches := r.Values[1].Value
	f := l.NearestFraction(64)
	text := f.String()
	r.Length, r.Inches, r.Fraction, r.Over = &l, &inches, &text, &f.Rest
	all := drills.All()
	if l.Sign() <= 0 || all[len(all)-1].Dia.Less(l) {
		return
	}
	d := drills.Nearest(all, l)
	off := d.Dia.Minus(l)
	r.Drill, r.DrillSize, r.DrillError = &d.Name, &d.Dia, &off
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Said another way", Warnings: r.Warnings, Cautions: r.Cautions}
	if r.Inputs.To != "" {
		s.Title = "Said in " + r.Inputs.To
	}
	for i, u := range kindOf(r.Kind).units {
		if v := r.Values[i]; r.Inputs.To == "" || r.Inputs.To == v.Unit {
			s.Facts = append(s.Facts, sheet.Fact{Key: u.key(r.Kind), Label: u.title, Value: figure(v), Remark: r.remark(v)})
		}
	}
	if r.Fraction != nil && (r.Inputs.To == "" || r.Inputs.To == fraction) {
		s.Facts = append(s.Facts, sheet.Fact{Key: "fraction", Label: "nearest 1/64", Value: sheet.Text(*r.Fraction), Remark: over(*r.Over)})
	}
	if r.Drill != nil && (r.Inputs.To == "" || r.Inputs.To == drill) {
		remark := "exactly"
		if r.DrillError.Sign() != 0 {
			remark = fmt.Sprintf("%v, %s", *r.DrillSize, apart(*r.DrillError, "larger", "smaller"))
		}
		s.Facts = append(s.Facts, sheet.Fact{Key: "drill", Label: "nearest drill", Value: sheet.Text(*r.Drill), Remark: remark})
	}
	return s
}

// remark adds degrees and minutes to an angle.
func (r Result) remark(v Value) string {
	if v.Unit == "deg" {
		return units.Degrees(float64(v.Value)).DMS(true)
	}
	return ""
}

// figure is a value with as many decimals as it has, up to six.
func figure(v Value) sheet.Value {
	text := strconv.FormatFloat(float64(v.Value), 'f', 6, 64)
	_, decimals, _ := strings.Cut(strings.TrimRight(text, "0"), ".")
	return sheet.Num(float64(v.Value), len(decimals), v.Unit)
}

// over says what a length is over or under a fraction.
func over(rest units.Length) string {
	if rest.Sign() == 0 {
		return "exactly"
	}
	return apart(rest, "over", "under")
}

func apart(l units.Length, more, less string) string {
	word := more
	if l.Sign() < 0 {
		word = less
	}
	return fmt.Sprintf("%s mm (%s in) %s", l.Abs().Fixed(units.MM, 4, units.Nearest), l.Abs().Fixed(units.Inch, 4, units.Nearest), word)
}
