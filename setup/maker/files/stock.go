package files

import (
	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
)

// stock reads the bar a part is made of: a diameter, or a shape with its size.
func stock(dst **part.Stock) field {
	s := &part.Stock{}
	group := within("stock", barFields(s), "")
	return field{
		Row: Row{
			Key: "stock", Kind: "length or group", Bare: fileUnits, Doc: "the bar on hand: a diameter, or its shape and size",
			Absent: "the plan says the smallest that serves",
		},
		sub: group.sub,
		read: func(r *reader, n ast.Node) {
			before := len(r.problems)
			if _, is := r.entries(n); is {
				group.read(r, n)
			} else if dia, ok := size.scalar(r, n, "stock"); ok {
				*s = part.RoundStock(dia)
			}
			if len(r.problems) == before {
				*dst = s
			}
		},
	}
}

// barFields are the keys of a bar's shape, of which one is written.
func barFields(s *part.Stock) []field {
	shape := func(is part.Shape, doc string) field {
		return size.field(string(is), doc, func(l units.Length) { *s = part.Stock{Shape: is, Size: l} })
	}
	var outside, bore units.Length
	return []field{
		shape(part.RoundBar, "its diameter"),
		shape(part.Hex, "across flats"),
		shape(part.Square, "across flats"),
		tuple("tube", "[outside, bore]", size, "[outside diameter, bore]", &outside, &bore).
			then(func(r *reader, n ast.Node) {
				*s = part.Stock{Shape: part.Tube, Size: outside, Bore: bore}
				if bore.Sign() > 0 && outside.Cmp(bore) <= 0 {
					r.no(n, problem.Contradiction, "tube", bore, "must be smaller than the outside, ", outside)
				}
			}),
		rule(func(r *reader, n ast.Node, wrote map[string]bool) {
			shapes := []part.Shape{part.RoundBar, part.Hex, part.Square, part.Tube}
			written := 0
			for _, x := range shapes {
				if wrote[string(x)] {
					written++
				}
			}
			switch {
			case written == 0:
				r.no(n, problem.Missing, "stock", nil, "needs its shape and size: one of ", say.Join(shapes, ", "))
			case written > 1:
				r.no(n, problem.Contradiction, "stock", nil, "has two shapes: write one of ", say.Join(shapes, ", "))
			}
		}),
	}
}

// rackFields are the keys of a bar in the shop.
func rackFields(b *shop.Bar) []field {
	return append(barFields(&b.Stock),
		kind[string]{"word", "", func(text string, _ *reader) (string, error) {
			m, err := materials.Find(text)
			if err != nil {
				return "", err
			}
			return m.Name, nil
		}}.into("material", &b.Material, "what it is made of, such as free-cutting-brass").needed(),
		size.maybe("length", &b.Length, "how long it is").without("it is taken to be long enough"),
	)
}
