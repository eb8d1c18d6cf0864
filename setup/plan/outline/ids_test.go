package outline_test

import (
	"strings"
	"testing"

	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// The ids of the demo's features, counted in its file. A thread's bore and the
// stretch under it are the numbered ones.
func TestIDs(t *testing.T) {
	p, _, err := files.Part("../../../testdata/plumb-bob.yaml")
	if err != nil {
		t.Fatal(err)
	}
	o := must(t, p.Round)
	var got []string
	for _, x := range o.Stretches {
		got = append(got, x.ID())
	}
	for _, x := range o.Shoulders {
		got = append(got, x.ID())
	}
	for _, x := range o.Facets {
		got = append(got, x.ID())
	}
	for _, x := range o.Bores {
		got = append(got, x.ID())
	}
	for _, x := range o.Threads {
		got = append(got, x.ID())
	}
	for _, x := range o.Holes {
		got = append(got, x.ID(), outline.RowID(x.Row))
	}
	want := "outside-1 outside-2 outside-3 outside-4 outside-5 shoulder-1 facets-1 bore-1 thread-1 thread-2 " +
		"hole-1  hole-2 row-1 hole-3 row-1 hole-4 row-1 hole-5 row-1 hole-6 row-1 hole-7 row-1"
	if s := strings.Join(got, " "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
	if in, on := o.Threads[0].In.ID(), o.Threads[1].On.ID(); in != "bore-1" || on != "outside-1" {
		t.Errorf("the threads are in %s and on %s", in, on)
	}
	if at := o.At(mm("20"))[0].ID(); at != "outside-3" {
		t.Errorf("z 20 is in %s", at)
	}
	slotted := must(t, &part.Round{
		Profile: points("0:10 60:10"), Slots: []part.Slot{{Z: mm("10"), Length: mm("4")}, {Z: mm("30"), Length: mm("4")}},
	})
	others := []string{
		slotted.Slots[1].ID(), outline.FaceID(part.Left), outline.FaceID(part.Right), outline.LengthID(2),
		outline.ChamferID(1), outline.HoleID(3), outline.SlotID(1), outline.SlopeID(2),
	}
	if s := strings.Join(others, " "); s != "slot-2 face-left face-right length-2 chamfer-1 hole-3 slot-1 slope-2" {
		t.Error(s)
	}
}
