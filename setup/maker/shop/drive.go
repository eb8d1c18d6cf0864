package shop

import "setover/setup/base/units"

// Drive is what turns the work or the tool: a machine's speeds, its motor and
// the speed its chuck is rated for. Each is nil when not known.
type Drive struct {
	Machine Machine
	Spindle *Spindle
	Motor   *units.Power
	Chuck   *units.SpindleSpeed
}

// Drive returns the drive of the first of the machines that the shop owns,
// else the first one's name alone. It is empty when no machine is named.
func (s Shop) Drive(machines ...Machine) Drive {
	for _, m := range machines {
		if d, ok := s.drive(m); ok {
			return d
		}
	}
	if len(machines) > 0 {
		return Drive{Machine: machines[0]}
	}
	return Drive{}
}

// drive returns a machine's drive; ok is false where the shop does not own it.
func (s Shop) drive(m Machine) (d Drive, ok bool) {
	d.Machine = m
	switch {
	case m == OnLathe && s.Lathe != nil:
		d.Spindle, d.Motor = s.Lathe.Spindle, s.Lathe.Motor
		if s.Lathe.Chuck != nil {
			d.Chuck = s.Lathe.Chuck.MaxRPM
		}
	case m == OnMill && s.Mill != nil:
		d.Spindle, d.Motor = s.Mill.Spindle, s.Mill.Motor
	case m == OnDrillPress && s.DrillPress != nil:
		d.Spindle, d.Motor = s.DrillPress.Spindle, s.DrillPress.Motor
	case m == OnBeltGrinder && s.BeltGrinder != nil:
		d.Spindle = &Spindle{Speeds: []units.SpindleSpeed{s.BeltGrinder.RPM}}
	default:
		return Drive{}, false
	}
	return d, true
}
