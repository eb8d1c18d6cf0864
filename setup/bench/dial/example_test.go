package dial_test

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/bench/dial"
	"setover/setup/maker/shop"
)

func ExampleNext() {
	measured, target, reading := units.MustLength("20.4mm"), units.MustLength("20mm"), units.Number(3.8)
	r, err := dial.Next(dial.Input{
		Measured: &measured, Target: &target, Reading: &reading, Slide: dial.Cross,
		Dial: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100, OnDiameter: true},
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("wind %d divisions %s, to %.2f\n", *r.Divisions, r.Direction, *r.NextReading)
	// Output: wind 10 divisions in, to 0.20
}
