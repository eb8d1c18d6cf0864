package feeds_test

import (
	"fmt"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

func ExampleChoose() {
	lathe := shop.Drive{
		Machine: shop.OnLathe,
		Spindle: &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(200), units.RPM(330), units.RPM(540)}},
	}
	r, err := feeds.Choose(feeds.Input{
		Operation: feeds.Turn, Material: "mild-steel", Diameter: units.MustLength("1in"), Drive: lathe,
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("ideal %.0f rpm, run at %s, feed %s\n", r.IdealRPM.RPM(), say.Of(r.RPM), say.Of(r.Feed))
	// Output: ideal 382 rpm, run at 330 rpm, feed 0.127 mm/rev
}
