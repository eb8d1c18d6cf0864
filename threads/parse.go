package threads

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// examples are the designations a problem shows.
const examples = "M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, G1/4, 1/4NPT, Tr12x3 or 1/2-10ACME"

// maxText is the longest designation that is read.
const maxText = 40

// grammar is how the designations of a form are written. Every pattern has the
// named parts size and pitch, as far as the form has them.
type grammar struct {
	form    Form
	pattern *regexp.Regexp
	classes *regexp.Regexp
	want    string // which classes there are
}

const (
	number   = `\d{1,3}(?:\.\d{1,3})?`
	diameter = `\d{1,4}(?:\.\d{1,3})?`
	inches   = `\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,2}`
	screwGr  = `[468][efgh]|[3-9][efgh][468][efgh]` // grades of the pitch diameter and, when they differ, of the crest
	nutGr    = `[4-8][GH](?:[4-8][GH])?`
)

var grammars = sync.OnceValue(func() []grammar {
	of := func(form Form, pattern, classes, want string) grammar {
		return grammar{form, regexp.MustCompile(`^` + pattern + `$`), regexp.MustCompile(`^(?:` + classes + `)$`), want}
	}
	none := `\b\B`
	return []grammar{
		of(Metric, `(?P<size>M`+diameter+`)(?:x(?P<pitch>`+number+`))?(?:-(?P<class>[^-]+))?`,
			screwGr+`|`+nutGr+`|(?:`+nutGr+`)/(?:`+screwGr+`)`,
			"write a grade and a position: external such as 6g, 6h or 4g6g (pitch diameter first), internal such as 6H, 5H or 6G"),
		of(Unified, `(?P<size>No\d{1,2}|`+inches+`)-(?P<pitch>`+number+`)(?P<series>UN[A-Z]*)?(?:-(?P<class>[^-]+))?`,
			`[123][AB]`, "write 1A, 2A or 3A for the screw, 1B, 2B or 3B for the nut"),
		of(Whitworth, `(?P<size>`+inches+`)(?:-(?P<pitch>`+number+`))?(?P<series>BSW|BSF)(?:-(?P<class>[^-]+))?`,
			none, "no classes of Whitworth threads are known here"),
		of(BA, `(?P<size>\d{1,2}BA)(?:-(?P<class>[^-]+))?`, none, "no classes of BA threads are known here"),
		of(ParallelG, `(?P<size>G(?:`+inches+`))(?:-?(?P<class>[A-Z]+))?`, `[AB]`, "write A or B for the external thread; the internal one has one class"),
		of(TaperR, `(?P<size>R(?:`+inches+`))(?:-(?P<class>[^-]+))?`, none, "R threads have no classes"),
		of(NPT, `(?P<size>`+inches+`)(?:-(?P<pitch>`+number+`))?(?P<series>NPT)(?:-(?P<class>[^-]+))?`, none, "NPT threads have no classes"),
		of(Trapezoidal, `(?P<size>Tr`+diameter+`)x(?P<lead>`+number+`)(?:P(?P<pitch>`+number+`))?(?:-(?P<class>[^-]+))?`,
			none, "no classes of trapezoidal threads are known here"),
		of(Acme, `(?P<size>`+inches+`)-(?P<pitch>`+number+`)ACME(?:-(?P<class>[^-]+))?`, `2G`, "write 2G, the class known here"),
	}
})

