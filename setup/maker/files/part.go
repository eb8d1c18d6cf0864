package files

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	_ "embed"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
)

//go:embed example-round.yaml
var exampleRound string

//go:embed example-block.yaml
var exampleBlock string

// NewPart returns a commented part file with every key, which loads: of a
// block when block is true, else of a turned part.
func NewPart(block bool) string {
	if block {
		return exampleBlock
	}
	return exampleRound
}

// Part reads a part file and checks that such a part can exist. A file that
// cannot be read is the system's error; what is wrong inside it is a
// problem.List.
func Part(name string) (*part.Part, sheet.Warnings, error) {
	text, err := open(name)
	if err != nil {
		return nil, nil, err
	}
	return ReadPart(name, text)
}

// ReadPart reads a part from text; name is for messages.
func ReadPart(name string, text []byte) (*part.Part, sheet.Warnings, error) {
	p := &part.Part{From: name, Hash: hash(text)}
	r, doc, _ := read(name, text, "part", func(r *reader) []field {
		p.Units = r.bare
		return partFields(p)
	})
	switch {
	case doc == nil:
	case p.Round != nil && p.Block != nil:
		r.no(doc, problem.Contradiction, "", nil, "has round and block: a part is one of them")
	case len(r.problems) == 0 && p.Round == nil && p.Block == nil:
		r.no(doc, problem.Missing, "", nil, "needs round or block: what it is made of")
	case len(r.problems) == r.harmless:
		r.problems = append(r.problems, p.Check()...)
	}
	if doc != nil {
		found := written{}
		r.scalars(doc, "", found)
		r.unusual("part", found)
		if len(r.problems) == 0 && p.Round != nil {
			ask(r, found, partRemarks(), p.Round)
		}
	}
	err := r.done()
	return p, r.Warnings, err
}

// PartKeys returns the table of keys of a part file.
func PartKeys() []Row { return rows(partFields(&part.Part{})) }

func partFields(p *part.Part) []field {
	return append([]field{
		formatKey(),
		text.into("part", &p.Name, "the part's name, printed on every sheet").needed(),
		unitsKey().needed(),
		material(p).needed(),
		count(1, 10000).into("quantity", &p.Quantity, "how many are made").defaults("1"),
		general(p),
		flag("stress_relief", &p.StressRelief, "all roughing comes before any finishing"),
		processes(p).without("nothing is done after cutting"),
		group("round", &p.Round, roundFields, "a turned part").without("it has a block"),
		group("block", &p.Block, blockFields, "a part milled from a rectangular block").without("it is round"),
	}, centres(p)...)
}

// removeCentres reads what becomes of centre holes.
func removeCentres(dst *part.Centres) field {
	return oneOf(part.RemoveCentres).into("centres", dst, "remove: no centre hole may stay in an end").
		without("centre holes may stay")
}

// centres reads what may stand beside round, and means the same as under it.
func centres(p *part.Part) []field {
	var beside part.Centres
	f := removeCentres(&beside)
	f.Doc += "; the same as under round"
	return []field{f, rule(func(r *reader, n ast.Node, _ map[string]bool) {
		switch {
		case beside == "":
		case p.Block != nil:
			r.no(n, problem.Contradiction, "centres", nil, "are those of a turned part: a block has none")
		case p.Round != nil && p.Round.Centres != "":
			r.no(n, problem.Duplicate, "centres", nil, "stands here and under round: say it once")
		case p.Round != nil:
			p.Round.Centres = beside
		}
	})}
}

// material reads what the part is made of. The rest can be checked without it.
func material(p *part.Part) field {
	k := kind[string]{"word", "", func(text string, _ *reader) (string, error) {
		m, err := materials.Find(text)
		if err != nil {
			return "", err
		}
		return m.Name, nil
	}}
	f := k.into("material", &p.Material, "what it is made of, such as brass or low-carbon-steel").at(&p.MaterialAt)
	read := f.read
	f.read = func(r *reader, n ast.Node) {
		before := len(r.problems)
		read(r, n)
		r.harmless += len(r.problems) - before
	}
	return f
}

