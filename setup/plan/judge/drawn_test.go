package judge_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/plan/judge"
)

// families draw the parts of a small shop, each of one kind and sound.
var families = map[string]func(t *rapid.T, p *drawnPart){
	"steps": func(t *rapid.T, p *drawnPart) {
		p.steps(t, rapid.IntRange(1, 4).Draw(t, "steps"))
	},
	"taper": func(t *rapid.T, p *drawnPart) {
		p.steps(t, 2)
		p.taper(rapid.IntRange(2, 6).Draw(t, "drop"), rapid.IntRange(15, 45).Draw(t, "long"))
	},
	"bore": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(20, 34).Draw(t, "dia"), rapid.IntRange(12, 40).Draw(t, "long"))
		p.add("bores", "from: left, dia: %d, through: true", rapid.IntRange(6, 12).Draw(t, "bore"))
	},
	"blind": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(20, 34).Draw(t, "dia"), rapid.IntRange(30, 60).Draw(t, "long"))
		p.add("bores", "from: right, dia: %d, depth: %d",
			rapid.IntRange(6, 12).Draw(t, "bore"), rapid.IntRange(10, 20).Draw(t, "deep"))
	},
	"tapped": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(16, 30).Draw(t, "dia"), rapid.IntRange(25, 50).Draw(t, "long"))
		p.add("bores", "from: left, dia: 6.8, depth: %d", rapid.IntRange(18, 22).Draw(t, "deep"))
		p.add("threads", "from: left, spec: M8, depth: 12, inside: true")
	},
	"screw": func(t *rapid.T, p *drawnPart) {
		p.step(8, rapid.IntRange(20, 26).Draw(t, "neck"))
		p.step(rapid.IntRange(14, 26).Draw(t, "head"), rapid.IntRange(15, 30).Draw(t, "long"))
		p.add("threads", "from: left, spec: M8, length: %d", rapid.IntRange(10, 14).Draw(t, "thread"))
	},
	"cross": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(14, 30).Draw(t, "dia"), rapid.IntRange(50, 90).Draw(t, "long"))
		p.add("rows", "from: 20, dia: %d, count: 3, pitch: 9, rolls: [0, 90], crossing: ok",
			rapid.IntRange(2, 4).Draw(t, "hole"))
	},
	"slender": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(6, 12).Draw(t, "dia"), rapid.IntRange(60, 240).Draw(t, "long"))
	},
	"waist": func(t *rapid.T, p *drawnPart) {
		dia := rapid.IntRange(16, 28).Draw(t, "dia")
		p.step(dia, rapid.IntRange(10, 25).Draw(t, "head"))
		p.step(dia-rapid.IntRange(4, 8).Draw(t, "less"), rapid.IntRange(6, 30).Draw(t, "waist"))
		p.step(dia-rapid.IntRange(0, 3).Draw(t, "foot less"), rapid.IntRange(10, 30).Draw(t, "foot"))
	},
	"groove": func(t *rapid.T, p *drawnPart) { // for a rope, a belt, or with a sharp bottom
		dia := rapid.IntRange(24, 60).Draw(t, "dia")
		p.step(dia, rapid.IntRange(4, 12).Draw(t, "rim"))
		deep := rapid.IntRange(2, 6).Draw(t, "deep")
		p.taper(2*deep, rapid.IntRange(2, 14).Draw(t, "down"))
		if floor := rapid.IntRange(0, 6).Draw(t, "floor"); floor > 0 {
			p.taper(0, floor)
		}
		p.taper(-2*deep, rapid.IntRange(2, 14).Draw(t, "up"))
		p.taper(0, rapid.IntRange(4, 20).Draw(t, "other rim"))
	},
	"spool": func(t *rapid.T, p *drawnPart) { // two cones between flanges
		flange, root := rapid.IntRange(28, 44).Draw(t, "flange"), rapid.IntRange(18, 26).Draw(t, "root")
		drop := rapid.IntRange(2, 8).Draw(t, "drop")
		p.step(flange, rapid.IntRange(3, 8).Draw(t, "left"))
		p.profile, p.dia = append(p.profile, fmt.Sprintf("[%d, %d]", p.z, root)), root
		p.taper(drop, rapid.IntRange(8, 20).Draw(t, "down"))
		p.taper(-drop, rapid.IntRange(8, 20).Draw(t, "up"))
		p.step(flange, rapid.IntRange(3, 8).Draw(t, "right"))
	},
	"two tapers": func(t *rapid.T, p *drawnPart) {
		dia := rapid.IntRange(10, 16).Draw(t, "dia")
		p.profile, p.dia = append(p.profile, fmt.Sprintf("[0, %d]", dia)), dia
		p.taper(-rapid.IntRange(2, 8).Draw(t, "rise"), rapid.IntRange(15, 40).Draw(t, "up"))
		p.taper(0, rapid.IntRange(10, 30).Draw(t, "level"))
		p.taper(rapid.IntRange(2, 8).Draw(t, "drop"), rapid.IntRange(15, 40).Draw(t, "down"))
	},
	"counterbore": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(26, 36).Draw(t, "dia"), rapid.IntRange(30, 50).Draw(t, "long"))
		p.add("bores", "from: left, dia: %d, depth: %d",
			rapid.IntRange(14, 18).Draw(t, "wide"), rapid.IntRange(6, 12).Draw(t, "deep"))
		p.add("bores", "from: left, dia: %d, through: true", rapid.IntRange(6, 10).Draw(t, "bore"))
	},
	"stud": func(t *rapid.T, p *drawnPart) {
		p.step(10, rapid.IntRange(20, 30).Draw(t, "left"))
		p.step(rapid.IntRange(14, 20).Draw(t, "collar"), rapid.IntRange(8, 25).Draw(t, "long"))
		p.step(8, rapid.IntRange(18, 30).Draw(t, "right"))
		p.add("threads", "from: left, spec: M10, length: %d", rapid.IntRange(10, 15).Draw(t, "thread left"))
		p.add("threads", "from: right, spec: M8, length: %d", rapid.IntRange(9, 13).Draw(t, "thread right"))
	},
	"cone with holes": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(20, 28).Draw(t, "dia"), rapid.IntRange(20, 35).Draw(t, "long"))
		p.taper(rapid.IntRange(2, 8).Draw(t, "drop"), rapid.IntRange(40, 60).Draw(t, "cone"))
		p.add("rows", "from: %d, dia: 3, count: 3, pitch: 8, rolls: [0, 90], crossing: ok", p.from+10)
	},
	"key seat": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(14, 24).Draw(t, "dia"), rapid.IntRange(50, 80).Draw(t, "long"))
		p.add("slots", "at: 25, length: %d, width: 5, depth: 3", rapid.IntRange(12, 24).Draw(t, "slot"))
	},
	"fits": func(t *rapid.T, p *drawnPart) {
		p.step(rapid.IntRange(20, 30).Draw(t, "dia"), rapid.IntRange(20, 35).Draw(t, "long"))
		p.step(rapid.IntRange(12, 18).Draw(t, "journal"), rapid.IntRange(15, 25).Draw(t, "journal long"))
		p.add("bores", "from: left, dia: %d, depth: 15, fit: H9", rapid.SampledFrom([]int{6, 8}).Draw(t, "bore"))
		p.add("limits", "at: %d, tol: 0.05", p.z-5)
	},
	"facets": func(t *rapid.T, p *drawnPart) {
		dia := rapid.IntRange(16, 26).Draw(t, "dia")
		p.step(dia-4, rapid.IntRange(14, 24).Draw(t, "neck"))
		p.step(dia, rapid.IntRange(25, 45).Draw(t, "long"))
		p.add("facets", "sides: %d, from: %d, to: %d, across: corners, roll: 0",
			rapid.SampledFrom([]int{4, 6, 8}).Draw(t, "sides"), p.from, p.z)
	},
	"edges": func(t *rapid.T, p *drawnPart) { // a screw whose head, thread and band are chamfered
		edge := func(what string, z int) {
			p.add("chamfers", "at: %d, size: %s", z, rapid.SampledFrom([]string{"0.3", "0.5", "1", "1.5"}).Draw(t, what))
		}
		thread := rapid.SampledFrom([]int{6, 8, 10}).Draw(t, "thread")
		head := rapid.IntRange(16, 26).Draw(t, "dia")
		p.step(head, rapid.IntRange(8, 20).Draw(t, "head"))
		edge("head", 0)
		p.add("facets", "sides: %d, from: %d, to: %d, across: %s, leave: %s",
			rapid.SampledFrom([]int{4, 6, 8}).Draw(t, "sides"), p.from, p.z,
			rapid.SampledFrom([]string{"corners", "flats"}).Draw(t, "across"),
			rapid.SampledFrom([]string{"0", "0.2"}).Draw(t, "leave"))
		p.step(thread+4, rapid.IntRange(12, 30).Draw(t, "band"))
		edge("band", p.z)
		p.add("holes", "at: %d, dia: 3, roll: %d", (p.from+p.z)/2, rapid.SampledFrom([]int{0, 45, 90}).Draw(t, "roll"))
		p.step(thread, rapid.IntRange(12, 24).Draw(t, "long"))
		p.add("threads", "from: right, spec: M%d, length: %d", thread, p.z-p.from-4)
		edge("start", p.z)
	},
}

