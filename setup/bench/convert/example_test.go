package convert_test

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/bench/convert"
)

func ExampleConvert() {
	value, err := convert.Parse("7.1mm", units.MM)
	if err != nil {
		panic(err)
	}
	r, err := convert.Convert(convert.Input{Value: value})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.4f in, %s %v mm over, drill %s\n", *r.Inches, *r.Fraction, r.Over.Decimal(), *r.Drill)
	// Output: 0.2795 in, 9/32 in -0.04375 mm over, drill 7.1 mm
}