func processes(p *part.Part) field {
	names := oneOf("harden", "temper", "etch", "glue", "polish", "mark")
	return list("processes", "list of words", "harden, temper, etch, glue, polish, mark: done after cutting",
		", such as [polish, mark]", func(r *reader, n ast.Node) {
			if w, ok := names.scalar(r, n, "processes"); ok {
				p.Processes = append(p.Processes, part.Process{Name: w, At: r.under(n, "processes")})
			}
		})
}

// minWall is the wall a part must keep.
func minWall(dst **units.Length) field {
	return size.maybe("min_wall", dst, "the thinnest wall allowed; falling short fails").
		without("the material's usual wall only warns")
}

func roundFields(x *part.Round) []field {
	return []field{
		here(&x.At),
		stock(&x.Stock),
		minWall(&x.MinWall),
		removeCentres(&x.Centres),
		profile(x).needed(),
		groups("chamfers", &x.Chamfers, chamferFields, "45 deg cones at the edges of ends and shoulders"),
		groups("arcs", &x.Arcs, arcFields, "curves instead of straight lines between two z"),
		groups("facets", &x.Facets, facetFields, "stretches that are a polygon"),
		groups("bores", &x.Bores, boreFields, "axial holes; a blind one ends in a 118 deg point beyond its depth"),
		groups("threads", &x.Threads, threadFields, "threads from an end"),
		groups("holes", &x.Holes, holeFields, "holes across the bar, square to its axis"),
		groups("rows", &x.Rows, rowFields, "lines of cross holes"),
		groups("slots", &x.Slots, roundSlotFields, "slots across the bar"),
		groups("limits", &x.Limits, limitFields, "how well diameters, lengths and tapers of the outside are kept"),
	}
}

func profile(x *part.Round) field {
	f := list("profile", "list of [z, diameter]",
		"the outside from left to right; two points at one z make a shoulder", " of [z, diameter], left to right",
		func(r *reader, n ast.Node) {
			s := part.Station{At: r.under(n, "profile")}
			if r.tuple(n, "profile", "[z, diameter]", length, &s.Z, &s.Dia) {
				x.Profile = append(x.Profile, s)
			}
		})
	f.Bare = fileUnits
	return f
}

func arcFields(a *part.Arc) []field {
	return []field{
		here(&a.At),
		length.into("from", &a.From, "z where it begins").needed(),
		length.into("to", &a.To, "z where it ends").needed(),
		size.into("radius", &a.Radius, "of the curve").needed(),
		whether("bulge", &a.Out, "out", "out or in", "out", "in").defaults("out"),
	}
}

func chamferFields(c *part.Chamfer) []field {
	return []field{
		here(&c.At),
		length.into("at", &c.Z, "z of the end or the shoulder").needed(),
		size.into("size", &c.Size, "along the bar, and into the radius").needed(),
	}
}

func facetFields(f *part.Facets) []field {
	return []field{
		here(&f.At),
		count(2, 24).into("sides", &f.Sides, "3 to 24, or 2 for a pair of flats").needed(),
		length.into("from", &f.From, "z where they begin").needed(),
		length.into("to", &f.To, "z where they end").needed(),
		across(f).needed(),
		angle.into("roll", &f.Roll, "direction of a flat's outward normal; 0 is up").defaults("0"),
		length.into("leave", &f.Leave, "left on each flat for grinding").defaults("0"),
	}
}

// across reads what a polygon's diameters are, or how far two flats are apart.
func across(f *part.Facets) field {
	words := oneOf("flats", "corners")
	return kind[string]{"word or length", fileUnits, func(text string, r *reader) (string, error) {
		if text != "" && strings.ContainsAny(text[:1], ".0123456789+-") {
			l, err := asSize(text, r)
			f.Across = l
			return "", err
		}
		return words.parse(text, r)
	}}.field("across", "flats or corners: what the profile's diameters are there (odd sides: corners); "+
		"of two flats the distance between them", func(w string) { f.Corners = w == "corners" })
}

func fromEnd(dst *part.End) field {
	return oneOf(part.Left, part.Right).into("from", dst, "left or right: the end it starts at").needed()
}

