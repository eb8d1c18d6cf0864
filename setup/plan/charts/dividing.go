package charts

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/divide"
)

// mostDivisions is where the dividing chart ends.
const mostDivisions = 100

// division is a number of divisions with its angle.
type division struct {
	N     int    `json:"divisions" show:"divide"`
	Angle string `json:"dms" show:"angle"`
}

// counted is a division as it is counted on a head. Off is nil where it is
// exact.
type counted struct {
	division
	Turns  int          `json:"turns" show:"turns"`
	Spaces int          `json:"spaces" show:"spaces"`
	Circle int          `json:"circle" show:"of"`
	Plate  *int         `json:"plate" show:"plate"`
	Off    *units.Angle `json:"error_deg" show:"is off" as:"4 signed"`
}

// dividing lists the divisions of the circle: each angle, and how it is
// counted on the shop's head.
func dividing(in Input) (Chart, error) {
	c := Chart{title: "Dividing the circle"}
	ask := divide.Input{}
	if in.Shop != nil {
		ask.Head = in.Shop.DividingHead
	}
	var plain []division
	var list []counted
	for n := 2; n <= mostDivisions; n++ {
		ask.N = n
		r, err := divide.Divide(ask)
		if err != nil {
			return c, err
		}
		d := division{n, r.PerDivision.DMS(true)}
		plain = append(plain, d)
		if ask.Head != nil {
			x := counted{d, *r.Turns, *r.Spaces, *r.Circle, r.Plate, nil}
			if !*r.Exact {
				x.Off = r.Error
			}
			list = append(list, x)
		}
	}
	if ask.Head == nil {
		c.Tables = []Table{{"2 to 100 divisions", plain}}
		return c, nil
	}
	c.Tables = []Table{{say.Of("2 to 100 divisions, ", ask.Head.Ratio, ":1 head"), list}}
	c.notes = []say.Text{
		"Where a division is off, no circle of this head serves: setover divide looks for a train of change wheels.",
		"The sector arms stand over the spaces and one hole more.",
	}
	return c, nil
}
