package judge_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"setover/setup/plan/judge"
)

// A pin of 10 h8 between two grooves, 9.978 at the least, is left larger for the file; then 3 mm beyond it
// is finished by a cut that runs in over it. The dial has a line every 0.02 on the diameter and the
// micrometer reads to 0.005: of 10.004 so told 9.979 is left, and of 10.002 9.977.
func TestFileFindsEnough(t *testing.T) {
	body, err := os.ReadFile("testdata/parts/odd/file-run-over.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text, status, err := planned("pin", body, demos+"shed.yaml")
	if err != nil || status != 0 {
		t.Fatal(status, err)
	}
	part, shop := tree(t, body), file(t, demos+"shed.yaml")
	for _, c := range []struct {
		cut  float64
		want string
	}{
		{10.004, ""},
		{10.002, "start-size at 5: cut to 10.0020 at z 4.74, told to 0.0250, and step 7 files it to 9.9780 at the least"},
	} {
		var p card
		if err := json.Unmarshal(text, &p); err != nil {
			t.Fatal(err)
		}
		if p.op(5)["id"] != "turn-z37" || p.op(7)["id"] != "polish-z4.1" {
			t.Fatal(p.op(5)["id"], p.op(7)["id"])
		}
		each(p.op(5), "outside", func(r object) {
			for _, q := range r["profile"].([]any) {
				q.([]any)[1] = c.cut
			}
		})
		spoilt, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range judge.Judge(0, spoilt, part, shop) {
			if strings.HasPrefix(f.String(), "start-size at 5: cut to ") {
				got = f.String()
			}
		}
		if got != c.want {
			t.Errorf("cut to %v: %q, want %q", c.cut, got, c.want)
		}
	}
}