func boreFields(b *part.Bore) []field {
	return append([]field{
		here(&b.At),
		fromEnd(&b.From),
		size.into("dia", &b.Dia, "its diameter").needed(),
		size.into("depth", &b.Depth, "of the full diameter; left out with through: true"),
		flag("through", &b.Through, "it runs through the part"),
	}, holeLimits(&b.Tol)...)
}

func threadFields(t *part.Thread) []field {
	return []field{
		here(&t.At),
		fromEnd(&t.From),
		text.into("spec", &t.Spec, "the designation: M8, 1/4-20, No8-32").needed(),
		size.into("length", &t.Length, "of full thread on the outside"),
		size.into("depth", &t.Length, "of full thread inside a bore"),
		flag("inside", &t.Inside, "in a bore, not on the outside"),
		rule(func(r *reader, n ast.Node, wrote map[string]bool) {
			no := func(key, want string) { r.no(n, problem.Contradiction, key, nil, want) }
			switch {
			case wrote["length"] && wrote["depth"]:
				no("depth", "and length: write length outside, depth inside")
			case t.Inside && wrote["length"]:
				no("length", "an inside thread has a depth")
			case !t.Inside && wrote["depth"]:
				no("depth", "an outside thread has a length; for one in a bore write inside: true")
			}
		}),
	}
}

// holeFlags are the keys of what a cross hole may meet.
func holeFlags(miss, crossing, thread *bool) []field {
	ok := kind[bool]{"word", "", func(text string, _ *reader) (bool, error) {
		if text == "ok" {
			return true, nil
		}
		return false, problem.New(problem.Unknown, "", text, "write ok, or leave the key out")
	}}
	return []field{
		flag("miss_bore", miss, "it must not open into a bore"),
		ok.into("crossing", crossing, "ok: it may meet another hole").without("meeting another hole fails"),
		ok.into("through_thread", thread, "ok: it may run through a thread").without("running through a thread fails"),
	}
}

func holeFields(h *part.Hole) []field {
	return append([]field{
		here(&h.At),
		length.into("at", &h.Z, "z of its axis").needed(),
		size.into("dia", &h.Dia, "its diameter").needed(),
		angle.into("roll", &h.Roll, "direction it is drilled from; 0 is up").defaults("0"),
		length.into("offset", &h.Offset, "of its axis from the bar's, toward roll + 90").defaults("0"),
		size.maybe("depth", &h.Depth, "of the full diameter from the surface").without("it goes through"),
	}, slices.Concat(holeLimits(&h.Tol), holeFlags(&h.MissBore, &h.Crossing, &h.ThroughThread))...)
}

func rowFields(w *part.Row) []field {
	w.Rolls = []units.Angle{{}}
	return append([]field{
		here(&w.At),
		length.into("from", &w.From, "z of the first centre").needed(),
		size.list("dias", &w.Dias, "diameters, from the first hole on"),
		size.field("dia", "the diameter when all are alike, with count",
			func(d units.Length) { w.Dias = []units.Length{d} }),
		count(1, 1000).into("count", &w.Count, "how many, when all are alike"),
		size.maybe("web", &w.Web, "wall between neighbours (one of web, pitch, span)"),
		size.maybe("pitch", &w.Pitch, "centre to centre"),
		size.maybe("span", &w.Span, "first centre to last"),
		angle.list("rolls", &w.Rolls, "the row is drilled at each of these").taken("[0]"),
		rule(func(r *reader, n ast.Node, wrote map[string]bool) {
			if wrote["dia"] && wrote["dias"] {
				r.no(n, problem.Contradiction, "dia", nil, "and dias: write one of them")
			}
		}),
		flag("stagger", &w.Stagger, "every second roll half a step on"),
		length.into("offset", &w.Offset, "of the holes' axes from the bar's").defaults("0"),
		size.maybe("depth", &w.Depth, "of the full diameter from the surface").without("they go through"),
	}, slices.Concat(holeLimits(&w.Tol), holeFlags(&w.MissBore, &w.Crossing, &w.ThroughThread))...)
}

// slotFields are the keys every slot has, behind those of where it lies.
func slotFields(s *part.Slot, place ...field) []field {
	return append(place,
		here(&s.At),
		size.into("length", &s.Length, "over all").needed(),
		size.into("width", &s.Width, "its width").needed(),
		size.maybe("depth", &s.Depth, "from the surface").without("it goes through"),
		flag("chain_drill", &s.ChainDrill, "a row of holes is drilled first"),
	)
}

