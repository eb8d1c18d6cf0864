package published

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"setover/setup/page/sheet"
)

// Works fails the test for every line of a sheet's shown working whose filled
// formula, put into a calculator, does not come to the number printed behind
// it. A sheet without any working fails too.
func Works(t testing.TB, s sheet.Sheet) {
	t.Helper()
	if len(s.Working) == 0 {
		t.Errorf("%s: no working", s.Title)
	}
	for _, step := range s.Working {
		v, err := Evaluate(step.Filled)
		if err != nil {
			t.Errorf("%s: %s: %v", s.Title, step.Text(), err)
			continue
		}
		if got := (sheet.Step{Value: v}).Result(); got != step.Result() {
			t.Errorf("%s: %s: the filled line comes to %s", s.Title, step.Text(), got)
		}
	}
}

// Evaluate works a line of plain arithmetic out: + - * / ^, parentheses, and
// sqrt sin cos tan asin acos atan in degrees.
func Evaluate(line string) (v float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("not plain arithmetic: %v", r)
		}
	}()
	c := calculator{strings.ReplaceAll(line, " ", "")}
	v = c.sum()
	if c.rest != "" {
		panic(c.rest)
	}
	return v, nil
}

// calculator reads a line from the left; rest is what is still to be read.
type calculator struct{ rest string }

// next takes one of the signs if it comes next.
func (c *calculator) next(signs string) byte {
	if c.rest == "" || !strings.Contains(signs, c.rest[:1]) {
		return 0
	}
	b := c.rest[0]
	c.rest = c.rest[1:]
	return b
}

// chain works terms joined by these signs out, from the left.
func (c *calculator) chain(signs string, term func() float64) float64 {
	v := term()
	for {
		switch c.next(signs) {
		case '+':
			v += term()
		case '-':
			v -= term()
		case '*':
			v *= term()
		case '/':
			v /= term()
		default:
			return v
		}
	}
}

func (c *calculator) sum() float64 { return c.chain("+-", c.product) }

func (c *calculator) product() float64 { return c.chain("*/", c.power) }

func (c *calculator) power() float64 {
	if c.next("-") != 0 {
		return -c.power()
	}
	v := c.term()
	if c.next("^") != 0 {
		return math.Pow(v, c.power())
	}
	return v
}

const degree = math.Pi / 180

// functions are a calculator's keys, in degrees.
var functions = map[string]func(float64) float64{
	"":     func(x float64) float64 { return x },
	"sqrt": math.Sqrt,
	"sin":  func(x float64) float64 { return math.Sin(x * degree) },
	"cos":  func(x float64) float64 { return math.Cos(x * degree) },
	"tan":  func(x float64) float64 { return math.Tan(x * degree) },
	"asin": func(x float64) float64 { return math.Asin(x) / degree },
	"acos": func(x float64) float64 { return math.Acos(x) / degree },
	"atan": func(x float64) float64 { return math.Atan(x) / degree },
}

// term reads a number, or a bracket with or without a function before it.
func (c *calculator) term() float64 {
	after := strings.TrimLeft(c.rest, "0123456789.abcdefghijklmnopqrstuvwxyz")
	word := strings.TrimSuffix(c.rest, after)
	c.rest = after
	if c.next("(") == 0 {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil || strings.Trim(word, "0123456789.") != "" { // 1e3 and inf are numbers to ParseFloat
			panic(word)
		}
		return v
	}
	f, ok := functions[word]
	if !ok {
		panic(word)
	}
	v := c.sum()
	if c.next(")") == 0 {
		panic("no ) behind " + word)
	}
	return f(v)
}
