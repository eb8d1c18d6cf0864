package plan

import (
	"reflect"
	"testing"

	"setover/feeds"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// Whatever is asked of a cut makes another question of it, or none that is asked once: no
// answer stands for a cut that is not the same. What the job says of every cut is left out.
func TestQuestions(t *testing.T) {
	o := &op.Op{Setup: op.Setup{Machine: op.Lathe}}
	plain, ok := questioned(o, cutting(feeds.Turn, units.Millimetres(20)))
	if !ok {
		t.Fatal("a plain cut is no question")
	}
	ofJob := map[string]bool{"Material": true, "Tool": true, "Drive": true}
	fields := reflect.TypeFor[feeds.Input]()
	for i := range fields.NumField() {
		name := fields.Field(i).Name
		if ofJob[name] {
			continue
		}
		in := cutting(feeds.Turn, units.Millimetres(20))
		v := reflect.ValueOf(&in).Elem().Field(i)
		switch x := v.Addr().Interface().(type) {
		case *feeds.Operation:
			*x = feeds.Drill
		case *units.Length:
			*x = units.Millimetres(21)
		case *bool:
			*x = true
		default:
			if v.Kind() == reflect.Slice {
				v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			} else {
				v.Set(reflect.New(v.Type().Elem()))
			}
		}
		if q, ok := questioned(o, in); ok && q == plain {
			t.Errorf("%s makes no other question", name)
		}
	}
	third := units.FromFloat(20.0 / 3)
	if _, ok := questioned(o, cutting(feeds.Turn, third)); ok {
		t.Error("20/3 mm is told from what is near it")
	}
	o.Setup.Machine = op.MillMachine
	if q, _ := questioned(o, cutting(feeds.Turn, units.Millimetres(20))); q == plain {
		t.Error("the mill makes no other question")
	}
}
