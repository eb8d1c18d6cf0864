// Package cut sets a lathe up to cut a thread with a single-point tool: the
// change gears, the marks of the thread dial, the passes, and how far a
// screwed-on part is faced so that it stops where it should.
//
// One turn of the spindle carries the tool on by the lead. With a leadscrew of
// the pitch L, geared by a train of the ratio i from the stud, and s turns of
// the spindle to one of the stud, it is
//
//	P = L·i/s
//
// All of that is exact: pitches and ratios are rational numbers.
package cut

import (
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/threads"
)

// Thread is what is to be cut, as far as its lead goes. A bare pitch has one
// start and no designation, and is right-hand.
type Thread struct {
	Designation string      `json:"thread"` // as understood: "M8", or "1.25 mm"
	Pitch       units.Pitch `json:"pitch_mm"`
	Lead        units.Pitch `json:"lead_mm"`
	Left        bool        `json:"left_hand"`

	taper bool // on a cone
}

// ParseThread reads a designation ("M8x1", "1/4-20", "Tr40x14P7") or a pitch
// with its unit ("1.25mm", "20tpi"). It fails on anything else, and says what
// is wrong with what it looks most like.
func ParseThread(text string) (Thread, error) {
	p, pitchErr := units.ParsePitch(text)
	if pitchErr == nil {
		return bare(p), nil
	}
	d, err := threads.Parse(text)
	if err == nil {
		return Of(d), nil
	}
	if t := strings.TrimSpace(text); t != "" && strings.Contains("0123456789.", t[:1]) && !strings.Contains(t, "-") {
		p := pitchErr.(problem.Problem)
		p.Want += "; a thread is written such as M8x1 or 1/4-20"
		return Thread{}, p
	}
	return Thread{}, err
}

// bare returns the thread of a bare pitch.
func bare(p units.Pitch) Thread { return Thread{Designation: p.String(), Pitch: p, Lead: p} }

// Of returns the thread of a designation.
func Of(d threads.Designation) Thread {
	return Thread{d.String(), d.Pitch, d.Lead(), d.Left, d.Form.Tapered()}
}

// several reports whether the thread has several starts.
func (t Thread) several() bool { return t.Lead.Cmp(t.Pitch) != 0 }

// hand names a thread's hand.
func hand(left bool) sheet.Text {
	if left {
		return "left-hand"
	}
	return "right-hand"
}

// needScrew returns the leadscrew's pitch, or what to say when there is none.
func needScrew(p *units.Pitch) (units.Pitch, error) {
	if p == nil {
		return units.Pitch{}, problem.New(problem.NotAvailable, "leadscrew", nil, "the leadscrew's pitch is needed: write ",
			say.Key("leadscrew"), ", such as 3mm or 8tpi, or lathe: leadscrew in the shop file")
	}
	return *p, nil
}
