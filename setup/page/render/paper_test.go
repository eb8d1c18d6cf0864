package render

import (
	"bytes"
	"encoding/binary"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// result is a sheet that stands for itself.
type result struct {
	s     sheet.Sheet
	fails problem.List
}

func (r result) Sheet() sheet.Sheet  { return r.s }
func (r result) Fails() problem.List { return r.fails }

func length(text string) sheet.Value { return units.MustLength(text).Nearest() }

// everything is a sheet with every part a sheet can have, some in inches.
func everything() result {
	s := sheet.Sheet{
		Title: "Taper on the compound",
		Facts: []sheet.Fact{
			{
				Key: "reading_deg", Label: "exact reading", Value: sheet.Ang(units.MustAngle("6d54m")),
				Remark: "as this scale is numbered",
			},
			{Key: "large_mm", Label: "large diameter", Value: length("1-3/8in")},
		},
		Tables: []sheet.Table{{
			Title: "Holes ⌀ 3", Cols: []sheet.Column{{Key: "at_mm", Head: "at"}, {Key: "drill", Head: "drill"}},
			Rows:  [][]sheet.Value{{length("12.5mm"), sheet.Text("½ in")}, {length("3/8in"), nil}},
			Check: []sheet.Value{length("1in"), sheet.Text("from the far end")},
		}},
		Working:  []sheet.Step{sheet.Work("s", "l/cos(a)", 60.207973, "mm", sheet.Let("l", 60), sheet.Let("a", 4.763642))},
		Notes:    []sheet.Text{"Seen from above."},
		Cautions: sheet.Cautions{"Take the chuck key out."},
		Drawings: []sheet.Drawing{{Title: "Plan", W: 40, H: 20, Shapes: []sheet.Shape{
			sheet.Path{Pen: sheet.Shade, Closed: true, Points: []sheet.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 20}}},
			sheet.Path{Pen: sheet.Axis, Points: []sheet.Point{{X: 0, Y: 10}, {X: 40, Y: 10}}},
			sheet.Circle{Pen: sheet.Outline, C: sheet.Point{X: 20, Y: 10}, R: 5.25},
			sheet.Label{At: sheet.Point{X: 20, Y: 18}, Text: "⌀10.5 & <A>", Height: 3.5, Align: 1},
		}}},
	}
	s.Warnings.Add("not-checked", "no compound in this shop")
	return result{s, problem.List{problem.New(problem.Fouls, "", nil, "the post meets the jaws")}}
}

func pdf(t testing.TB, r sheet.Result, look Look) []byte {
	t.Helper()
	look.Format = PDF
	b, err := Bytes(r, look)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// poppler runs one of the tools that .ci/run installs over a PDF.
func poppler(t testing.TB, file []byte, tool string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skip(tool + " is not installed (Debian: poppler-utils)")
	}
	name := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(name, file, 0o666); err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	args = append(args, name)
	if tool == "pdftotext" {
		args = append(args, "-")
	}
	c := exec.Command(tool, args...)
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil || stderr.Len() > 0 {
		t.Fatal(tool, err, stderr.String())
	}
	return string(out)
}

func pages(t testing.TB, file []byte) int {
	t.Helper()
	m := regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(poppler(t, file, "pdfinfo"))
	n, err := strconv.Atoi(m[1])
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// A reader that is not ours finds every part of the sheet as text, with its
// symbols, and the foot of the page.
func TestPaperIsText(t *testing.T) {
	look := Look{
		Working: true, Shop: "bench (built in)", Version: "1.2.3", PartHash: "1a2b3c4", ShopHash: "5d6e7f8",
		Given: []sheet.Fact{{Label: "--large 1-3/8in", Value: length("1-3/8in")}},
	}
	for _, tc := range []struct {
		paper Paper
		bar   string
	}{{A4, "100 mm when printed at 100 %"}, {Letter, "4 in when printed at 100 %"}} {
		look.Paper = tc.paper
		text := strings.Join(strings.Fields(poppler(t, pdf(t, everything(), look), "pdftotext", "-layout")), " ")
		for _, want := range []string{
			"Taper on the compound", "Given: --large 1-3/8in (34.925 mm)", "Shop: bench (built in)",
			"NO • the post meets the jaws", "exact reading 6.900° (6°54') as this scale is numbered", "large diameter 34.925 mm",
			"Plan, scale 1:1", "⌀10.5 & <A>", "Holes ⌀ 3", "at (mm) drill", "12.500 ½ in", "9.525 -", "25.400 from the far end",
			"s = l/cos(a) = 60/cos(4.763642) = 60.207973 mm", "• Seen from above.", "Warning • no compound in this shop",
			"⚠ Caution • Take the chuck key out.", "setover 1.2.3 · part 1a2b3c4 · shop 5d6e7f8", "page 1 of 1", tc.bar,
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", tc.paper, want, text)
			}
		}
	}
	look.Units = units.Inch
	if text := poppler(t, pdf(t, everything(), look), "pdftotext", "-layout"); !strings.Contains(text,
		"1.3750 in") || !strings.Contains(text, "at (in)") {
		t.Error("inches: ", text)
	}
}

