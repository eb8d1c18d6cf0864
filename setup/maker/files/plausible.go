package files

import (
	_ "embed"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
)

//go:embed usual.csv
var usualCSV string

// A figure far from what is usual is read as it stands and read back: the file
// is right about its own shop, or it has a slipped point or the other unit.

// written is where the scalars of a file stand, by the path of their key.
type written map[string][]ast.Node

// scalars returns the scalars under a node, which stands at a path.
func (r *reader) scalars(n ast.Node, path string, into written) {
	if m, ok := n.(*ast.MappingNode); ok {
		for _, v := range m.Values {
			r.scalar(v, path, into)
		}
		return
	}
	switch n := n.(type) {
	case *ast.MappingValueNode:
		r.scalar(n, path, into)
	case *ast.SequenceNode:
		for _, v := range n.Values {
			r.scalars(v, path, into)
		}
	case nil, *ast.NullNode:
	default:
		into[path] = append(into[path], n)
	}
}

// scalar adds what stands under a key, in its usual spelling.
func (r *reader) scalar(v *ast.MappingValueNode, path string, into written) {
	key := strings.ReplaceAll(v.Key.GetToken().Value, "center", "centre")
	if path != "" {
		key = path + "." + key
	}
	into[key] = append(into[key], v)
	r.scalars(v.Value, key, into)
}

// measure reads a figure of a kind: how much it is, and how it is said.
func measure(kind, text string, bare units.Unit) (v float64, words any, err error) {
	switch kind {
	case "length":
		l, err := units.ParseLength(strings.TrimPrefix(text, "+"), bare)
		return l.Abs().MM(), l, err
	case "speed":
		s, err := units.ParseSpindleSpeed(text)
		return s.RPM(), s, err
	case "power":
		p, err := units.ParsePower(text)
		return p.Watts(), p, err
	case "angle":
		a, err := units.ParseAngle(text)
		return a.Deg(), a, err
	case "pitch":
		p, err := units.ParsePitch(text)
		return p.MM(), p, err
	}
	n, err := strconv.Atoi(text)
	return float64(n), n, err
}

// unusual asks about the first figure of every key that is far from what is
// usual for it; about 0, never.
func (r *reader) unusual(file string, found written) {
	for _, row := range tables.Rows("usual.csv", usualCSV) {
		if row["file"] != file {
			continue
		}
		least, low, _ := measure(row["kind"], row["least"], units.MM)
		most, high, _ := measure(row["kind"], row["most"], units.MM)
		for _, n := range found[row["key"]] {
			if _, key := n.(*ast.MappingValueNode); key {
				continue
			}
			v, words, err := measure(row["kind"], n.GetToken().Value, r.bare)
			if err != nil || v == 0 || v >= least && v <= most {
				continue
			}
			if l, ok := words.(units.Length); ok {
				words = l.Typed()
				if v >= metre {
					words = say.Of(l, " (", say.Num(v/metre, 1), " m)")
				}
			}
			r.remark(n, "unusual", words, " ", row["of"], "? usual is ", low, " to ", high)
			break
		}
	}
}

const metre = 1000

// remarks asks about figures of a file that do not go together; at is the key
// they are said at.
type remarks[T any] []struct {
	at  string
	odd func(T) bool
	say func(T) say.Text
}

// ask asks all that is odd.
func ask[T any](r *reader, found written, list remarks[T], of T) {
	for _, x := range list {
		if x.odd(of) && len(found[x.at]) > 0 {
			r.remark(found[x.at][0], "unusual", x.say(of))
		}
	}
}

// over reports whether both are known and the first is the larger.
func over(a, b *units.Length) bool { return a != nil && b != nil && b.Less(*a) }

