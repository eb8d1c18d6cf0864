package plan

import (
	"slices"
	"strings"

	"setover/setup/base/say"
)

// unsaid says what is not checked where the shop's file lacks a key: of the key or
// of the end of its path.
var unsaid = map[string]say.Text{
	"swing_over_slide": "the diameter over the slide",
	"between_centres":  "the length between centres",
	"spindle_bore":     "what goes through the spindle",
	"chuck":            "what the chuck holds",
	"through":          "what goes through the chuck",
	"range":            "whether the chuck holds this size",
	"jaw_length":       "how far the jaws reach",
	"jaw_circle":       "what the jaws meet",
	"collets":          "which collets are on hand",
	"centre_nose":      "whether the centre fits the mouth of the bore",
	"tool_post":        "what holder and tool post meet",
	"compound":         "what the compound's slide meets",
	"handle":           "what the compound's handle meets",
	"tools":            "how the tools are ground",
	"reach":            "whether the blade reaches the middle",
	"opening":          "whether the bar lies within the V's opening",
	"relief":           "whether the bar lies above the V's relief",
	"apex":             "how high the V's apex is above its base",
	"v_blocks":         "how the bar lies in the V-blocks",
	"vice":             "how far the vice opens",
}

// unchecked says what the plan did not check, each once with its key:
// "what goes through the chuck (lathe: chuck: through)".
func (r Result) unchecked() []say.Text {
	var list []say.Text
	for _, s := range r.Setups {
		for _, path := range s.NotChecked {
			keys := strings.Split(path, ".")
			said := say.Of(unsaid[keys[len(keys)-1]], " (", say.Plain(strings.Join(keys, ": ")), ")")
			if !slices.Contains(list, said) {
				list = append(list, said)
			}
		}
	}
	return list
}
