package op

import (
	"encoding/json"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
)

// Figure is a value on a card: a quantity, a number or a word, and the words
// that stand behind it.
type Figure struct {
	Value say.Quantity
	After say.Text
}

// With returns a value with words behind it: 0.5 mm "wide".
func With(v say.Quantity, after ...any) Figure { return Figure{v, say.Of(after...)} }

// figure returns a value as a figure.
func figure(v say.Quantity) Figure {
	if f, ok := v.(Figure); ok {
		return f
	}
	return Figure{Value: v}
}

// Words implements say.Quantity.
func (f Figure) Words() (mm, inch string) {
	if f.After == "" {
		return f.Value.Words()
	}
	return say.Of(f.Value, " ", f.After).Words()
}

// Unit returns the unit that the value has in JSON, "" for a word or a bare
// number.
func (f Figure) Unit() string {
	switch v := f.Value.(type) {
	case units.Length, units.Rounded, units.Marked, Len:
		return "mm"
	case sheet.Angle:
		return "deg"
	case sheet.Number:
		return v.Unit
	case units.SpindleSpeed:
		return "rpm"
	case units.SurfaceSpeed:
		return "m/min"
	case units.Feed:
		return "mm/rev"
	case units.FeedRate:
		return "mm/min"
	case units.Power:
		return "W"
	}
	return ""
}

// Number returns the value as the number that it is in JSON; ok is false of a word.
func (f Figure) Number() (v float64, ok bool) {
	text, err := f.MarshalJSON()
	ok = err == nil && json.Unmarshal(text, &v) == nil
	return v, ok
}

// MarshalJSON writes the value: a number in its unit, or a word.
func (f Figure) MarshalJSON() ([]byte, error) {
	switch v := f.Value.(type) {
	case sheet.Angle:
		return json.Marshal(v.V)
	case Figure:
		return v.MarshalJSON()
	}
	return json.Marshal(f.Value)
}

// Setting is one thing that is set: its name, its value as the hand finds it,
// and what there is to say.
type Setting struct {
	Name  say.Text
	Value Figure
	Say   say.Text
}

// MarshalJSON writes the value as a number or a word, and the sentence.
func (s Setting) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Name  say.Text `json:"name"`
		Value Figure   `json:"value"`
		Unit  string   `json:"unit"`
		Say   say.Text `json:"say"`
	}{s.Name, s.Value, s.Value.Unit(), s.Sentence()})
}

// Sentence is the setting in words: "relief 2.25 mm wide, down to 6 mm".
func (s Setting) Sentence() say.Text {
	if s.Say == "" {
		return say.Of(s.Name, " ", s.Value)
	}
	return say.Of(s.Name, " ", s.Value, ", ", s.Say)
}

// Sentence is the check in words: "28 mm held, 12 mm wanted".
func (c Check) Sentence() say.Text { return say.Of(c.Value, ", ", c.Limit) }

// Bound returns whether the limit is the most or the least that the value may be, "" where it is
// neither: a word, or a size that must be met.
func (c Check) Bound() Bound {
	says := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(string(c.Limit.After), w) })
	}
	switch {
	case c.Is != "":
		return c.Is
	case c.Code == problem.WallTooThin:
		return Least
	case says("at the most", "is the most", "is the widest", "passes over", "is what they hold"):
		return Most
	case says("at the least", "is easy", "wanted", "how deep the centre's point", "is how wide each is"):
		return Least
	}
	return ""
}

// MarshalJSON writes a check with its numbers as numbers.
func (c Check) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Code   string   `json:"code"`
		OK     bool     `json:"ok"`
		Value  Figure   `json:"value"`
		Limit  Figure   `json:"limit"`
		Is     Bound    `json:"limit_is"`
		Unit   string   `json:"unit"`
		Remedy say.Text `json:"remedy"`
	}{string(c.Code), c.OK, c.Value, c.Limit, c.Bound(), c.Value.Unit(), c.Remedy})
}

// MarshalJSON writes a predicted size; an angle has degrees.
func (p Predicted) MarshalJSON() ([]byte, error) {
	type head struct {
		ID      string       `json:"id"`
		Kind    limits.Kind  `json:"kind"`
		Feature say.Text     `json:"feature"`
		From    units.Length `json:"from_mm"`
		To      units.Length `json:"to_mm"`
	}
	type tail struct {
		OK      bool     `json:"ok"`
		Because say.Text `json:"because"`
	}
	h, t := head{p.Feature, p.Kind, p.Words, p.From, p.To}, tail{p.OK(), p.Because}
	if p.Kind == limits.Angle {
		return json.Marshal(struct {
			head
			Drawn units.Angle `json:"drawn_deg"`
			Low   units.Angle `json:"low_deg"`
			High  units.Angle `json:"high_deg"`
			Out   units.Angle `json:"out_deg"`
			Error units.Angle `json:"error_deg"`
			tail
		}{h, p.DrawnAngle, p.LowAngle, p.HighAngle, p.OutAngle, p.OutAngle.Minus(p.DrawnAngle), t})
	}
	return json.Marshal(struct {
		head
		Drawn units.Length `json:"drawn_mm"`
		Low   units.Length `json:"low_mm"`
		High  units.Length `json:"high_mm"`
		Out   units.Length `json:"out_mm"`
		Error units.Length `json:"error_mm"`
		Told  units.Length `json:"told_mm"`
		tail
	}{h, p.Drawn, p.Low, p.High, p.Out, p.Error(), p.Told, t})
}

// MarshalJSON writes a tool with its hand, null where it has none.
func (t Tool) MarshalJSON() ([]byte, error) {
	var hand *Hand
	if t.Hand != NoHand {
		hand = &t.Hand
	}
	var trail *units.Angle
	if t.Ground() {
		trail = &t.Trail
	}
	return json.Marshal(struct {
		Name  say.Text     `json:"name"`
		Hand  *Hand        `json:"hand"`
		Trail *units.Angle `json:"trail_deg,omitempty"`
	}{t.Name, hand, trail})
}

// Ground reports whether the tool is ground for the job.
func (t Tool) Ground() bool { return t.Trail.Deg() != 0 }

// Words implements say.Quantity: the tool's name.
func (t Tool) Words() (mm, inch string) { return t.Name.Words() }
