package holes

import (
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// OnDial is a position set on a dial from the datum. The fields are nil without
// a dial; the error is set minus exact.
type OnDial struct {
	Turns     *int64        `json:"turns" show:"turns"`
	Divisions *int64        `json:"divisions" show:"div"`
	Error     *units.Length `json:"dial_error_mm" show:"dial is off" as:"fine"`
}

// OnX is a position on the dial of a table's x slide.
type OnX struct {
	Turns     *int64        `json:"x_turns" show:"x turns"`
	Divisions *int64        `json:"x_divisions" show:"x div"`
	Error     *units.Length `json:"x_dial_error_mm" show:"x is off" as:"fine"`
}

// OnY is a position on the dial of a table's y slide.
type OnY struct {
	Turns     *int64        `json:"y_turns" show:"y turns"`
	Divisions *int64        `json:"y_divisions" show:"y div"`
	Error     *units.Length `json:"y_dial_error_mm" show:"y is off" as:"fine"`
}

// setOn returns a position from the datum on d, which may be nil.
func setOn(d *shop.Dial, place units.Length) OnDial {
	if d == nil {
		return OnDial{}
	}
	s, t := d.Set(place)
	return OnDial{&t.Turns, &t.Divisions, &s.Lost}
}

// tellTable warns where there is no dial to set positions on.
func tellTable(r *sheet.Remarks, d *shop.Dial) {
	if d == nil {
		r.NotChecked("mill: table", "no mill table in this shop: positions are exact, no dial was set")
	}
}