// drawnPart is the text of a part while it is drawn: where the profile has come
// to, and the lists of features.
type drawnPart struct {
	z, from, dia int
	profile      []string
	lists        map[string][]string
}

// step adds a cylinder.
func (p *drawnPart) step(dia, long int) {
	p.profile = append(p.profile, fmt.Sprintf("[%d, %d]", p.z, dia), fmt.Sprintf("[%d, %d]", p.z+long, dia))
	p.from, p.z, p.dia = p.z, p.z+long, dia
}

// steps adds cylinders, each larger than the one before.
func (p *drawnPart) steps(t *rapid.T, n int) {
	dia := rapid.IntRange(8, 14).Draw(t, "first")
	for i := range n {
		p.step(dia, rapid.IntRange(12, 30).Draw(t, fmt.Sprint("long ", i)))
		dia += rapid.IntRange(2, 6).Draw(t, fmt.Sprint("more ", i))
	}
}

// taper goes on from the last diameter to a smaller one.
func (p *drawnPart) taper(drop, long int) {
	p.profile = append(p.profile, fmt.Sprintf("[%d, %d]", p.z+long, p.dia-drop))
	p.from, p.z, p.dia = p.z, p.z+long, p.dia-drop
}

func (p *drawnPart) add(list, format string, args ...any) {
	p.lists[list] = append(p.lists[list], "    - {"+fmt.Sprintf(format, args...)+"}\n")
}

