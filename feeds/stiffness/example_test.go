package stiffness_test

import (
	"fmt"

	"setover/feeds/stiffness"
	"setover/setup/base/units"
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
