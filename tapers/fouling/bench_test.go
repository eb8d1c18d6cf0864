package fouling_test

import (
	"testing"

	"setover/tapers/fouling"
)

// BenchmarkBrief asks as a plan does that is refused: a taper close to the jaws that
// the post fouls, and one by a centre.
func BenchmarkBrief(b *testing.B) {
	jaws, centre := shed("20mm", "40mm", "50mm", "3mm"), shed("30mm", "20mm", "60mm", "3mm")
	centre.CentreAt = length("66mm")
	collar := shed("30mm", "24mm", "30mm", "12mm")
	collar.Work = profile(0, 60, 12, 60, 12, 30, 42, 24, 80, 24)
	collar.PostSide = fouling.TailstockSide
	for b.Loop() {
		for _, in := range []fouling.Input{jaws, centre, collar} {
			in.Brief = true
			c, err := fouling.Check(in)
			if err != nil || len(c.Fouls) == 0 {
				b.Fatal(err, c.Fouls)
			}
		}
	}
}