func TestPaperSameBytes(t *testing.T) {
	for _, paper := range Papers() {
		look := Look{Paper: paper, Working: true, Version: "1.2.3"}
		first := pdf(t, everything(), look)
		for range 3 {
			if !bytes.Equal(first, pdf(t, everything(), look)) {
				t.Fatal(paper, ": the same sheet gave other bytes")
			}
		}
	}
	if bytes.Equal(pdf(t, everything(), Look{Paper: A4}), pdf(t, everything(), Look{Paper: Letter})) {
		t.Error("both papers gave the same bytes")
	}
}

// The sizes are those of ISO 216 and ANSI/ASME Y14.1 in points of 1/72 in.
func TestPaperSizes(t *testing.T) {
	for _, tc := range []struct {
		paper Paper
		want  string
	}{
		{A4, "595.28 x 841.89 pts"},
		{Letter, "612 x 792 pts"},
	} {
		if got := poppler(t, pdf(t, everything(), Look{Paper: Paper(tc.paper)}), "pdfinfo"); !strings.Contains(got, tc.want) {
			t.Errorf("%s: not %s:\n%s", tc.paper, tc.want, got)
		}
	}
	_, err := ParsePaper("leter")
	if want := "paper: leter: write a4 or letter\n  did you mean letter?"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// The check bar is as long as it says, on a page drawn by a program that is
// not ours: at 254 dots to the inch a millimetre is ten dots.
func TestCheckBar(t *testing.T) {
	for _, tc := range []struct {
		paper Paper
		dots  int
	}{{A4, 1000}, {Letter, 1016}} {
		image := poppler(t, pdf(t, long(3, false), Look{Paper: tc.paper}), "pdftoppm", "-r", "254", "-gray", "-singlefile")
		var width, height, white int
		if _, err := fmt.Sscanf(image, "P5\n%d %d\n%d\n", &width, &height, &white); err != nil {
			t.Fatal(err)
		}
		dots := image[len(image)-width*height:]
		longest := 0
		for y := height - 200; y < height; y++ { // the lowest 20 mm
			run := 0
			for x := range width {
				if dots[y*width+x] > 128 {
					run = 0
					continue
				}
				run++
				longest = max(longest, run)
			}
		}
		// the end marks are drawn half their width, an eighth of a millimetre, outside
		if longest < tc.dots || longest > tc.dots+4 {
			t.Errorf("%s: the bar is %d dots long, want %d", tc.paper, longest, tc.dots)
		}
	}
}

func long(rows int, wide bool) result {
	t := sheet.Table{Title: "Sizes", Cols: []sheet.Column{{Key: "n", Head: "row"}, {Key: "mm", Head: "size"}}}
	if wide {
		t.Cols = append(t.Cols, sheet.Column{Key: "text", Head: "what it is for"})
	}
	for i := range rows {
		line := []sheet.Value{sheet.Text(fmt.Sprintf("r%d", i)), units.Millimetres(int64(i)).Nearest()}
		if wide {
			line = append(line, sheet.Text("a remark that is long enough to fill the page from side to side, so that nothing "+
				"stands beside it"))
		}
		t.Rows = append(t.Rows, line)
	}
	return result{s: sheet.Sheet{Title: "Long", Tables: []sheet.Table{t}}}
}

// A table longer than a page keeps its order and repeats its headings; each
// row is on paper once, and the pages say how many they are.
func TestLongTable(t *testing.T) {
	name := regexp.MustCompile(`\br(\d+)\b`)
	for _, paper := range Papers() {
		for _, wide := range []bool{true, false} {
			file := pdf(t, long(300, wide), Look{Paper: paper})
			n := pages(t, file)
			if n < 2 || n > 40 {
				t.Errorf("%s: %d pages", paper, n)
			}
			text := poppler(t, file, "pdftotext", "-raw")
			var got []int
			for _, m := range name.FindAllStringSubmatch(text, -1) {
				i, err := strconv.Atoi(m[1])
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, i)
			}
			if len(got) != 300 || !slices.IsSorted(got) {
				t.Errorf("%s: %d rows, sorted %v", paper, len(got), slices.IsSorted(got))
			}
			var rows []int // on each page
			for i := 1; i <= n; i++ {
				one := poppler(t, file, "pdftotext", "-f", strconv.Itoa(i), "-l", strconv.Itoa(i), "-layout")
				rows = append(rows, len(name.FindAllString(one, -1)))
				if !strings.Contains(one, "(mm)") || !strings.Contains(one, fmt.Sprintf("page %d of %d", i, n)) ||
					!strings.Contains(one, "when printed at 100 %") {
					t.Errorf("%s: page %d of %d has no headings or no foot:\n%s", paper, i, n, one)
				}
			}
			// Rows of one height: the pages between are all alike, the first has
			// its title too, and the last has what is left.
			for _, r := range rows[1 : n-1] {
				if r != rows[1] || rows[0] > r || rows[0] < r-3 {
					t.Errorf("%s: the pages have %v rows", paper, rows)
				}
			}
			if want := 1 + (300-rows[0]+rows[1]-1)/rows[1]; n != want {
				t.Errorf("%s: %d pages, want %d", paper, n, want)
			}
		}
	}
}

