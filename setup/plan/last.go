package plan

import (
	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// last makes what is done when the part has its shape: the stub or the part
// cut off, then the processes.
func last(t *task) work {
	var w work
	c := t.chuckings[len(t.chuckings)-1]
	part := func(id string, name say.Text, end part.End) *op.Op {
		return w.add(&op.Op{
			ID: id, Kind: op.PartOff, Name: name, Setup: c.setup.Plain(), Held: c.held, Tool: "parting blade",
			Cuts: t.shape.FromEnd(end, units.Length{}),
		})
	}
	if t.stub {
		part("stub-off", "cut the centre stub off and face the end", c.out)
	}
	if t.grip == offBar {
		o := part("part-off", "part it off to length", other(c.out))
		o.Set("to length", t.shape.Length, "from the face")
		w.needs(o.Tool, "to cut the part off", t.Shop.PartingBlade != nil)
		in := cutting(feeds.PartOff, t.turned(other(c.out)))
		in.Blade = t.Shop.PartingBlade
		t.cut(o, 1, in)
	}
	w = together(w, processes(t.job, t.shape.Whole()))
	w.predict("length", t.shape.Length, t.shape.Length, "faced to size by measuring")
	return w
}

// processKinds says what kind of operation a process of the part file is.
var processKinds = map[string]op.Kind{
	"harden": op.Harden, "temper": op.Harden, "etch": op.Etch, "glue": op.Glue, "polish": op.Polish, "mark": op.Mark,
}

// processes makes what is done to the whole part when it has its shape.
func processes(j *job, whole op.Span) work {
	var w work
	for i, p := range j.Part.Processes {
		o := op.Op{
			ID: p.Name, Kind: processKinds[p.Name], Name: say.Plain(p.Name), Tool: say.Plain(p.Name), Cuts: whole,
			Feature: op.Feature{Kind: op.Wait, N: i + 1}, Setup: op.Setup{Machine: op.Bench, Device: op.Hand},
		}
		w.add(&o)
		if p.Name == "glue" {
			wait := o
			wait.ID, wait.Kind, wait.Name, wait.Tool = "cure", op.Wait, "wait for the glue to cure", "nothing"
			wait.Set("time", say.Text("as the glue's maker says"), "no heat, no cutting and no clamping marks before then")
			w.add(&wait)
		}
	}
	return w
}
