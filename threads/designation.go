package threads

import (
	"math/big"
	"strings"

	"setover/setup/base/units"
)

// Designation is a thread as it is called. Size is the part that names the
// diameter: "M8", "1/4", "No8", "2BA", "G1/4", "Tr12". Series is coarse or
// fine, UNC, UNF, UNEF, UN or UNS, BSW or BSF, or the form's own mark. Class
// is as written and empty when none was. The zero Designation is no thread.
type Designation struct {
	Form   *Form
	Size   string
	Major  units.Length
	Pitch  units.Pitch
	Starts int
	Series string
	Class  string
	Left   bool
	gauge  units.Length
	source string
}

// Lead returns how far one turn carries: the pitch times the starts.
func (d Designation) Lead() units.Pitch { return d.Pitch.Times(int64(d.Starts)) }

// String returns the designation in its one written form, which Parse reads
// back unchanged: "M8", "M8x1-6g", "1/4-20UNC-2A", "No8-32UNC", "3/8BSF",
// "2BA", "G1/4A", "R1/2", "1/4NPT", "Tr40x14P7", "1/2-10ACME-2G", each with
// "-LH" behind it when left-hand.
func (d Designation) String() string {
	f := d.Form
	if f == nil {
		return ""
	}
	text := f.Written
	switch {
	case f.Usual != "" && d.Series == f.Usual:
		text = "{size}"
	case d.Starts > 1:
		text = f.Several
	}
	text = strings.NewReplacer("{size}", d.Size, "{pitch}", d.Pitch.Number(), "{lead}", d.Lead().Number(),
		"{series}", d.Series).Replace(text)
	if d.Class != "" && !f.Joined {
		text += "-"
	}
	text += d.Class
	if d.Left {
		text += "-LH"
	}
	return text
}

// TPI returns the threads per inch of an inch thread, or nil.
func (d Designation) TPI() *units.Number {
	if !d.Pitch.IsInch() {
		return nil
	}
	f, _ := new(big.Rat).Set(d.Pitch.TPI()).Float64()
	n := units.Number(f)
	return &n
}

// MarshalText returns the same text as String.
func (d Designation) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText is Parse.
func (d *Designation) UnmarshalText(text []byte) (err error) {
	*d, err = Parse(string(text))
	return err
}
