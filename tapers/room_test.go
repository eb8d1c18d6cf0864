package tapers_test

import (
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// A lathe of 350 between centres that swings 180 over its bed and 110 over its
// slide: what is exactly as large goes in, what is larger by a hair does not.
func TestRoom(t *testing.T) {
	size := func(text string) *units.Length {
		if text == "" {
			return nil
		}
		l := units.MustLength(text)
		return &l
	}
	lathe := shop.Lathe{BetweenCentres: size("350"), SwingOverBed: size("180"), SwingOverSlide: size("110")}
	const slide, bed = "does not swing over the cross slide, which clears 110 mm",
		"does not swing over the bed, which clears 180 mm"
	for _, tc := range []struct {
		long, across string
		beside       bool
		want         string
	}{
		{"350", "110", false, ""},
		{"350.001", "110", false, "length: 350.001 mm: the lathe takes no more between its centres than 350 mm"},
		{"14in", "", false, "length: 355.6 mm: the lathe takes no more between its centres than 350 mm"},
		{"", "110.001", false, "large: 110.001 mm: " + slide},
		{"", "110.001", true, ""},
		{"", "180", true, ""},
		{"", "180.001", true, "large: 180.001 mm: " + bed},
		{"", "180.001", false, "large: 180.001 mm: " + bed}, // said once
		{
			"400", "200", false,
			"length: 400 mm: the lathe takes no more between its centres than 350 mm\nlarge: 200 mm: " + bed,
		},
	} {
		var r sheet.Remarks
		tapers.RoomOf(lathe).Take(&r, tapers.Stands{
			LongKey: "length", AcrossKey: "large", Long: size(tc.long), Across: size(tc.across), Beside: tc.beside,
		})
		if got := r.Fails().Error(); got != tc.want || len(r.Warnings) > 0 {
			t.Errorf("%s long, %s across: got %s %v, want %s", tc.long, tc.across, got, r.Warnings, tc.want)
		}
	}
}

// What the shop does not say was not checked, and only what was asked.
func TestNoRoomKnown(t *testing.T) {
	size := units.MustLength("100")
	for _, tc := range []struct {
		room  tapers.Room
		work  tapers.Stands
		wants string
	}{
		{
			tapers.Room{},
			tapers.Stands{Long: &size, Across: &size},
			"whether the lathe takes work of this size was not checked (lathe: between_centres, swing_over_bed, " +
				"swing_over_slide)",
		},
		{
			tapers.Room{OverBed: &size},
			tapers.Stands{Across: &size},
			"whether the lathe takes work of this size was not checked (lathe: swing_over_slide)",
		},
		{tapers.Room{OverBed: &size}, tapers.Stands{Across: &size, Beside: true}, ""},
		{tapers.Room{}, tapers.Stands{}, ""},
	} {
		var r sheet.Remarks
		tc.room.Take(&r, tc.work)
		got := ""
		for _, w := range r.Warnings {
			got += w.Text.String()
		}
		if got != tc.wants || len(r.Fails()) > 0 {
			t.Errorf("got %q %v, want %q", got, r.Fails(), tc.wants)
		}
	}
}