func roundSlotFields(s *part.Slot) []field {
	return slotFields(s,
		length.into("at", &s.Z, "z of its middle; it lies along the bar").needed(),
		angle.into("roll", &s.Roll, "direction it is cut from; 0 is up").defaults("0"))
}

func blockFields(b *part.Block) []field {
	return []field{
		here(&b.At),
		tuple("size", "[x, y, z]", size, "[x, y, z]", &b.X, &b.Y, &b.Z).needed(),
		minWall(&b.MinWall),
		groups("slopes", &b.Slopes, slopeFields, "planes milled off the top or the bottom; the highest point stays"),
		groups("slots", &b.Slots, blockSlotFields, "slots into a face"),
		groups("holes", &b.Holes, blockHoleFields, "holes into a face"),
	}
}

func slopeFields(s *part.Slope) []field {
	return []field{
		here(&s.At),
		oneOf("top", "bottom").into("face", (*string)(&s.Face), "top or bottom").defaults("top"),
		length.into("from_x", &s.FromX, "x where it begins").needed(),
		length.into("to_x", &s.ToX, "x where it ends").needed(),
		angle.into("along_x", &s.AlongX, "positive when it rises, away from the block, toward +x").defaults("0"),
		angle.into("along_y", &s.AlongY, "positive when it rises, away from the block, toward +y").defaults("0"),
	}
}

// middle reads at: [x, y].
func middle(x, y *units.Length) field {
	return tuple("at", "[x, y]", length, "[x, y] of its middle; [x, z] on the front and the back, [y, z] on an end", x, y).
		needed()
}

// onFace reads the face of a block that a feature is cut into.
func onFace(f *part.Face) field {
	return oneOf("top", "bottom", "front", "back", "left", "right").
		into("face", (*string)(f), "the face that it is cut into").defaults("top")
}

func blockSlotFields(s *part.Slot) []field {
	return slotFields(s, middle(&s.X, &s.Y), onFace(&s.Face),
		angle.into("angle", &s.Angle, "of its length from its face's first axis toward the second").defaults("0"))
}

func blockHoleFields(h *part.BlockHole) []field {
	return append([]field{
		here(&h.At),
		middle(&h.X, &h.Y),
		onFace(&h.Face),
		size.into("dia", &h.Dia, "its diameter").needed(),
		size.maybe("depth", &h.Depth, "of the full diameter").without("it goes through"),
		text.into("spec", &h.Spec, "a thread in it").without("it is plain"),
	}, holeLimits(&h.Tol)...)
}

// Project reads a project file and the parts it names. The parts lie beside it
// or below: none may leave its folder.
func Project(name string) (*part.Project, sheet.Warnings, error) {
	text, err := open(name)
	if err != nil {
		return nil, nil, err
	}
	p := &part.Project{From: name}
	var paths []string
	r, _, known := read(name, text, "project", func(*reader) []field { return projectFields(p, &paths) })
	if !known {
		err := r.done()
		return nil, r.Warnings, err
	}
	var inParts problem.List
	for i, path := range paths {
		file, err := inside(filepath.Dir(name), path)
		if err != nil {
			return nil, nil, err
		}
		if file == "" {
			r.place(p.Parts[i].At, problem.Forbidden, path,
				"leaves the project's folder: a part lies beside the project file or below it")
			continue
		}
		one, warnings, err := Part(file)
		var wrong problem.List
		if err != nil && !errors.As(err, &wrong) {
			return nil, nil, err
		}
		p.Parts[i].Part = one
		r.Warnings = append(r.Warnings, warnings...)
		inParts = append(inParts, wrong...)
	}
	if len(r.problems) == r.harmless {
		for _, f := range p.Fits {
			r.checkFit(p, f)
		}
	}
	var all problem.List
	all.Add(r.done())
	all = append(all, inParts...)
	return p, r.Warnings, all.Err()
}

