package threads

import (
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// examples are the designations a problem shows.
const examples = "M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, G1/4, 1/4NPT, Tr12x3 or 1/2-10ACME"

// maxText is the longest designation that is read.
const maxText = 40

// Parse reads a thread's designation strictly. Spaces around the parts and ×
// for x are allowed; a metric thread without a pitch is coarse; a UN thread
// without a series is the standard one of that size and pitch, and UNS asks
// for a special one. Classes and -LH may follow. It fails on text that is no
// designation, on sizes and pitches that do not exist (and says which do), and
// on classes the form does not have.
func Parse(text string) (Designation, error) {
	d, err := parse(text)
	if p, bad := err.(problem.Problem); bad {
		found := []rune(text)
		if len(found) > maxText {
			found = append(found[:maxText:maxText], '…')
		}
		p.Found = say.Plain(string(found))
		return Designation{}, p
	}
	return d, err
}

// refuse returns the problem of a designation; Parse adds what was written.
func refuse(code problem.Code, want ...any) problem.Problem {
	return problem.New(code, "thread", nil, want...)
}

func parse(text string) (Designation, error) {
	t, left := normal(text)
	switch {
	case len(text) > maxText:
		return Designation{}, refuse(problem.Malformed, "too long: a designation has at most ", maxText, " characters")
	case strings.Contains(t, ","):
		point := say.Plain(strings.ReplaceAll(strings.TrimSpace(text), ",", "."))
		return Designation{}, refuse(problem.DecimalComma, "a comma is not read as a decimal point: write ", point)
	case strings.HasSuffix(t, "x") && !strings.Contains(t, "-"):
		return Designation{}, refuse(problem.Malformed, "a pitch must follow the x")
	}
	for _, f := range forms {
		pattern, classes := f.grammar()
		m := pattern.FindStringSubmatch(t)
		if m == nil {
			continue
		}
		p := parts{f, t, m}
		class := p.part("class")
		if class != "" && !classes.MatchString(class) {
			return Designation{}, refuse(problem.Unknown, class, " is not a class here: ", f.Want)
		}
		read := p.bySize
		if f.Numbered {
			read = p.byNumber
		}
		d, err := read()
		d.Class, d.Left = class, left
		return d, err
	}
	p := refuse(problem.Malformed, "not a thread's designation: write one such as ", examples)
	p.Nearest = problem.Nearest(t, names())
	return Designation{}, p
}

// MustParse is Parse for text known to be right. It panics on any other.
func MustParse(text string) Designation {
	d, err := Parse(text)
	if err != nil {
		panic(err)
	}
	return d
}

// The spellings that normal changes, compiled on first use.
var (
	mixed = pattern(`(\d) (\d+/\d)`)
	paren = pattern(`\((P[0-9.]+)\)`) // Tr40x14(P7), as older standards write it
	hand  = pattern(`-?LH$|^(Tr[0-9.xP()]+)LH(-.*)$`)
)

func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// normal returns the text with × as x, "1 1/4" as "1-1/4", "#8" and "No.8" as
// "No8" and no other spaces, and whether it was marked left-hand.
func normal(text string) (string, bool) {
	t := mixed().ReplaceAllString(strings.TrimSpace(text), "$1-$2")
	t = strings.NewReplacer(" ", "", "×", "x", "No.", "No", "#", "No").Replace(t)
	t = paren().ReplaceAllString(t, "$1")
	r := hand().ReplaceAllString(t, "$1$2")
	return r, r != t
}

// parts are the parts of a designation, by the names in its form's pattern.
type parts struct {
	form   *Form
	text   string // the whole, for the nearest match
	groups []string
}

// part returns a part, "" where it was not written.
func (p parts) part(name string) string {
	if i := p.form.pattern.SubexpIndex(name); i >= 0 {
		return p.groups[i]
	}
	return ""
}

// sizesOf returns the rows of a form whose size is named so, and the names of
// all its sizes.
func sizesOf(form *Form, size string) (rows []Designation, all []string) {
	for _, d := range table() {
		if d.Form != form {
			continue
		}
		if d.Size == size {
			rows = append(rows, d)
		}
		if !slices.Contains(all, d.Size) {
			all = append(all, d.Size)
		}
	}
	slices.SortStableFunc(all, func(a, b string) int { return magnitude(a).Cmp(magnitude(b)) })
	return rows, all
}

// bySize reads a form that is named by its size and, perhaps, its pitch or
// series: "M8", "3/8BSF", "Tr12x3" and, with several starts, "Tr40x14P7", the
// lead before the pitch.
func (p parts) bySize() (Designation, error) {
	size, series, lead := p.part("size"), p.part("series"), p.form.pitchOf(p.part("lead"))
	rows, all := sizesOf(p.form, size)
	if len(rows) == 0 {
		return Designation{}, noSize(p.form, size, all)
	}
	pitch := p.form.pitchOf(p.part("pitch"))
	if pitch.Sign() == 0 {
		pitch = lead
	}
	if p.part("pitch") == "" && series == "" {
		series = p.form.Usual
	}
	i := slices.IndexFunc(rows, func(d Designation) bool {
		return (series == "" || d.Series == series) && (p.part("pitch")+p.part("lead") == "" || d.Pitch.Equal(pitch))
	})
	if i < 0 && p.part("pitch") == "" && p.form.Usual != "" {
		return Designation{}, refuse(problem.Missing, "this size has no ", p.form.Usual, " pitch: write ", choice(rows))
	}
	if i < 0 {
		return Designation{}, noPitch(rows, p.text)
	}
	return rows[i].withLead(lead)
}

// maxStarts is the most starts a thread here has.
const maxStarts = 12

// withLead returns the thread with the starts that make the lead; with its own
// where none was written.
func (d Designation) withLead(lead units.Pitch) (Designation, error) {
	if lead.Sign() == 0 {
		return d, nil
	}
	starts := new(big.Rat).Quo(lead.Rat(), d.Pitch.Rat())
	if !starts.IsInt() || starts.Num().Int64() < 1 || starts.Num().Int64() > maxStarts {
		return d, refuse(problem.Contradiction, "the lead must be 1 to ", maxStarts, " times the pitch, ", d.Pitch)
	}
	d.Starts = int(starts.Num().Int64())
	return d, nil
}

// pitchOf reads the digits of a pitch as the form means them; 0, which is no
// pitch of any row, where there is no such pitch.
func (f *Form) pitchOf(digits string) units.Pitch {
	p, err := units.ParsePitch(digits + f.PitchUnit)
	if err != nil {
		return units.Pitch{}
	}
	return p
}

// noSize returns the problem of a diameter that is not made.
func noSize(form *Form, size string, all []string) problem.Problem {
	return refuse(problem.Unknown, "no ", form.Called, " has this size: there are ", around(size, all))
}

// around lists the sizes of a form: all of a short list, else the ones next to
// the size that was asked for with the ends of the list.
func around(size string, all []string) say.Text {
	const most, beside = 24, 3
	if len(all) <= most {
		return say.Join(all, ", ")
	}
	i := slices.IndexFunc(all, func(s string) bool { return magnitude(s).Cmp(magnitude(size)) > 0 })
	if i < 0 {
		i = len(all)
	}
	near := all[max(0, i-beside):min(len(all), i+beside)]
	return say.Of(say.Join(near, ", "), " (of ", all[0], " to ", all[len(all)-1], ")")
}

// magnitude returns the diameter a size's name says, for ordering names: the
// number in a metric name, inches in an inch one.
func magnitude(size string) *big.Rat {
	if n, ok := strings.CutPrefix(size, "No"); ok {
		r, _ := new(big.Rat).SetString(n)
		return new(big.Rat).Add(big.NewRat(60, 1000), r.Mul(r, big.NewRat(13, 1000)))
	}
	digits := strings.TrimFunc(size, func(r rune) bool { return r < '0' || r > '9' })
	whole, fraction, mixedNumber := strings.Cut(digits, "-")
	if !mixedNumber {
		whole, fraction = "0", digits
	}
	a, ok1 := new(big.Rat).SetString(whole)
	b, ok2 := new(big.Rat).SetString(fraction)
	if !ok1 || !ok2 {
		return new(big.Rat)
	}
	return a.Add(a, b)
}

// noPitch returns the problem of a pitch that a diameter is not made with.
func noPitch(rows []Designation, text string) problem.Problem {
	p := refuse(problem.Unknown, "no such thread: ", rows[0].Size, " is made as ", choice(rows))
	p.Nearest = problem.Nearest(text, written(rows))
	return p
}

// choice lists designations as "a, b or c", with the pitch of one that is
// written without.
func choice(rows []Designation) say.Text {
	list := written(rows)
	for i, d := range rows {
		if d.Form.Usual != "" && d.Series == d.Form.Usual {
			list[i] += " (" + d.Pitch.String() + ")"
		}
	}
	return say.Choice(list)
}

// unifiedSeries are the series of unified threads, and unifiedSpecials the
// threads per inch a UNS thread may have.
var unifiedSeries = []string{"UNC", "UNF", "UNEF", "UN", "UNS"}

const unifiedSpecials = "4 4.5 5 6 7 8 9 10 11 12 13 14 16 18 20 24 27 28 32 36 40 44 48 50 56 64 72 80"

// byNumber reads "1/4-20", "8-32UNC" or "10-28UNS". A bare whole number is a
// number size when that has the pitch, else inches: 1-64 is No 1, 1-8 one inch.
func (p parts) byNumber() (Designation, error) {
	size, series, pitch := p.part("size"), p.part("series"), p.form.pitchOf(p.part("pitch"))
	rows, _ := sizesOf(p.form, "No"+size)
	inch, _ := sizesOf(p.form, size)
	rows = append(rows, inch...)
	known := slices.Contains(unifiedSeries, series)
	for _, d := range rows {
		if d.Pitch.Equal(pitch) && (series == "" || series == d.Series) {
			return d, nil
		}
		if d.Pitch.Equal(pitch) && known {
			return Designation{}, refuse(problem.Contradiction, "this size and pitch is ", d.Series, ": write ", d)
		}
	}
	switch {
	case series == "UNS":
		return p.special(size, pitch, rows)
	case series != "" && !known:
		return Designation{}, refuse(problem.Unknown, series, " is not a series here: write ", say.Choice(unifiedSeries))
	case len(rows) == 0:
		if r, ok := new(big.Rat).SetString(size); ok && r.Cmp(big.NewRat(6, 1)) > 0 {
			size = "No" + size
		}
		_, all := sizesOf(p.form, size)
		return Designation{}, noSize(p.form, size, all)
	}
	bad := noPitch(rows, p.text)
	if series == "" {
		bad.Want += "; a special thread is written with UNS"
	}
	return Designation{}, bad
}

// special returns a UNS thread: a diameter of 0.06 to 6 in with a standard
// number of threads per inch.
func (p parts) special(size string, pitch units.Pitch, rows []Designation) (Designation, error) {
	d := Designation{Form: p.form, Size: size, Pitch: pitch, Starts: 1, Series: "UNS"}
	d.source = "ASME B1.1, special threads"
	if specials := strings.Fields(unifiedSpecials); !slices.Contains(specials, pitch.Number()) {
		return d, refuse(problem.Unknown, "no such number of threads per inch: there are ", say.Join(specials, ", "))
	}
	l, err := units.ParseLength(size+"in", units.Inch)
	switch {
	case len(rows) > 0 && pitch.TPI().Cmp(big.NewRat(20, 1)) > 0:
		d.Size, d.Major = rows[0].Size, rows[0].Major
	case len(rows) > 0:
		last := rows[len(rows)-1]
		d.Size, d.Major = last.Size, last.Major
	case err != nil:
		return d, err
	default:
		d.Major = l
	}
	if d.Major.Less(units.MustLength("0.06in")) || units.MustLength("6in").Less(d.Major) {
		return d, refuse(problem.OutOfRange, "a unified thread is 0.06 to 6 in")
	}
	if d.Major.Cmp(d.Pitch.Length(2)) <= 0 {
		return d, refuse(problem.Impossible, "the pitch is too coarse for the diameter")
	}
	return d, nil
}