// shopRemarks are asked of a shop with a lathe.
//
// Long: a row a remark.
func shopRemarks() remarks[*shop.Lathe] {
	type lathe = *shop.Lathe
	return remarks[lathe]{
		{
			"lathe.swing_over_slide",
			func(l lathe) bool { return over(l.SwingOverSlide, l.SwingOverBed) },
			func(l lathe) say.Text {
				return say.Of("the swing over the slide, ", *l.SwingOverSlide, ", is above that over the bed, ", *l.SwingOverBed)
			},
		},
		{
			"lathe.compound.scale.step",
			func(l lathe) bool {
				return l.Compound != nil && l.Compound.Scale.Limit != nil &&
					l.Compound.Scale.Limit.Deg() < l.Compound.Scale.Step.Deg()
			},
			func(l lathe) say.Text {
				s := l.Compound.Scale
				return say.Of("the scale has a mark every ", s.Step, " and stops at ", *s.Limit, ": it has none but its zero")
			},
		},
		{
			"lathe.chuck.diameter",
			func(l lathe) bool { return l.Chuck != nil && over(&l.Chuck.Diameter, l.SwingOverBed) },
			func(l lathe) say.Text {
				return say.Of("the chuck, ", l.Chuck.Diameter, ", does not swing over the bed, ", *l.SwingOverBed)
			},
		},
		{
			"lathe.four_jaw.diameter",
			func(l lathe) bool { return l.FourJaw != nil && over(&l.FourJaw.Diameter, l.SwingOverBed) },
			func(l lathe) say.Text {
				return say.Of("the four-jaw, ", l.FourJaw.Diameter, ", does not swing over the bed, ", *l.SwingOverBed)
			},
		},
		{
			"lathe.chuck.through",
			func(l lathe) bool { return l.Chuck != nil && over(l.Chuck.Through, &l.Chuck.Diameter) },
			func(l lathe) say.Text {
				return say.Of("the hole through the chuck, ", *l.Chuck.Through, ", is wider than the chuck, ", l.Chuck.Diameter)
			},
		},
		{
			"lathe.chuck.range",
			func(l lathe) bool {
				return l.Chuck != nil && l.Chuck.Range != nil && over(&l.Chuck.Range.To, l.SwingOverBed)
			},
			func(l lathe) say.Text {
				return say.Of("the chuck grips up to ", l.Chuck.Range.To, ", which does not swing over the bed, ", *l.SwingOverBed)
			},
		},
		{
			"lathe.steady.to",
			func(l lathe) bool { return l.Steady != nil && over(&l.Steady.To, l.SwingOverBed) },
			func(l lathe) say.Text {
				return say.Of("the steady takes up to ", l.Steady.To, ", which does not swing over the bed, ", *l.SwingOverBed)
			},
		},
		{
			"lathe.spindle_bore",
			func(l lathe) bool { return l.Chuck != nil && over(l.SpindleBore, &l.Chuck.Diameter) },
			func(l lathe) say.Text {
				return say.Of("the spindle's bore, ", *l.SpindleBore, ", is wider than the chuck, ", l.Chuck.Diameter)
			},
		},
		{
			"lathe.chuck.max_rpm",
			func(l lathe) bool {
				return l.Chuck != nil && l.Chuck.MaxRPM != nil && l.Spindle != nil &&
					l.Chuck.MaxRPM.RPM() < l.Spindle.Lowest().RPM()
			},
			func(l lathe) say.Text {
				return say.Of("the chuck is rated for ", *l.Chuck.MaxRPM, ", less than the spindle's lowest speed, ",
					l.Spindle.Lowest())
			},
		},
	}
}

// partingRemarks are asked of a parting blade.
func partingRemarks() remarks[*shop.Parting] {
	type blade = *shop.Parting
	return remarks[blade]{
		{
			"lathe.parting.reach",
			func(p blade) bool { return p.Reach != nil && p.Most != nil && p.Reach.Times(2).Less(*p.Most) },
			func(p blade) say.Text {
				return say.Of("a blade that reaches ", *p.Reach, " does not part ", *p.Most, " off: half of that is ",
					p.Most.Half())
			},
		},
		{
			"lathe.parting.blade",
			func(p blade) bool { return over(&p.Blade, p.Most) },
			func(p blade) say.Text {
				return say.Of("the blade, ", p.Blade, ", is wider than the bar it parts, ", *p.Most)
			},
		},
	}
}

// partRemarks are asked of a turned part. What such a part has is in usual.csv;
// here is what comes of its profile.
func partRemarks() remarks[*part.Round] {
	least, most, long := units.Millimetres(1), units.Millimetres(300), units.Millimetres(1500)
	return remarks[*part.Round]{
		{
			"round.profile",
			func(r *part.Round) bool { return most.Less(r.Largest()) },
			func(r *part.Round) say.Text {
				return say.Of("a part of ", r.Largest(), " in diameter? usual is ", least, " to ", most)
			},
		},
		{
			"round.profile",
			func(r *part.Round) bool { return r.Length().Less(least) || long.Less(r.Length()) },
			func(r *part.Round) say.Text {
				return say.Of("a part ", r.Length(), " long? usual is ", least, " to ", long)
			},
		},
		{
			"round.profile",
			func(r *part.Round) bool { return r.Largest().Less(least) },
			func(r *part.Round) say.Text {
				return say.Of("a part no thicker than ", r.Largest(), "? usual is ", least, " to ", most)
			},
		},
	}
}

// inOrder reports whether speeds rise from one to the next, or fall.
func inOrder(speeds []units.SpindleSpeed) bool {
	up, down := true, true
	for i := 1; i < len(speeds); i++ {
		up = up && speeds[i-1].RPM() < speeds[i].RPM()
		down = down && speeds[i].RPM() < speeds[i-1].RPM()
	}
	return up || down
}
