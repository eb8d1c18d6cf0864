package shop_test

import (
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// Every machine has its word, the name people call it and its key.
func TestMachines(t *testing.T) {
	for i, tc := range []struct{ word, name, key string }{
		{"saw", "saw", ""},
		{"lathe", "lathe", "lathe"},
		{"mill", "mill", "mill"},
		{"drill-press", "drill press", "drill_press"},
		{"belt-grinder", "belt grinder", "belt_grinder"},
		{"bench", "bench", ""},
	} {
		m := shop.Machines()[i]
		if string(m) != tc.word || m.Name() != tc.name || m.Key() != tc.key || string(say.Of("the ", m)) != "the "+tc.name {
			t.Errorf("%s: %s, %s, %s", m, m.Name(), m.Key(), say.Of("the ", m))
		}
	}
	if n := len(shop.Machines()); n != 6 {
		t.Errorf("%d machines", n)
	}
}

// The first machine that is owned drives; where none is, its name is all there
// is.
func TestDrive(t *testing.T) {
	at := func(rpm float64) *shop.Spindle { return &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(rpm)}} }
	rated, motor := units.RPM(3000), units.Watts(550)
	all := shop.Shop{
		Lathe: &shop.Lathe{Spindle: at(1), Motor: &motor, Chuck: &shop.Chuck{MaxRPM: &rated}},
		Mill:  &shop.Mill{Spindle: at(2), Motor: &motor}, DrillPress: &shop.DrillPress{Spindle: at(3), Motor: &motor},
		BeltGrinder: &shop.BeltGrinder{RPM: units.RPM(4)},
	}
	for i, m := range []shop.Machine{shop.OnLathe, shop.OnMill, shop.OnDrillPress, shop.OnBeltGrinder} {
		d := all.Drive(m)
		motored, chucked := m != shop.OnBeltGrinder, m == shop.OnLathe
		if d.Machine != m || d.Spindle.Lowest().RPM() != float64(i+1) ||
			(d.Motor != nil) != motored || (d.Chuck != nil) != chucked {
			t.Errorf("%s: %+v", m, d)
		}
		if d := (shop.Shop{}).Drive(m, shop.OnSaw); d != (shop.Drive{Machine: m}) {
			t.Errorf("%s in an empty shop: %+v", m, d)
		}
	}
	if d := (shop.Shop{Mill: all.Mill}).Drive(shop.OnDrillPress, shop.OnMill, shop.OnLathe); d.Machine != shop.OnMill {
		t.Errorf("drilled on the %s", d.Machine)
	}
	if d := all.Drive(shop.OnSaw); d != (shop.Drive{Machine: shop.OnSaw}) {
		t.Errorf("saw: %+v", d)
	}
	if d := all.Drive(); d != (shop.Drive{}) {
		t.Errorf("no machine: %+v", d)
	}
}
