package stiffness_test

import (
	"fmt"

	"setover/feeds/stiffness"
	"setover/setup/base/units"
	"setover/setup/book/materials"
)

func ExampleOverhang() {
	dia, length, force := units.MustLength("12mm"), units.MustLength("60mm"), units.Number(100)
	r, err := stiffness.Overhang(stiffness.Input{
		Material: "mild-steel", Dia: &dia, Length: &length, Force: &force, Support: stiffness.Chuck,
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("gives way %.3f mm, %.0f diameters out, rule %.0f\n", r.Deflection.MM(), r.Ratio, r.RuleRatio)
	// Output: gives way 0.034 mm, 5 diameters out, rule 3
}

// A brass part of 30 mm stands 90 mm out of the jaws, its end turned to 12 and
// bored 6, with and without a centre in it.
func ExampleLayout() {
	outside := []stiffness.Point{{Z: 0, Dia: 30}, {Z: 60, Dia: 30}, {Z: 60, Dia: 12}, {Z: 90, Dia: 12}}
	bore := []stiffness.Point{{Z: 70, Dia: 6}, {Z: 90, Dia: 6}}
	brass, err := materials.Find("free-cutting-brass")
	if err != nil {
		panic(err)
	}
	_, force := stiffness.CuttingForce(brass, units.MustLength("0.2mm"), units.MillimetresPerRev(0.06))
	for _, supports := range [][]float64{nil, {90}} {
		b, err := stiffness.Layout{
			Modulus: brass.Modulus().Chosen, Sections: stiffness.Sections(0, 90, outside, bore), Supports: supports,
		}.Beam()
		if err != nil {
			panic(err)
		}
		z, give := b.Worst(60, 90)
		fmt.Printf("gives way most at %.1f, by %.4f mm\n", z, give*float64(force))
	}
	// Output:
	// gives way most at 90.0, by 0.0014 mm
	// gives way most at 66.4, by 0.0001 mm
}