// A table too wide for an upright page turns it, and one too wide for that is
// cut into several that repeat the first column.
func TestWideTable(t *testing.T) {
	table := func(columns int) result {
		t := sheet.Table{}
		var line []sheet.Value
		for i := range columns {
			t.Cols = append(t.Cols, sheet.Column{Key: "k", Head: sheet.Text(fmt.Sprintf("head%d", i))})
			line = append(line, sheet.Text(fmt.Sprintf("%d.12345678", i)))
		}
		t.Add(line...)
		return result{s: sheet.Sheet{Title: "Wide", Tables: []sheet.Table{t}}}
	}
	for _, tc := range []struct {
		columns  int
		sideways bool
		first    int // how often the first column is there
	}{{4, false, 1}, {11, true, 1}, {30, true, 3}} {
		file := pdf(t, table(tc.columns), Look{})
		sideways := strings.Contains(poppler(t, file, "pdfinfo"), "841.89 x 595.28 pts")
		text := poppler(t, file, "pdftotext", "-layout")
		if sideways != tc.sideways || strings.Count(text, "head0") != tc.first || strings.Count(text, "head3") != 1 {
			t.Errorf("%d columns: on its side %v, first column %d times:\n%s", tc.columns, sideways,
				strings.Count(text, "head0"), text)
		}
	}
}

// Tables with the same headings are set in one type, that in which the widest of them
// fits; one with others keeps its own.
func TestTablesAlike(t *testing.T) {
	table := func(head, cell string) sheet.Table {
		t := sheet.Table{Cols: []sheet.Column{
			{Key: "k", Head: sheet.Text(head)}, {Key: "v", Head: "value"}, {Key: "w", Head: "note"},
		}}
		t.Add(sheet.Text(cell), sheet.Text(cell), sheet.Text(cell))
		return t
	}
	s := sheet.Sheet{Title: "Alike", Tables: []sheet.Table{
		table("what", "short"), table("what", strings.Repeat("longer ", 8)), table("other", "short"),
	}}
	look := Look{Version: "1"}
	var sizes []float64
	for _, page := range layOut(pageOf(result{s: s}, look), look, newPen().advance).pages {
		for _, m := range page {
			if m.text == "what" || m.text == "other" {
				sizes = append(sizes, m.size)
			}
		}
	}
	if len(sizes) != 3 || sizes[0] != sizes[1] || sizes[0] >= sizes[2] {
		t.Errorf("headings in %v pt", sizes)
	}
}

