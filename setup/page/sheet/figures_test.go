package sheet_test

import (
	"encoding/json"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// inner is a part of a result that stands inside it.
type inner struct {
	Reach *units.Length `json:"reach_mm" show:"reach" as:"down" note:"what there is"`
}

// spot is a row of a table.
type spot struct {
	N     int          `json:"n" show:"hole"`
	Z     units.Length `json:"at_mm" show:"from the datum"`
	Turns *int64       `json:"turns" show:"turns"`
	Drill string       `json:"-" key:"drill" show:"drill"`
	Quiet int          `json:"quiet"`
}

// outcome is a result with a field of every kind.
type outcome struct {
	Blank   units.Length       `json:"blank_mm" show:"blank" as:"up"`
	Off     units.Length       `json:"off_mm" show:"off" as:"fine"`
	Half    units.Angle        `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Lost    units.Angle        `json:"lost_deg" show:"lost" as:"4 signed"`
	Bites   int                `json:"bites" show:"bites"`
	Full    units.Number       `json:"percent" show:"thread" as:"1 %"`
	Plain   units.Number       `json:"plain" show:"plain"`
	Speed   units.SurfaceSpeed `json:"speed_m_min" show:"speed"`
	Run     units.SpindleSpeed `json:"rpm" show:"run at" as:"0 down"`
	Motor   units.Power        `json:"power_w" show:"motor" as:"0/2 up"`
	Pitch   units.Pitch        `json:"pitch_mm" show:"pitch"`
	Cut     units.Pitch        `json:"cut_mm" show:"cut" as:"6"`
	Fits    bool               `json:"fits" show:"fits"`
	Toward  string             `json:"toward" show:"toward"`
	Wheels  []int              `json:"wheels" show:"wheels"`
	Missing *units.Length      `json:"missing_mm" show:"missing"`
	Hidden  int                `json:"hidden"`
	inner
	Inner2 inner  `json:"inner"`
	Spots  []spot `json:"spots"`
	sheet.Remarks
}

func made() *outcome {
	mm := units.MustLength
	reach, turns := mm("40.0009mm"), int64(3)
	return &outcome{
		Blank: mm("36.0001mm"), Off: mm("0.0125mm"), Half: units.MustAngle("6d15m"), Lost: units.Degrees(0.25), Bites: 2,
		Full: 75.04, Plain: 1.5, Speed: units.MetresPerMinute(30.48),
		Run: units.RPM(242.55), Motor: units.Watts(74.57), Toward: "tailstock", Wheels: []int{20, 65},
		Pitch: units.MustPitch("20tpi"), Cut: units.MustPitch("12.7tpi"),
		inner: inner{&reach},
		Spots: []spot{{1, mm("12mm"), &turns, "No7", 9}, {2, mm("25.4mm"), nil, "E", 9}},
	}
}

// worded returns facts as people see them, one a line.
func worded(facts []sheet.Fact, u units.Unit) string {
	var lines []string
	for _, f := range facts {
		lines = append(lines, strings.Join([]string{f.Key, f.Label.String(), say.Of(f.Value).In(u), f.Remark.In(u)}, " | "))
	}
	return strings.Join(lines, "\n")
}

// Every field with a name is a fact, in the order it is declared, in the unit
// of the page; a figure that does not exist has its key and no value.
func TestFigures(t *testing.T) {
	r := made()
	s := sheet.Of(r, "Set ", r.Blank)
	s.Remark(&r.Bites, "of ", r.Blank)
	s.Skip(&r.Plain)
	s.ShowAs(&r.Fits, "it goes in")
	s.Figures()
	for u, want := range map[units.Unit]string{
		units.MM: `fits | it goes in | no | 
blank_mm | blank | 36.001 mm | 
off_mm | off | +0.0125 mm | 
half_angle_deg | half angle | 6.25 deg (6°15') | 
lost_deg | lost | +0.25 deg | 
bites | bites | 2 | of 36 mm
percent | thread | 75 % | 
speed_m_min | speed | 30.48 m/min | 
rpm | run at | 242 rpm | 
power_w | motor | 75 W | 
pitch_mm | pitch | 1.27 mm | 
cut_mm | cut | 2 mm | 
toward | toward | tailstock | 
wheels | wheels | 20 65 | 
missing_mm | missing |  | 
reach_mm | reach | 40 mm | what there is`,
		units.Inch: `fits | it goes in | no | 
blank_mm | blank | 1.4174 in | 
off_mm | off | +0.00049 in | 
half_angle_deg | half angle | 6.25 deg (6°15') | 
lost_deg | lost | +0.25 deg | 
bites | bites | 2 | of 1.4173 in
percent | thread | 75 % | 
speed_m_min | speed | 100 ft/min | 
rpm | run at | 242 rpm | 
power_w | motor | 0.10 hp | 
pitch_mm | pitch | 0.05 in | 
cut_mm | cut | 2 mm | 
toward | toward | tailstock | 
wheels | wheels | 20 65 | 
missing_mm | missing |  | 
reach_mm | reach | 1.5748 in | what there is`,
	} {
		if got := worded(s.Facts, u); got != want {
			t.Errorf("got\n%s\nwant\n%s", got, want)
		}
	}
	behind := sheet.Of(r)
	behind.Behind(&r.Bites)
	behind.Figures()
	for _, f := range behind.Facts {
		if f.Behind != (f.Key == "bites") {
			t.Errorf("%s: behind the working: %v", f.Key, f.Behind)
		}
	}
	if got, want := say.Text(s.Title).In(units.Inch), "Set 1.4173 in"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
}

// The key of every fact and column is a key of the JSON, but for what is for
// people alone.
func TestKeysAreJSON(t *testing.T) {
	r := made()
	s := sheet.Of(r)
	s.Figures()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Facts {
		if !strings.Contains(string(text), `"`+f.Key+`":`) {
			t.Errorf("%s is no key of %s", f.Key, text)
		}
	}
}

// A list of structs is a table.
func TestTable(t *testing.T) {
	cells := func(row []sheet.Value) string {
		var words []string
		for _, v := range row {
			words = append(words, say.Of(v).In(units.MM))
		}
		return strings.Join(words, "|")
	}
	r := made()
	s := sheet.Of(r)
	table := s.Table(r.Spots, "Holes over ", r.Blank)
	if got := table.Cols; len(got) != 4 || got[1] != (sheet.Column{Key: "at_mm", Head: "from the datum"}) ||
		got[3].Key != "drill" {
		t.Errorf("columns %v", got)
	}
	if got := cells(table.Rows[0]) + "\n" + cells(table.Rows[1]); got != "1|12 mm|3|No7\n2|25.4 mm||E" {
		t.Errorf("rows\n%s", got)
	}
	table.Head("drill", "drill of ", r.Blank).Checked(map[string]sheet.Value{"at_mm": r.Blank.Up()})
	if table.Cols[3].Head == "drill" || cells(table.Check) != "|36.001 mm||" {
		t.Errorf("head %q, check %s", table.Cols[3].Head, cells(table.Check))
	}
	if table.CheckedRow(r.Spots[1], "n"); cells(table.Check) != "|25.4 mm||E" {
		t.Errorf("check row %s", cells(table.Check))
	}
	r.Spots[0].Turns = nil
	for i, c := range s.Table(r.Spots).WithoutEmpty().Cols {
		if c.Unseen != (i == 2) {
			t.Errorf("hidden where it is empty: %v", c)
		}
	}
	two := 2
	s.Step("h", "L*sin(a)/n + k", r.Blank, "L", &r.Blank, "a", units.Degrees(30), "n", &two, "k", 1.5)
	s.Step("n", "L", sheet.Num(3, 0, "turns"), "L", units.Number(3))
	if got := s.Working[0].Text() + "; " + s.Working[1].Text(); got !=
		"h = L*sin(a)/n + k = 36.0001*sin(30)/2 + 1.5 = 36.0001 mm; n = L = 3 = 3 turns" {
		t.Errorf("the working is %s", got)
	}
	s.Keyed("turns_exact", "that is", sheet.Text("3 and a half"), "of ", r.Blank)
	if f := s.Facts[0]; f.Key != "turns_exact" || f.Label != "that is" || say.Text(f.Remark).In(units.MM) != "of 36 mm" {
		t.Errorf("a fact with a key of its own: %v", f)
	}
	if len(s.Tables) != 2 {
		t.Errorf("%d tables", len(s.Tables))
	}
}

// What is no field of the result, no column of the table and no value for
// people is a defect.
func TestFiguresRefuse(t *testing.T) {
	r, other := made(), made()
	for name, do := range map[string]func(s *sheet.Sheet){
		"another's field": func(s *sheet.Sheet) { s.Show(&other.Blank) },
		"no column":       func(s *sheet.Sheet) { s.Table(r.Spots).Without("depth_mm") },
		"no value": func(s *sheet.Sheet) {
			s.Table([]struct {
				X struct{} `json:"x" show:"x"`
			}{{}})
		},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error(name, "was shown")
				}
			}()
			do(sheet.Of(r))
		}()
	}
}

// What there is to say of a result is kept once, with the reasons for a no.
func TestRemarks(t *testing.T) {
	r := made()
	r.NotChecked("lathe: compound: travel", "whether ", r.Blank, " is too long was not checked")
	want := "whether 36 mm is too long was not checked (lathe: compound: travel)"
	if got := say.Text(r.Warnings[0].Text).In(units.MM); r.Warnings[0].Code != "not-checked" || got != want {
		t.Errorf("%v", r.Warnings)
	}
	if len(r.Fails()) != 0 {
		t.Error("it says no")
	}
	r.No(nil)
	r.No(strings.NewReader("").UnreadByte())
	if len(r.Fails()) != 1 {
		t.Errorf("%v", r.Fails())
	}
	if s := sheet.Of(r); len(s.Warnings) != 1 {
		t.Error("the warning did not reach the sheet")
	}
}