// inside returns where the file at path below the folder dir is, or "" when it
// is not below it: by its name, or by a link that leads elsewhere.
func inside(dir, path string) (string, error) {
	if !filepath.IsLocal(path) {
		return "", nil
	}
	home, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", err
	}
	file := filepath.Join(dir, path)
	real, err := filepath.EvalSymlinks(file)
	if err != nil {
		var e *fs.PathError
		if errors.As(err, &e) {
			err = &fs.PathError{Op: "open", Path: file, Err: e.Err}
		}
		return "", err
	}
	below, err := filepath.Rel(home, real)
	if err != nil || !filepath.IsLocal(below) {
		return "", nil
	}
	return file, nil
}

// IsProject reports whether a file says it is a project.
func IsProject(name string) bool {
	text, err := open(name)
	if err != nil {
		return false
	}
	r, doc, err := parse(name, text)
	if err != nil {
		return false
	}
	entries, _ := r.entries(doc)
	return slices.ContainsFunc(entries, func(e entry) bool { return e.key == "project" })
}

// ProjectKeys returns the table of keys of a project file.
func ProjectKeys() []Row { return rows(projectFields(&part.Project{}, new([]string))) }

// projectFields are the keys of a project; paths are the files of its parts.
func projectFields(p *part.Project, paths *[]string) []field {
	return []field{
		formatKey(),
		text.into("project", &p.Name, "the project's name").needed(),
		unitsKey().taken("mm"),
		{read: projectParts(p, paths), Row: Row{
			Key: "parts", Kind: "group of file names", Required: true,
			Doc: "a name of your own for each part, and its file beside this one or below",
		}},
		groups("fits", &p.Fits, fitFields, "how the parts meet"),
	}
}

func projectParts(p *part.Project, paths *[]string) func(r *reader, n ast.Node) {
	return func(r *reader, n ast.Node) {
		entries, ok := r.entries(n)
		switch {
		case !ok || len(entries) == 0:
			r.no(n, problem.WrongType, "parts", nil, "must be a group of names with files: {body: body.yaml}")
			return
		case len(entries) > maxParts:
			r.no(n, problem.TooLarge, "parts", say.Of(len(entries), " parts"), "a project has at most ", maxParts)
			return
		}
		for _, e := range entries {
			if e.node == nil {
				continue
			}
			if path, ok := text.scalar(r, e.node, e.key); ok {
				p.Parts = append(p.Parts, part.ProjectPart{Key: e.key, At: r.under(e.node, e.key)})
				*paths = append(*paths, path)
			}
		}
	}
}

func fitFields(f *part.Fit) []field {
	return []field{
		here(&f.At),
		text.into("screw", &f.Screw, "the part that is screwed in"),
		text.into("into", &f.Into, "the part it goes into"),
		text.into("thread", &f.Thread, "the thread they share"),
		oneOf("facets", "holes").into("align", &f.Align, "facets or holes: what must line up").
			without("nothing need line up"),
		text.into("seat", &f.Seat, "what is pushed on, a part or not"),
		text.into("on", &f.On, "the part whose cone it stops on"),
		size.maybe("bore", &f.Bore, "of the seat"),
	}
}

// checkFit refuses a fit that names no part of the project, or half a fit. What
// is seated need not be a part of its own: its bore is all that matters.
func (r *reader) checkFit(p *part.Project, f part.Fit) {
	under := func(key string) problem.Pos {
		f.At.Key = key
		return f.At
	}
	screw, seat := f.Screw != "" && f.Into != "", f.Seat != "" && f.On != ""
	if screw == seat {
		r.place(f.At, problem.Missing, nil, "a fit is screw with into, or seat with on")
		return
	}
	var names []string
	for _, p := range p.Parts {
		names = append(names, p.Key)
	}
	for _, w := range [][2]string{{"screw", f.Screw}, {"into", f.Into}, {"on", f.On}} {
		if key, name := w[0], w[1]; name != "" && !slices.Contains(names, name) {
			missing := problem.New(problem.Unknown, key, name, "no such part of this project: ", say.Join(names, ", "))
			r.problems = append(r.problems, missing.In(under(key)).Near(names))
		}
	}
	if screw && f.Thread == "" {
		r.place(under("thread"), problem.Missing, nil, "a screwed fit needs its thread")
	}
	if seat && f.Bore == nil {
		r.place(under("bore"), problem.Missing, nil, "a seat needs its bore")
	}
}
