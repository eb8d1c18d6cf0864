package files

import "testing"

func TestBuiltin(t *testing.T) {
	s := Builtin()
	t.Logf("%+v", s.Lathe.Compound)
	for _, b := range []bool{false, true} {
		p, w, err := ReadPart("x", []byte(NewPart(b)))
		if err != nil {
			t.Error(err)
		}
		t.Log(p, w)
	}
}