// Parse reads a thread's designation strictly. Spaces around the parts and ×
// for x are allowed; a metric thread without a pitch is coarse; a UN thread
// without a series is the standard one of that size and pitch, and UNS asks
// for a special one. Classes and -LH may follow. It fails on text that is no
// designation, on sizes and pitches that do not exist (and says which do), and
// on classes the form does not have.
func Parse(text string) (Designation, error) {
	fail := func(code problem.Code, want string) (Designation, error) {
		return Designation{}, problem.New(code, "thread", short(text), want)
	}
	t, left := normal(text)
	switch {
	case len(text) > maxText:
		return fail(problem.Malformed, fmt.Sprintf("too long: a designation has at most %d characters", maxText))
	case strings.Contains(t, ","):
		return fail(problem.DecimalComma, "a comma is not read as a decimal point: write "+strings.ReplaceAll(strings.TrimSpace(text), ",", "."))
	case strings.HasSuffix(t, "x") && !strings.Contains(t, "-"):
		return fail(problem.Malformed, "a pitch must follow the x")
	}
	for _, g := range grammars() {
		m := g.pattern.FindStringSubmatch(t)
		if m == nil {
			continue
		}
		part := map[string]string{}
		for i, name := range g.pattern.SubexpNames() {
			if name != "" && m[i] != "" {
				part[name] = m[i]
			}
		}
		d, err := g.read(part, t)
		if err != nil {
			p := err.(problem.Problem)
			p.Found = short(text)
			return Designation{}, p
		}
		d.Left = left
		return d, nil
	}
	p := problem.New(problem.Malformed, "thread", short(text), "not a thread's designation: write one such as "+examples)
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

func short(text string) string {
	if r := []rune(text); len(r) > maxText {
		return string(r[:maxText]) + "…"
	}
	return text
}

// read looks a designation's parts up in the table. text is the whole, for
// the nearest match.
func (g grammar) read(part map[string]string, text string) (Designation, error) {
	class := part["class"]
	if class != "" && !g.classes.MatchString(class) {
		return Designation{}, problem.New(problem.Unknown, "thread", "", class+" is not a class here: "+g.want)
	}
	var d Designation
	var err error
	switch g.form {
	case Unified:
		d, err = readUnified(part, text)
	case Trapezoidal:
		d, err = readTrapezoidal(part, text)
	default:
		d, err = g.find(part, text)
	}
	d.Class = class
	return d, err
}

// sizesOf returns the rows of a form whose size is named so, and the names of
// all its sizes.
func sizesOf(form Form, size string) (rows []Designation, all []string) {
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
	if form != BA {
		slices.SortStableFunc(all, func(a, b string) int { return magnitude(a).Cmp(magnitude(b)) })
	}
	return rows, all
}

// find reads a form that is named by its size and, perhaps, its pitch or
// series.
func (g grammar) find(part map[string]string, text string) (Designation, error) {
	rows, all := sizesOf(g.form, part["size"])
	if len(rows) == 0 {
		return Designation{}, noSize(g.form, part["size"], all)
	}
	for _, d := range rows {
		switch {
		case part["series"] != "" && d.Series != part["series"]:
		case part["pitch"] != "" && !d.Pitch.Equal(pitchOf(g.form, part["pitch"])):
		case g.form == Metric && part["pitch"] == "" && d.Series != "coarse":
		default:
			return d, nil
		}
	}
	if g.form == Metric && part["pitch"] == "" {
		return Designation{}, problem.New(problem.Missing, "thread", "", "this size has no coarse pitch: write "+either(rows))
	}
	return Designation{}, noPitch(rows, text)
}

// pitchOf reads the digits of a pitch as the form means them.
func pitchOf(form Form, digits string) units.Pitch {
	unit := "tpi"
	if form == Metric || form == Trapezoidal {
		unit = "mm"
	}
	p, err := units.ParsePitch(digits + unit)
	if err != nil {
		return units.Pitch{} // 0 is no pitch of any row
	}
	return p
}

// noSize returns the problem of a diameter that is not made.
func noSize(form Form, size string, all []string) problem.Problem {
	marks := map[Form]string{
		Metric: "metric thread", Unified: "unified thread", Whitworth: "Whitworth thread", BA: "BA thread",
		ParallelG: "G thread", TaperR: "R thread", NPT: "NPT thread", Trapezoidal: "trapezoidal thread", Acme: "ACME thread",
	}
	p := problem.New(problem.Unknown, "thread", "", "no "+marks[form]+" has this size: there are "+around(size, all))
	return p
}

// around lists the sizes of a form: all of a short list, else the ones next to
// the size that was asked for with the ends of the list.
func around(size string, all []string) string {
	const most = 24
	if len(all) <= most {
		return strings.Join(all, ", ")
	}
	at := slices.IndexFunc(all, func(s string) bool { return magnitude(s).Cmp(magnitude(size)) > 0 })
	if at < 0 {
		at = len(all)
	}
	from, to := max(0, at-3), min(len(all), at+3)
	text := strings.Join(all[from:to], ", ")
	return fmt.Sprintf("%s (of %s to %s)", text, all[0], all[len(all)-1])
}

// magnitude returns the diameter a size's name says, for ordering names: the
// number in a metric name, inches in an inch one.
func magnitude(size string) *big.Rat {
	if n, ok := strings.CutPrefix(size, "No"); ok {
		r, _ := new(big.Rat).SetString(n)
		return new(big.Rat).Add(big.NewRat(60, 1000), r.Mul(r, big.NewRat(13, 1000)))
	}
	digits := strings.Trim(size, "MTrGRBA")
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
	var list []string
	for _, d := range rows {
		list = append(list, d.String())
	}
	return problem.New(problem.Unknown, "thread", text, "no such thread: "+rows[0].Size+" is made as "+either(rows)).Near(list)
}

// either lists designations as "a, b or c".
func either(rows []Designation) string {
	var list []string
	for _, d := range rows {
		text := d.String()
		if d.Form == Metric && d.Series == "coarse" {
			text += " (" + d.Pitch.String() + ")"
		}
		list = append(list, text)
	}
	if len(list) == 1 {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}

// unifiedSpecials are the threads per inch a UNS thread may have.
var unifiedSpecials = []string{"4", "4.5", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14", "16", "18", "20", "24", "27", "28", "32", "36", "40", "44", "48", "50", "56", "64", "72", "80"}

// readUnified reads "1/4-20", "8-32UNC" or "10-28UNS". A bare whole number is
// a number size when that has the pitch, else inches: 1-64 is No 1, 1-8 one
// inch.
func readUnified(part map[string]string, text string) (Designation, error) {
	size, series := part["size"], part["series"]
	p := pitchOf(Unified, part["pitch"])
	var rows []Designation
	for _, name := range []string{"No" + size, size} {
		of, _ := sizesOf(Unified, name)
		rows = append(rows, of...)
	}
	for _, d := range rows {
		if d.Pitch.Equal(p) && (series == "" || series == d.Series) {
			return d, nil
		}
		if d.Pitch.Equal(p) && slices.Contains([]string{"UN", "UNS", "UNC", "UNF", "UNEF"}, series) {
			return Designation{}, problem.New(problem.Contradiction, "thread", "", "this size and pitch is "+d.Series+": write "+d.String())
		}
	}
	switch series {
	case "UNS":
		return special(size, part["pitch"], rows)
	case "", "UN", "UNC", "UNF", "UNEF":
	default:
		return Designation{}, problem.New(problem.Unknown, "thread", "", series+" is not a series here: write UNC, UNF, UNEF, UN or UNS")
	}
	if len(rows) == 0 {
		if r, ok := new(big.Rat).SetString(size); ok && r.Cmp(big.NewRat(6, 1)) > 0 {
			size = "No" + size
		}
		_, all := sizesOf(Unified, size)
		return Designation{}, noSize(Unified, size, all)
	}
	bad := noPitch(rows, text)
	if series == "" {
		bad.Want += "; a special thread is written with UNS"
	}
	return Designation{}, bad
}

// special returns a UNS thread: a diameter of 0.06 to 6 in with a standard
// number of threads per inch.
func special(size, threads string, rows []Designation) (Designation, error) {
	p := pitchOf(Unified, threads)
	d := Designation{Form: Unified, Size: size, Pitch: p, Starts: 1, Series: "UNS", source: "ASME B1.1, special threads"}
	if !slices.Contains(unifiedSpecials, tpi(p)) {
		return d, problem.New(problem.Unknown, "thread", "", "no such number of threads per inch: there are "+strings.Join(unifiedSpecials, ", "))
	}
	switch {
	case len(rows) > 0 && p.TPI().Cmp(big.NewRat(20, 1)) > 0:
		d.Size, d.Major = rows[0].Size, rows[0].Major
	case len(rows) > 0:
		last := rows[len(rows)-1]
		d.Size, d.Major = last.Size, last.Major
	default:
		l, err := units.ParseLength(size+"in", units.Inch)
		if err != nil {
			return d, err
		}
		d.Major = l
	}
	if d.Major.Cmp(units.MustLength("0.06in")) < 0 || d.Major.Cmp(units.MustLength("6in")) > 0 {
		return d, problem.New(problem.OutOfRange, "thread", "", "a unified thread is 0.06 to 6 in")
	}
	if d.Major.Minus(d.Pitch.Length(2)).Sign() <= 0 {
		return d, problem.New(problem.Impossible, "thread", "", "the pitch is too coarse for the diameter")
	}
	return d, nil
}

// maxStarts is the most starts a thread here has.
const maxStarts = 12

// readTrapezoidal reads "Tr12x3" and, with several starts, "Tr40x14P7": the
// lead, then the pitch.
func readTrapezoidal(part map[string]string, text string) (Designation, error) {
	rows, all := sizesOf(Trapezoidal, part["size"])
	if len(rows) == 0 {
		return Designation{}, noSize(Trapezoidal, part["size"], all)
	}
	lead := pitchOf(Trapezoidal, part["lead"])
	p := lead
	if part["pitch"] != "" {
		p = pitchOf(Trapezoidal, part["pitch"])
	}
	i := slices.IndexFunc(rows, func(d Designation) bool { return d.Pitch.Equal(p) })
	if i < 0 {
		return Designation{}, noPitch(rows, text)
	}
	starts := new(big.Rat).Quo(lead.Rat(), p.Rat())
	if !starts.IsInt() || starts.Num().Int64() < 1 || starts.Num().Int64() > maxStarts {
		return Designation{}, problem.New(problem.Contradiction, "thread", "", fmt.Sprintf("the lead must be 1 to %d times the pitch, %v", maxStarts, p))
	}
	d := rows[i]
	d.Starts = int(starts.Num().Int64())
	return d, nil
}
