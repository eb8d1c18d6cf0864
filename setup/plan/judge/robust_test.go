package judge_test

import (
	"encoding/json"
	"testing"

	"setover/setup/plan/judge"
)

// places calls do with every object and list of a plan, once for each of what
// stands in it, and with how to put something else there.
func places(v any, do func(put func(any))) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			do(func(y any) { v[k] = y })
			v[k] = x
			places(x, do)
		}
	case []any:
		for i, x := range v {
			do(func(y any) { v[i] = y })
			v[i] = x
			places(x, do)
		}
	}
}

// Whatever stands in a plan, the validator answers.
func TestAnswersAlways(t *testing.T) {
	part, shop := file(t, "testdata/pin.yaml"), file(t, "testdata/bench.yaml")
	p := written(t, "pin")
	places(p, func(put func(any)) {
		for _, odd := range []any{nil, -1e9, []any{}} {
			put(odd)
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			judge.Judge(0, text, part, shop)
		}
	})
	if faults := judged(t, "pin", 0, p); len(faults) > 0 {
		t.Fatal("it is not as it was: ", faults)
	}
}
