package files

import (
	"strings"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// general reads the class of ISO 2768-1 that the part is made to.
func general(p *part.Part) field {
	return oneOf(part.Fine, part.Medium, part.Coarse).into("general", &p.General,
		"fine, medium or coarse: the class of ISO 2768-1 for every size without limits of its own").defaults("medium")
}

// The deviations and the grades of ISO 286-1. There is no i, l, o, q and w.
const (
	fitLetters = " a b c cd d e ef f fg g h js j k m n p r s t u v x y z za zb zc "
	fitGrades  = " 01 0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 "
)

// isFit reports whether a text is the letters of a deviation, all small or all
// capital, with a grade behind them.
func isFit(text string) bool {
	letters := strings.TrimRight(text, "0123456789")
	small := strings.ToLower(letters)
	alike := letters == small || letters == strings.ToUpper(letters)
	return alike && strings.Contains(fitLetters, " "+small+" ") &&
		strings.Contains(fitGrades, " "+strings.TrimPrefix(text, letters)+" ")
}

// fitOf reads a fit: a letter of ISO 286 and a grade. That of a hole is H7, of
// a shaft h6; one in the other's letter is read as what it is on.
func fitOf(hole bool) kind[string] {
	example := "h6"
	if hole {
		example = "H7"
	}
	return kind[string]{"fit", "", func(text string, r *reader) (string, error) {
		if !isFit(text) {
			return "", problem.New(problem.Malformed, "", text,
				"not a fit: write the letter and the grade of ISO 286, such as ", example)
		}
		meant := strings.ToLower(text)
		if hole {
			meant = strings.ToUpper(text)
		}
		return meant, nil
	}}
}

// holeLimits are the keys that limit the diameter of a bore or a hole.
func holeLimits(dst **part.Tolerance) []field {
	return append(tolerance(dst, true), rule(func(r *reader, n ast.Node, wrote map[string]bool) {
		if wrote["fit"] && wrote["tol"] {
			r.no(n, problem.Contradiction, "tol", nil, "and fit: write one of them")
		}
	}))
}

// tolerance reads fit and tol; dst stays nil where neither is written.
func tolerance(dst **part.Tolerance, hole bool) []field {
	t := &part.Tolerance{}
	kept := func() { *dst = t }
	example, general := "h6", "its limits are those of general"
	if hole {
		example = "H7"
	}
	return []field{
		fitOf(hole).field("fit", "of ISO 286: "+example, func(w string) { t.Fit = w; kept() }).
			at(&t.At).without(general).then(func(r *reader, n ast.Node) {
			if typed := n.GetToken().Value; t.Fit != "" && typed != t.Fit {
				r.remark(n, "fit-letter", typed, " is read as ", t.Fit,
					": capital letters are those of holes, small ones of shafts")
			}
		}),
		{
			Row: Row{
				Key: "tol", Kind: "length or list of 2 lengths", Bare: fileUnits, Absent: general,
				Doc: "0.02 for plus or minus, [+0.02, 0] for upper and lower",
			},
			read: func(r *reader, n ast.Node) {
				t.At = r.under(n, "tol")
				if t.Upper, t.Lower = r.deviations(n); t.Upper != nil {
					kept()
				}
			},
		},
	}
}

// deviations reads 0.02 or [+0.02, 0]. It returns nil twice with a problem.
func (r *reader) deviations(n ast.Node) (upper, lower *units.Length) {
	if _, list := n.(*ast.SequenceNode); !list {
		both, ok := size.scalar(r, n, "tol")
		if !ok {
			return nil, nil
		}
		minus := units.Length{}.Minus(both)
		return &both, &minus
	}
	var u, l units.Length
	deviation := kind[units.Length]{"length", fileUnits, func(text string, r *reader) (units.Length, error) {
		return asLength(strings.TrimPrefix(text, "+"), r)
	}}
	if !r.tuple(n, "tol", "one length, or [upper, lower]", deviation, &u, &l) {
		return nil, nil
	}
	r.warnComma(n)
	if !l.Less(u) {
		r.no(n, problem.Contradiction, "tol", nil, "the upper deviation comes first and is larger than the lower one: ",
			"[+0.02, 0]")
		return nil, nil
	}
	return &u, &l
}

// limitFields are the keys of a limit of the outside.
//
// Long: a case a way to be wrong.
func limitFields(l *part.Limit) []field {
	return append([]field{
		here(&l.At),
		length.maybe("at", &l.Z, "z of the diameter that is limited"),
		length.maybe("from", &l.From, "z where a length or a taper begins"),
		length.maybe("to", &l.To, "z where it ends"),
		angle.maybe("angle", &l.Angle, "by how much the taper's half angle may differ: 4'"),
		text.into("gauge", &l.Gauge, "the named taper it must be: MT2"),
		rule(func(r *reader, n ast.Node, wrote map[string]bool) {
			var ways []string
			for _, key := range []string{"fit", "tol", "angle", "gauge"} {
				if wrote[key] {
					ways = append(ways, key)
				}
			}
			no := func(code problem.Code, key string, want ...any) { r.no(n, code, key, nil, want...) }
			place := wrote["at"]
			switch {
			case place && (wrote["from"] || wrote["to"]):
				no(problem.Contradiction, "at", "and from, to: at is for a diameter, from and to for a length or a taper")
			case !place && wrote["from"] != wrote["to"]:
				no(problem.Missing, "to", "from and to belong together")
			case !place && !wrote["from"]:
				no(problem.Missing, "at", "needs at for a diameter, or from and to")
			case len(ways) == 0 && place:
				no(problem.Missing, "tol", "needs fit or tol")
			case len(ways) == 0:
				no(problem.Missing, "tol", "needs tol for a length, angle or gauge for a taper")
			case len(ways) > 1:
				no(problem.Contradiction, ways[1], "and ", ways[0], ": write one of them in a limit")
			case place && (wrote["angle"] || wrote["gauge"]):
				no(problem.Contradiction, ways[0], "is of a taper: write from and to")
			case !place && wrote["fit"]:
				no(problem.Contradiction, "fit", "is of a diameter: write at")
			case l.Angle != nil && l.Angle.Deg() <= 0:
				no(problem.OutOfRange, "angle", "must be above 0")
			}
		}),
	}, tolerance(&l.Tol, false)...)
}
