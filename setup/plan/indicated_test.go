package plan

import (
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// By hand: a cone that grows from 12 to 32 over 40 mm has 26 at 40·14/20 = 28
// from its small end.
func TestSeatOnAGrowingCone(t *testing.T) {
	project := &part.Project{Name: "Seat"}
	project.Fits = []part.Fit{{Seat: "collar", On: "body", Bore: new(units.MustLength("26mm"))}}
	_, s := demo(t)
	body := parse(t, "material: brass\nround:\n  profile: [[0, 12], [40, 32], [70, 32]]\n")
	collar := parse(t, "material: brass\nround:\n  profile: [[0, 40], [10, 40]]\n"+
		"  bores: [{from: left, dia: 26, through: true}]\n")
	project.Parts = []part.ProjectPart{{Key: "collar", Part: collar}, {Key: "body", Part: body}}
	r, err := MakeProject(ProjectInput{Project: project, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Fits[0].SeatAt.Fixed(units.MM, 3, units.Nearest); got != "28.000" {
		t.Errorf("the collar stops at z %s, by hand 28", got)
	}
}

// Without a compound's scale a taper is set by indicator, to its half angle: by
// hand atan((20 - 10)/(2·20)) = 14.036 deg. Over 20 mm of the slide it shows 20·sin 14.036 =
// 4.8507, read as 4.85: what is set is asin(4.85/20) = 14.034 deg, in the title too.
func TestHalfAngleByIndicator(t *testing.T) {
	_, s := demo(t)
	s.Lathe.Compound = nil
	p := parse(t, "material: brass\nround:\n  profile: [[0, 20], [40, 20], [60, 10]]\n")
	r, err := Make(Input{Part: p, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range r.Operations {
		if text := card(o); strings.Contains(text, "half angle by indicator") {
			set := strings.Contains(text, "= 14.034 deg half angle by indicator")
			if !set || !strings.Contains(text, "by 14.036 deg") || !strings.Contains(text, "a half angle of 14.034 deg") {
				t.Errorf("14.034 deg is set by hand for 14.036:\n%s", text)
			}
			return
		}
	}
	t.Error("no taper is set by indicator")
}