func (p *drawnPart) text(material string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "format: 1\npart: Drawn\nunits: mm\nmaterial: %s\nround:\n  profile: [%s]\n",
		material, strings.Join(p.profile, ", "))
	for _, list := range []string{"facets", "bores", "threads", "rows", "holes", "slots", "limits", "chamfers"} {
		if lines := p.lists[list]; len(lines) > 0 {
			b.WriteString("  " + list + ":\n" + strings.Join(lines, ""))
		}
	}
	return b.String()
}

// Whatever is drawn: what is planned is true, and a no has a reason.
func TestDrawnPartsAreTrue(t *testing.T) {
	each := 4
	if os.Getenv("SETOVER_SLOW") != "" {
		each = 15
	}
	materials := []string{"free-cutting-brass", "low-carbon-steel", "aluminium-6061", "acetal"}
	for name, draw := range families {
		made := rapid.Custom(func(t *rapid.T) string {
			p := &drawnPart{lists: map[string][]string{}}
			draw(t, p)
			return p.text(rapid.SampledFrom(materials).Draw(t, "material"))
		})
		t.Run(name, func(t *testing.T) {
			yes := 0
			defer func() { t.Logf("%d of %d are planned", yes, each) }()
			for seed := range each {
				body := []byte(made.Example(seed + 1))
				text, status, err := planned("drawn.yaml", body, demos+"shed.yaml")
				if err != nil {
					t.Fatalf("%v\n%s", err, body)
				}
				if status == 0 {
					yes++
				}
				for _, f := range judge.Judge(status, text, tree(t, body), file(t, demos+"shed.yaml")) {
					t.Errorf("seed %d, status %d: %s\n%s", seed+1, status, f, body)
				}
			}
		})
	}
}
