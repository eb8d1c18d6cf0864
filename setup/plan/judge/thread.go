package judge

import (
	"math"
	"strconv"
	"strings"
)

// threadSize is what a designation says, in mm, written again from the
// published formulas: d2 = d - 0.75·H, D1 = d - 1.25·H with H = 0.866025·P
// (ISO 68-1, and ASME B1.1 for inch threads).
type threadSize struct{ major, pitch float64 }

func (t threadSize) minor() float64 { return t.major - 1.25*0.8660254*t.pitch }

// blank is the least a screw's blank may be turned to: the major diameter less
// es and Td of 6g, in um -(15 + 11·P) and 180·∛P² - 3.15/√P (ISO 965-1:1998,
// clauses 12 and 13; the standard then rounds to preferred numbers, up to 6 um).
// ASME B1.1's class 2A is within 2 % of Td.
func (t threadSize) blank() float64 {
	p := t.pitch
	return t.major - (15+11*p+180*math.Cbrt(p*p)-3.15/math.Sqrt(p)+6)/1000
}

// largest is the most that blank may be: the major diameter less es of 6g.
func (t threadSize) largest() float64 { return t.major - (15+11*t.pitch)/1000 }

// coarse is the pitch of a metric size that is written without one (ISO 261).
var coarse = map[string]float64{
	"1": 0.25, "1.2": 0.25, "1.6": 0.35, "2": 0.4, "2.5": 0.45, "3": 0.5, "3.5": 0.6, "4": 0.7, "5": 0.8, "6": 1, "7": 1,
	"8": 1.25, "10": 1.5, "12": 1.75, "14": 2, "16": 2, "18": 2.5, "20": 2.5, "22": 2.5, "24": 3, "27": 3, "30": 3.5,
}

// parseThread reads M8, M16x1.5, 3/8-16 and No10-32.
func parseThread(spec string) (t threadSize, ok bool) {
	spec = strings.Fields(spec + " ")[0]
	if m, found := strings.CutPrefix(spec, "M"); found {
		dia, pitch, fine := strings.Cut(m, "x")
		t.major, ok = number(dia)
		t.pitch = coarse[dia]
		if fine {
			t.pitch, _ = number(pitch)
		}
		return t, ok && t.pitch > 0
	}
	dia, tpi, found := strings.Cut(spec, "-")
	n, err := number(tpi)
	if !found || !err || n == 0 {
		return t, false
	}
	t.pitch = inch / n
	if no, numbered := strings.CutPrefix(strings.TrimPrefix(dia, "#"), "No"); numbered {
		k, isNumber := number(no)
		t.major = (0.06 + 0.013*k) * inch // ASME B1.1: number sizes
		return t, isNumber
	}
	v, ok := number(dia)
	t.major = v * inch
	return t, ok
}

func itoa(n int) string { return strconv.Itoa(n) }
