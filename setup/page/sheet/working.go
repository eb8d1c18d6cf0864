package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Step is one line of shown working: a name, the formula in letters, the same
// with its numbers, and what it comes to. Filled is plain arithmetic: + - * /
// ^, parentheses, sqrt, and sin cos tan asin acos atan in degrees, so that
// anyone can put it into a calculator and get Value.
type Step struct {
	Name    string
	Formula string
	Filled  string
	Value   float64
	Unit    string
}

// Var is a letter of a formula with its number.
type Var struct {
	Name  string
	Value float64
}

// Let is a Var, short enough to stand in a call.
func Let(name string, value float64) Var { return Var{name, value} }

// Work returns a step whose filled line is the formula with every letter
// replaced by its number. Letters are whole words of the formula; numbers are
// written in full, up to 12 decimals.
func Work(name, formula string, value float64, unit string, vars ...Var) Step {
	var b strings.Builder
	for i := 0; i < len(formula); {
		j := i
		for j < len(formula) && isWord(formula[j]) {
			j++
		}
		if j == i {
			b.WriteByte(formula[i])
			i++
			continue
		}
		word := formula[i:j]
		for _, v := range vars {
			if v.Name == word {
				word = plain(v.Value)
				if v.Value < 0 {
					word = "(" + word + ")"
				}
				break
			}
		}
		b.WriteString(word)
		i = j
	}
	return Step{name, formula, b.String(), value, unit}
}

// Text returns the step as one line: "a = atan(D/2) = atan(30/2) = 86.18593 deg".
// The result has 6 decimals, trailing zeros left out.
func (s Step) Text() string {
	line := fmt.Sprintf("%s = %s", s.Name, s.Formula)
	if s.Filled != s.Formula {
		line += " = " + s.Filled
	}
	return strings.TrimSpace(line + " = " + s.Result() + " " + s.Unit)
}

// Result returns the value as it is printed, with at most 6 decimals.
func (s Step) Result() string {
	r := math.Round(s.Value*1e6) / 1e6
	return plain(r)
}

func isWord(c byte) bool {
	return c == '_' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '.'
}

// plain writes v without an exponent, with at most 12 decimals.
func plain(v float64) string {
	s := strconv.FormatFloat(v, 'f', 12, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
