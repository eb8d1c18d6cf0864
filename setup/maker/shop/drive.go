package shop

import "setover/setup/base/units"

// The machines that turn something.
const (
	LatheMachine  = "lathe"
	MillMachine   = "mill"
	DrillMachine  = "drill-press"
	GrinderDriven = "belt-grinder"
)

// Drive is what turns the work or the tool: a machine's speeds, its motor and
// the speed its chuck is rated for. Each is nil when not known.
type Drive struct {
	Machine string
	Spindle *Spindle
	Motor   *units.Power
	Chuck   *units.SpindleSpeed
}

// Drive returns the drive of the first of the machines that the shop owns,
// else the first one's name alone. It is empty when no machine is named.
func (s Shop) Drive(machines ...string) Drive {
	for _, m := range machines {
		d := Drive{Machine: m}
		switch {
		case m == LatheMachine && s.Lathe != nil:
			d.Spindle, d.Motor = s.Lathe.Spindle, s.Lathe.Motor
			if s.Lathe.Chuck != nil {
				d.Chuck = s.Lathe.Chuck.MaxRPM
			}
		case m == MillMachine && s.Mill != nil:
			d.Spindle, d.Motor = s.Mill.Spindle, s.Mill.Motor
		case m == DrillMachine && s.DrillPress != nil:
			d.Spindle, d.Motor = s.DrillPress.Spindle, s.DrillPress.Motor
		case m == GrinderDriven && s.BeltGrinder != nil:
			d.Spindle = &Spindle{Speeds: []units.SpindleSpeed{s.BeltGrinder.RPM}}
		default:
			continue
		}
		return d
	}
	if len(machines) > 0 {
		return Drive{Machine: machines[0]}
	}
	return Drive{}
}
