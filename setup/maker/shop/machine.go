package shop

import "slices"

// Machine is where work is done: one of a shop's machines, or the bench.
type Machine string

// The machines, in the order work goes through a shop.
const (
	OnSaw         Machine = "saw"
	OnLathe       Machine = "lathe"
	OnMill        Machine = "mill"
	OnDrillPress  Machine = "drill-press"
	OnBeltGrinder Machine = "belt-grinder"
	OnBench       Machine = "bench"
)

// machines says what each is called, and by which key a shop file has it.
var machines = []struct {
	machine   Machine
	name, key string
}{
	{OnSaw, "saw", ""},
	{OnLathe, "lathe", "lathe"},
	{OnMill, "mill", "mill"},
	{OnDrillPress, "drill press", "drill_press"},
	{OnBeltGrinder, "belt grinder", "belt_grinder"},
	{OnBench, "bench", ""},
}

// Machines lists them.
func Machines() []Machine {
	list := make([]Machine, len(machines))
	for i, m := range machines {
		list[i] = m.machine
	}
	return list
}

// Name returns what people call the machine; a machine that is none of these
// has its own word for a name.
func (m Machine) Name() string {
	if i := slices.Index(Machines(), m); i >= 0 {
		return machines[i].name
	}
	return string(m)
}

// Key returns the shop file's key for the machine, "" where it has none.
func (m Machine) Key() string {
	if i := slices.Index(Machines(), m); i >= 0 {
		return machines[i].key
	}
	return ""
}

// HasReadout reports whether a machine of the shop has a digital readout.
func (s *Shop) HasReadout(m Machine) bool {
	switch m {
	case OnLathe:
		return s.Lathe != nil && s.Lathe.Readout
	case OnMill:
		return s.Mill != nil && s.Mill.Readout
	}
	return false
}

// FeedsByHand reports whether a machine of the shop that feeds at all has no power
// feed.
func (s *Shop) FeedsByHand(m Machine) bool {
	switch m {
	case OnLathe:
		return s.Lathe != nil && !s.Lathe.PowerFeed
	case OnMill:
		return s.Mill != nil && !s.Mill.PowerFeed
	case OnDrillPress:
		return s.DrillPress != nil && !s.DrillPress.PowerFeed
	}
	return false
}

// Words implements say.Quantity: in a sentence and in a cell it is the name.
func (m Machine) Words() (mm, inch string) { return m.Name(), m.Name() }
