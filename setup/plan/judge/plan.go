package judge

import "slices"

// plan is the JSON of a plan.
type plan struct {
	Blank      blank
	SetUps     []setUp `json:"set_ups"`
	Operations []operation
	Predicted  []predicted
	Totals     totals
	Refused    []refused
}

type blank struct {
	Shape   string
	Dia     *float64 `json:"diameter_mm"`
	Across  *float64 `json:"across_flats_mm"`
	Bore    *float64 `json:"bore_mm"`
	From    float64  `json:"from_mm"`
	To      float64  `json:"to_mm"`
	Length  float64  `json:"length_mm"`
	Pieces  int
	BarMM   float64 `json:"bar_mm"`
	Because string

	X *float64 `json:"x_mm"` // a block
	Y *float64 `json:"y_mm"`
	Z *float64 `json:"z_mm"`
}

type setUp struct {
	N          int
	Machine    string
	Device     string
	Out        *string
	Grip       *grip
	JawFace    *float64 `json:"jaw_face_mm"`
	StickOut   *float64 `json:"stick_out_mm"`
	Through    *through
	Support    *support
	Roll       *float64 `json:"roll_deg"`
	State      state
	NotChecked []string `json:"not_checked"`
	Operations []any
}

type grip struct {
	From   float64 `json:"from_mm"`
	To     float64 `json:"to_mm"`
	Dia    float64 `json:"dia_mm"`
	Shape  any
	Stage  string
	Inside bool
	Over   *string
}

type through struct {
	Length float64 `json:"length_mm"`
	Dia    float64 `json:"dia_mm"`
}

type support struct {
	Kind string
	Z    *float64 `json:"at_mm"`
	Dia  *float64 `json:"dia_mm"`
}

type state struct {
	Compound    *float64 `json:"compound_deg"`
	Method      string
	Arrangement map[string]any
	Offset      *float64  `json:"tailstock_offset_mm"`
	Tilt        *float64  `json:"tilt_deg"`
	Shim        *float64  `json:"shim_mm"`
	Blocks      []float64 `json:"blocks_mm"`
	Top         *float64  `json:"top_height_mm"`
	Centre      *float64  `json:"centre_height_mm"`

	Up    string   // a block
	Fixed string   `json:"fixed_jaw"`
	TiltX *float64 `json:"tilt_x_deg"`
	TiltY *float64 `json:"tilt_y_deg"`
}

type operation struct {
	N        int
	ID       string
	Kind     string
	Name     string
	SetUp    int `json:"set_up"`
	Tool     tool
	Makes    []string
	Removes  []removal
	Allowed  []any
	Settings []setting
	Dials    []dial
	Steps    []string
	Checks   []check
	Spring   *float64 `json:"spring_mm"`
	Time     float64  `json:"time_min"`
}

type tool struct {
	Name  string
	Hand  *string
	Trail *float64 `json:"trail_deg"`
}

// removal is what a step takes away, of any shape.
type removal struct {
	Shape   string
	Profile [][]float64
	End     string
	Z       float64 `json:"z_mm"`
	From    string
	Start   float64  `json:"start_mm"`
	Dia     float64  `json:"dia_mm"`
	EndDia  *float64 `json:"end_dia_mm"`
	Depth   *float64 `json:"depth_mm"`
	Point   *float64 `json:"point_deg"`
	Pilot   float64  `json:"pilot_mm"`
	Roll    float64  `json:"roll_deg"`
	Offset  float64  `json:"offset_mm"`
	FromZ   float64  `json:"from_mm"`
	ToZ     float64  `json:"to_mm"`
	Sides   int
	First   float64 `json:"first_roll_deg"`
	AcrossA float64 `json:"across_from_mm"`
	AcrossB float64 `json:"across_to_mm"`
	RunOut  float64 `json:"run_out_mm"`
	Spec    string
	Inside  bool
	Toward  string  `json:"cut_toward"`
	Width   float64 `json:"width_mm"`

	Size   []float64 // a block
	Face   string
	FromX  float64 `json:"from_x_mm"`
	ToX    float64 `json:"to_x_mm"`
	AlongX float64 `json:"along_x_deg"`
	AlongY float64 `json:"along_y_deg"`
	X      float64 `json:"x_mm"`
	Y      float64 `json:"y_mm"`
	Length float64 `json:"length_mm"`
	Angle  float64 `json:"angle_deg"`
}

type setting struct {
	Name  string
	Value any
	Unit  string
	Say   string
}

type dial struct {
	What      string
	Slide     string
	Exact     float64  `json:"exact_mm"`
	Set       *float64 `json:"set_mm"`
	Turns     float64
	Divisions float64
	From      any
}

type check struct {
	Code string
	OK   bool `json:"ok"`
}

type predicted struct {
	ID      string
	Kind    string
	Feature string
	From    *float64 `json:"from_mm"`
	To      *float64 `json:"to_mm"`
	Drawn   float64  `json:"drawn_mm"`
	Low     *float64 `json:"low_mm"`
	High    *float64 `json:"high_mm"`
	Out     float64  `json:"out_mm"`
	Error   float64  `json:"error_mm"`
	Told    float64  `json:"told_mm"`
	OK      bool     `json:"ok"`

	DrawnDeg *float64 `json:"drawn_deg"`
	LowDeg   *float64 `json:"low_deg"`
	HighDeg  *float64 `json:"high_deg"`
	OutDeg   *float64 `json:"out_deg"`
	ErrorDeg *float64 `json:"error_deg"`
}

type totals struct {
	SetUps      int     `json:"set_ups"`
	Regrips     int     `json:"regrips"`
	ToolChanges int     `json:"tool_changes"`
	Time        float64 `json:"time_min"`
	Batch       float64 `json:"batch_min"`
	OutOfLimit  int     `json:"out_of_limit"`
}

type refused struct {
	Code     string
	Key      string
	Reason   string
	Remedies []struct{ Say string }
}

// value returns a setting's number by its name.
func (o operation) value(names ...string) (float64, bool) {
	for _, name := range names {
		for _, s := range o.Settings {
			if s.Name == name {
				if v, ok := s.Value.(float64); ok {
					return v, true
				}
			}
		}
	}
	return 0, false
}

// says reports whether a setting is a word.
func (o operation) says(name, word string) bool {
	return slices.ContainsFunc(o.Settings, func(s setting) bool { return s.Name == name && s.Value == word })
}

// sides returns the number of sides of a polygon that is held, 0 for a round.
func (g grip) sides() int {
	if v, ok := number(g.Shape); ok {
		return int(v)
	}
	return 0
}

// out is the end that stands out, or "".
func (s setUp) out() string {
	if s.Out == nil {
		return ""
	}
	return *s.Out
}

// way is +1 where the tailstock is to the drawing's right, -1 to its left.
func (s setUp) way() float64 {
	if s.out() == "left" {
		return -1
	}
	return 1
}

func (s setUp) supportKind() string {
	if s.Support == nil {
		return "none"
	}
	return s.Support.Kind
}

func (s setUp) over() string {
	if s.Grip == nil || s.Grip.Over == nil {
		return ""
	}
	return *s.Grip.Over
}