// Whatever a table holds, no word leaves the margins or the page, none is
// smaller than 9 pt, and none is lost. Without SETOVER_SLOW few tables are tried.
func TestPaperKeepsWithinMargins(t *testing.T) {
	p := newPen()
	if checks := flag.Lookup("rapid.checks"); os.Getenv("SETOVER_SLOW") == "" {
		usual := checks.Value.String()
		checks.Value.Set("20")
		defer checks.Value.Set(usual)
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[a-z0-9°½√]{1,9}( [a-z]{1,12}){0,12}`)
		long := rapid.StringMatching(`[a-z]{60,90}`)
		table := sheet.Table{Title: sheet.Text(cell.Draw(t, "title"))}
		columns := rapid.IntRange(1, 12).Draw(t, "columns")
		for range columns {
			table.Cols = append(table.Cols, sheet.Column{Key: "k", Head: sheet.Text(cell.Draw(t, "head"))})
		}
		for range rapid.IntRange(0, 12).Draw(t, "rows") {
			var line []sheet.Value
			for range columns {
				text := cell.Draw(t, "cell")
				switch rapid.IntRange(0, 60).Draw(t, "odd") {
				case 0:
					text = long.Draw(t, "long")
				case 1:
					text = strings.Repeat(text+" ", 150)
				}
				line = append(line, sheet.Text(text))
			}
			table.Add(line...)
		}
		s := sheet.Sheet{
			Title:  sheet.Text(strings.Repeat(long.Draw(t, "title"), rapid.IntRange(1, 20).Draw(t, "times"))),
			Tables: []sheet.Table{table}, Cautions: sheet.Cautions{sheet.Text(cell.Draw(t, "caution"))},
		}
		paper := rapid.SampledFrom(Papers()).Draw(t, "paper")
		look := Look{Paper: paper, Version: "1"}
		l := layOut(pageOf(result{s: s}, look), look, p.advance)
		var seen strings.Builder
		for _, page := range l.pages {
			for _, m := range page {
				for _, q := range m.points {
					if q.X < margin-1e-6 || q.X > l.width-margin+1e-6 || q.Y < 0 || q.Y > l.height-8 || q.Y > l.bottom()+1e-6 &&
						q.Y < l.height-19 {
						t.Fatalf("%s: a mark at %v: %q", paper, q, m.text)
					}
				}
				if m.kind != words {
					continue
				}
				if m.size < least || m.points[0].X+p.advance(m.text, m.bold, m.size) > l.width-margin+1e-3 {
					t.Fatalf("%s: %q in %g pt ends at %g", paper, m.text, m.size, m.points[0].X+p.advance(m.text, m.bold, m.size))
				}
				seen.WriteString(strings.ReplaceAll(m.text, " ", ""))
			}
		}
		for _, row := range table.Rows {
			for _, v := range row {
				for _, w := range strings.Fields(string(v.(sheet.Text))) {
					if len(w) < 12 && !strings.Contains(seen.String(), w) {
						t.Fatalf("%q is not on paper", w)
					}
				}
			}
		}
	})
}

// What the fonts do not hold, and what is no text at all, is shown as such.
func TestUnknownCharacters(t *testing.T) {
	r := result{s: sheet.Sheet{Title: "A\U0001F600B 螺 \xff\tC"}}
	if text := poppler(t, pdf(t, r, Look{}), "pdftotext"); !strings.Contains(text, "A?B ? \ufffd C") {
		t.Error(text)
	}
}

// cmapRunes returns the characters of a TrueType font's format 4 table
// (OpenType specification, cmap).
func cmapRunes(t *testing.T, font []byte) map[rune]bool {
	t.Helper()
	u16 := func(at int) int { return int(binary.BigEndian.Uint16(font[at:])) }
	u32 := func(at int) int { return int(binary.BigEndian.Uint32(font[at:])) }
	known := map[rune]bool{}
	for i := range u16(4) {
		entry := 12 + 16*i
		if string(font[entry:entry+4]) != "cmap" {
			continue
		}
		cmap := u32(entry + 8)
		for j := range u16(cmap + 2) {
			at := cmap + u32(cmap+4+8*j+4)
			if u16(at) != 4 {
				continue
			}
			n := u16(at+6) / 2
			ends, starts, deltas, offsets := at+14, at+16+2*n, at+16+4*n, at+16+6*n
			for k := range n {
				for c := u16(starts + 2*k); c <= u16(ends+2*k) && c != 0xffff; c++ {
					glyph := c + u16(deltas+2*k)
					if o := u16(offsets + 2*k); o != 0 {
						if glyph = u16(offsets + 2*k + o + 2*(c-u16(starts+2*k))); glyph != 0 {
							glyph += u16(deltas + 2*k)
						}
					}
					if glyph&0xffff != 0 {
						known[rune(c)] = true
					}
				}
			}
		}
	}
	if len(known) == 0 {
		t.Fatal("no characters in the font")
	}
	return known
}

// Both fonts hold what runes.txt says, and runes.txt every character in the
// text and the tables of the program.
func TestFontsHoldTheTrade(t *testing.T) {
	listed := runes(runesText)
	for _, r := range "°′″½¼¾×·−±⌀√→≤≥µμ⁄" + "ÄÖÜäöüßéèñçøå" + "αβγθλπφωΔΩ" {
		if !listed[r] {
			t.Errorf("%c is not in runes.txt", r)
		}
	}
	regular, bold := cmapRunes(t, regularTTF), cmapRunes(t, boldTTF)
	for r := range listed {
		if !regular[r] || !bold[r] {
			t.Errorf("%c %U: regular %v, bold %v", r, r, regular[r], bold[r])
		}
	}
	missing := func(where, text string) {
		for _, r := range text {
			if r >= ' ' && r != '\ufeff' && (r < '\ue000' || '\ue006' < r) && !listed[r] { // marks that never reach a page
				t.Errorf("%s: %c %U in %q is not in the fonts", where, r, r, text)
				return
			}
		}
	}
	read := 0
	for _, dir := range []string{"cmd", "setup", "tapers", "threads", "feeds"} {
		err := filepath.WalkDir(filepath.Join("..", "..", "..", dir), func(name string, d fs.DirEntry, err error) error {
			if os.IsNotExist(err) {
				return nil
			}
			if err != nil || d.IsDir() || strings.HasSuffix(name, "_test.go") {
				return err
			}
			switch filepath.Ext(name) {
			case ".csv":
				text, err := os.ReadFile(name)
				missing(name, string(text))
				read++
				return err
			case ".go":
				f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
				if err != nil {
					return err
				}
				ast.Inspect(f, func(n ast.Node) bool {
					if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
						text, err := strconv.Unquote(lit.Value)
						if err != nil {
							t.Error(err)
						}
						missing(name, strings.ToValidUTF8(text, ""))
					}
					return true
				})
				read++
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if read < 20 {
		t.Errorf("only %d files were read", read)
	}
}

// The file says that it is not to be scaled, in a second catalog whose place
// its cross-reference names.
func TestTrueSize(t *testing.T) {
	file := string(pdf(t, everything(), Look{}))
	if strings.Count(file, "/Type /Catalog") != 2 || !strings.Contains(file,
		"/ViewerPreferences <</PrintScaling /None>>") {
		t.Error("no second catalog")
	}
	m := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindStringSubmatch(file)
	at, err := strconv.Atoi(m[1])
	if err != nil {
		t.Fatal(err)
	}
	x := regexp.MustCompile(`^xref\n(\d+) 1\n(\d{10}) 00000 n \n`).FindStringSubmatch(file[at:])
	if x == nil {
		t.Fatalf("no table at %d", at)
	}
	object, err := strconv.Atoi(x[2])
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(file[object:], x[1]+" 0 obj\n<<\n/Type /Catalog\n") {
		t.Errorf("no catalog at %d", object)
	}
	if _, err := atTrueSize("%PDF-1.3\n"); err == nil {
		t.Error("a file without a trailer was taken")
	}
}

func TestScale(t *testing.T) {
	for _, tc := range []struct{ w, h, want float64 }{
		{180, 200, 1},
		{180.1, 10, 2},
		{10, 401, 5},
		{900, 900, 5},
		{901, 900, 10},
		{1e6, 1, 1000},
	} {
		if got := scaleFor(sheet.Drawing{W: tc.w, H: tc.h}, 180, 200); got != int(tc.want) {
			t.Errorf("%g x %g: 1:%d, want 1:%g", tc.w, tc.h, got, tc.want)
		}
	}
}

func TestSVG(t *testing.T) {
	got, err := Bytes(everything(), Look{Format: SVG})
	if err != nil {
		t.Fatal(err)
	}
	want := `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20" ` +
		`fill="none" stroke-linejoin="round">
<title>Taper on the compound: Plan</title>
<desc>NO: the post meets the jaws</desc>
<polygon points="0,0 40,0 40,20" fill="rgb(217,217,217)"/>
<polyline points="0,10 40,10" stroke="black" stroke-width="0.25" stroke-dasharray="6 0.75 0.125 0.75"/>
<circle cx="20" cy="10" r="5.25" stroke="black" stroke-width="0.5"/>
<text x="20" y="18" font-family="DejaVu Sans Condensed, sans-serif" font-size="4.801" text-anchor="middle" ` +
		`fill="black">⌀10.5 &amp; &lt;A&gt;</text>
</svg>
`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	_, err = Bytes(long(1, false), Look{Format: SVG})
	if want := "format: svg: this sheet has no drawing: write table, "; err == nil ||
		!strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error()[len(want):], "svg") {
		t.Errorf("got %v, want %s", err, want)
	}
}
