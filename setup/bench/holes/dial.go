package holes

import (
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// OnDial is a position set on a dial from the datum. The fields are nil without
// a dial; the error is set minus exact.
type OnDial struct {
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	Error     *units.Length `json:"dial_error_mm"`
}

// setOn returns a position from the datum on d, which may be nil.
func setOn(d *shop.Dial, at units.Length) OnDial {
	if d == nil {
		return OnDial{}
	}
	s, t := d.Set(at)
	return OnDial{&t.Turns, &t.Divisions, &s.Lost}
}

// whole returns a count of turns or divisions as a value, nil for none.
func whole(n *int64) sheet.Value {
	if n == nil {
		return nil
	}
	return sheet.Count(int(*n))
}
