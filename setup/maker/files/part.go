package files

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	_ "embed"

	"setover/setup/base/problem"
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
	r, doc, err := parse(name, text)
	if err != nil {
		return nil, nil, err
	}
	p := &partDoc{Part: &part.Part{From: name, Hash: hash(text), Quantity: 1}}
	if r.header(doc, "part") {
		mapping(r, doc, "", p, partFields())
	}
	p.Units = r.bare
	sound := len(r.problems) == r.harmless
	switch {
	case p.Round != nil && p.Block != nil:
		r.add(doc, problem.Problem{Code: problem.Contradiction, Want: "has round and block: a part is one of them"})
	case len(r.problems) == 0 && p.Round == nil && p.Block == nil:
		r.add(doc, problem.Problem{Code: problem.Missing, Want: "needs round or block: what it is made of"})
	case sound:
		r.problems = append(r.problems, p.Check()...)
	}
	return p.Part, r.warnings, r.done()
}

// partDoc is a part with the keys of its file that the part does not keep.
type partDoc struct {
	*part.Part
	format int
	units  units.Unit
}

// PartKeys returns the table of keys of a part file.
func PartKeys() []Row { return rows(partFields(), "") }

func partFields() []field[partDoc] {
	type P = partDoc
	return []field[P]{
		value("format", "whole number", "yes", func(p *P) *int { return &p.format }, asFormat).required().says("the file format; 1 is the newest"),
		value("part", "text", "", func(p *P) *string { return &p.Name }, asText).required().says("the part's name, printed on every sheet"),
		value("units", "word", "", func(p *P) *units.Unit { return &p.units }, asUnit).required().says("mm or in: what bare numbers in this file are"),
		{key: "material", kind: "word", needed: true, doc: "what it is made of, such as brass or low-carbon-steel", read: func(r *reader, n ast.Node, p *P) {
			before := len(r.problems)
			if m, ok := scalar(r, n, "material", "word", asMaterial); ok {
				p.Material, p.MaterialAt = m, at(r, n, "material")
			}
			r.harmless += len(r.problems) - before
		}},
		value("quantity", "whole number", "yes", func(p *P) *int { return &p.Quantity }, asCount(1, 10000)).says("how many are made").defaults("1"),
		flagOf("stress_relief", func(p *P) *bool { return &p.StressRelief }).says("all roughing comes before any finishing"),
		processes(),
		group("round", func(p *P) **part.Round { return &p.Round }, roundFields).says("a turned part").without("it has a block").checked(func(r *reader, n ast.Node, p *P) { p.Round.At = at(r, n, "round") }),
		group("block", func(p *P) **part.Block { return &p.Block }, blockFields).says("a part milled from a rectangular block").without("it is round").checked(func(r *reader, n ast.Node, p *P) { p.Block.At = at(r, n, "block") }),
	}
}

// at returns the place of a node under a key.
func at(r *reader, n ast.Node, key string) problem.Pos {
	pos := r.at(n)
	pos.Key = key
	return pos
}

func asMaterial(text string, _ *reader) (string, error) {
	m, err := materials.Find(text)
	if err != nil {
		return "", err
	}
	return m.Name, nil
}

func processes() field[partDoc] {
	return field[partDoc]{key: "processes", kind: "list of words", doc: "harden, temper, etch, glue, polish, mark: done after cutting", absent: "nothing is done after cutting", read: func(r *reader, n ast.Node, p *partDoc) {
		items, ok := r.items(n)
		if !ok {
			r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: "processes"}, Want: "must be a list, such as [polish, mark]"})
			return
		}
		for _, i := range items {
			if w, ok := scalar(r, i, "processes", "word", oneOf("harden", "temper", "etch", "glue", "polish", "mark")); ok {
				p.Processes = append(p.Processes, part.Process{Name: w, At: at(r, i, "processes")})
			}
		}
	}}
}

func roundFields() []field[part.Round] {
	type R = part.Round
	return []field[R]{
		sizeMaybe("stock", func(x *R) **units.Length { return &x.Stock }).says("diameter of the bar on hand").without("the plan says the smallest that serves"),
		sizeMaybe("min_wall", func(x *R) **units.Length { return &x.MinWall }).says("the thinnest wall allowed; falling short fails").without("the material's usual wall only warns"),
		{key: "profile", kind: "list of [z, diameter]", bare: fileUnits, needed: true, doc: "the outside from left to right; two points at one z make a shoulder", read: readProfile},
		groups("arcs", func(x *R) *[]part.Arc { return &x.Arcs }, func(a *part.Arc, p problem.Pos) { a.At = p }, arcFields).says("curves instead of straight lines between two z"),
		groups("facets", func(x *R) *[]part.Facets { return &x.Facets }, func(f *part.Facets, p problem.Pos) { f.At = p }, facetFields).says("stretches that are a polygon"),
		groups("bores", func(x *R) *[]part.Bore { return &x.Bores }, func(b *part.Bore, p problem.Pos) { b.At = p }, boreFields).says("axial holes; a blind one ends in a 118 deg point beyond its depth"),
		groups("threads", func(x *R) *[]part.Thread { return &x.Threads }, func(t *part.Thread, p problem.Pos) { t.At = p }, threadFields).says("threads from an end"),
		groups("holes", func(x *R) *[]part.Hole { return &x.Holes }, func(h *part.Hole, p problem.Pos) { h.At = p }, holeFields).says("holes across the bar, square to its axis"),
		groups("rows", func(x *R) *[]part.Row { return &x.Rows }, func(w *part.Row, p problem.Pos) { w.At = p }, rowFields).says("lines of cross holes"),
		groups("slots", func(x *R) *[]part.Slot { return &x.Slots }, func(s *part.Slot, p problem.Pos) { s.At = p }, roundSlotFields).says("slots across the bar"),
	}
}

func readProfile(r *reader, n ast.Node, x *part.Round) {
	items, ok := r.items(n)
	if !ok {
		r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: "profile"}, Want: "must be a list of [z, diameter], left to right"})
		return
	}
	for _, i := range items {
		if z, d, ok := pair(r, i, "profile", "[z, diameter]"); ok {
			x.Profile = append(x.Profile, part.Station{Z: z, Dia: d, At: at(r, i, "profile")})
		}
	}
}

func arcFields() []field[part.Arc] {
	type A = part.Arc
	return []field[A]{
		lengthOf("from", func(a *A) *units.Length { return &a.From }).required().says("z where it begins"),
		lengthOf("to", func(a *A) *units.Length { return &a.To }).required().says("z where it ends"),
		sizeOf("radius", func(a *A) *units.Length { return &a.Radius }).required().says("of the curve"),
		{key: "bulge", kind: "word", doc: "out or in", def: "out", read: func(r *reader, n ast.Node, a *A) {
			if w, ok := scalar(r, n, "bulge", "word", oneOf("out", "in")); ok {
				a.Out = w == "out"
			}
		}},
		rule(func(_ *reader, _ ast.Node, a *A, wrote map[string]bool) { a.Out = a.Out || !wrote["bulge"] }),
	}
}

func facetFields() []field[part.Facets] {
	type F = part.Facets
	return []field[F]{
		value("sides", "whole number", "yes", func(f *F) *int { return &f.Sides }, asCount(3, 24)).required().says("3 to 24"),
		lengthOf("from", func(f *F) *units.Length { return &f.From }).required().says("z where they begin"),
		lengthOf("to", func(f *F) *units.Length { return &f.To }).required().says("z where they end"),
		{key: "across", kind: "word", needed: true, doc: "flats or corners: what the profile's diameters are there (odd sides: corners)", read: func(r *reader, n ast.Node, f *F) {
			if w, ok := scalar(r, n, "across", "word", oneOf("flats", "corners")); ok {
				f.Corners = w == "corners"
			}
		}},
		angleOf("roll", func(f *F) *units.Angle { return &f.Roll }).says("direction of a flat's outward normal; 0 is up").defaults("0"),
		lengthOf("leave", func(f *F) *units.Length { return &f.Leave }).says("left on each flat for grinding").defaults("0"),
	}
}

func fromEnd[T any](get func(*T) *part.End) field[T] {
	return value("from", "word", "", get, oneOf(part.Left, part.Right)).required().says("left or right: the end it starts at")
}

func boreFields() []field[part.Bore] {
	type B = part.Bore
	return []field[B]{
		fromEnd(func(b *B) *part.End { return &b.From }),
		sizeOf("dia", func(b *B) *units.Length { return &b.Dia }).required().says("its diameter"),
		sizeOf("depth", func(b *B) *units.Length { return &b.Depth }).says("of the full diameter; left out with through: true"),
		flagOf("through", func(b *B) *bool { return &b.Through }).says("it runs through the part"),
	}
}

func threadFields() []field[part.Thread] {
	type T = part.Thread
	return []field[T]{
		fromEnd(func(t *T) *part.End { return &t.From }),
		value("spec", "text", "", func(t *T) *string { return &t.Spec }, asText).required().says("the designation: M8, 1/4-20, No8-32"),
		sizeOf("length", func(t *T) *units.Length { return &t.Length }).says("of full thread on the outside"),
		sizeOf("depth", func(t *T) *units.Length { return &t.Length }).says("of full thread inside a bore"),
		flagOf("inside", func(t *T) *bool { return &t.Inside }).says("in a bore, not on the outside"),
		rule(func(r *reader, n ast.Node, t *T, wrote map[string]bool) {
			switch {
			case wrote["length"] && wrote["depth"]:
				r.add(n, problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "depth"}, Want: "and length: write length outside, depth inside"})
			case t.Inside && wrote["length"]:
				r.add(n, problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "length"}, Want: "an inside thread has a depth"})
			case !t.Inside && wrote["depth"]:
				r.add(n, problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "depth"}, Want: "an outside thread has a length; for one in a bore write inside: true"})
			}
		}),
	}
}

func holeFlags[T any](miss, crossing, thread func(*T) *bool) []field[T] {
	return []field[T]{
		flagOf("miss_bore", miss).says("it must not open into a bore"),
		value("crossing", "word", "", crossing, asOK).says("ok: it may meet another hole").without("meeting another hole fails"),
		value("through_thread", "word", "", thread, asOK).says("ok: it may run through a thread").without("running through a thread fails"),
	}
}

func asOK(text string, _ *reader) (bool, error) {
	if text == "ok" {
		return true, nil
	}
	return false, problem.New(problem.Unknown, "", text, "write ok, or leave the key out")
}

func holeFields() []field[part.Hole] {
	type H = part.Hole
	return append([]field[H]{
		lengthOf("at", func(h *H) *units.Length { return &h.Z }).required().says("z of its axis"),
		sizeOf("dia", func(h *H) *units.Length { return &h.Dia }).required().says("its diameter"),
		angleOf("roll", func(h *H) *units.Angle { return &h.Roll }).says("direction it is drilled from; 0 is up").defaults("0"),
		lengthOf("offset", func(h *H) *units.Length { return &h.Offset }).says("of its axis from the bar's, toward roll + 90").defaults("0"),
		sizeMaybe("depth", func(h *H) **units.Length { return &h.Depth }).says("of the full diameter from the surface").without("it goes through"),
	}, holeFlags(func(h *H) *bool { return &h.MissBore }, func(h *H) *bool { return &h.Crossing }, func(h *H) *bool { return &h.ThroughThread })...)
}

func rowFields() []field[part.Row] {
	type W = part.Row
	return append([]field[W]{
		lengthOf("from", func(w *W) *units.Length { return &w.From }).required().says("z of the first centre"),
		list("dias", "length", fileUnits, func(w *W) *[]units.Length { return &w.Dias }, asSize).says("diameters, from the first hole on"),
		{key: "dia", kind: "length", bare: fileUnits, doc: "the diameter when all are alike, with count", read: func(r *reader, n ast.Node, w *W) {
			if d, ok := scalar(r, n, "dia", "length", asSize); ok {
				w.Dias = append(w.Dias, d)
			}
		}},
		value("count", "whole number", "yes", func(w *W) *int { return &w.Count }, asCount(1, 1000)).says("how many, when all are alike"),
		sizeMaybe("web", func(w *W) **units.Length { return &w.Web }).says("wall between neighbours (one of web, pitch, span)"),
		sizeMaybe("pitch", func(w *W) **units.Length { return &w.Pitch }).says("centre to centre"),
		sizeMaybe("span", func(w *W) **units.Length { return &w.Span }).says("first centre to last"),
		list("rolls", "angle", "degrees", func(w *W) *[]units.Angle { return &w.Rolls }, asAngle).says("the row is drilled at each of these").defaults("[0]"),
		rule(func(r *reader, n ast.Node, w *W, wrote map[string]bool) {
			if wrote["dia"] && wrote["dias"] {
				r.add(n, problem.Problem{Code: problem.Contradiction, At: problem.Pos{Key: "dia"}, Want: "and dias: write one of them"})
			}
			if !wrote["rolls"] {
				w.Rolls = []units.Angle{{}}
			}
		}),
		flagOf("stagger", func(w *W) *bool { return &w.Stagger }).says("every second roll half a step on"),
		lengthOf("offset", func(w *W) *units.Length { return &w.Offset }).says("of the holes' axes from the bar's").defaults("0"),
		sizeMaybe("depth", func(w *W) **units.Length { return &w.Depth }).says("of the full diameter from the surface").without("they go through"),
	}, holeFlags(func(w *W) *bool { return &w.MissBore }, func(w *W) *bool { return &w.Crossing }, func(w *W) *bool { return &w.ThroughThread })...)
}

// slotFields are the keys every slot has.
func slotFields() []field[part.Slot] {
	type S = part.Slot
	return []field[S]{
		sizeOf("length", func(s *S) *units.Length { return &s.Length }).required().says("over all"),
		sizeOf("width", func(s *S) *units.Length { return &s.Width }).required().says("its width"),
		sizeMaybe("depth", func(s *S) **units.Length { return &s.Depth }).says("from the surface").without("it goes through"),
		flagOf("chain_drill", func(s *S) *bool { return &s.ChainDrill }).says("a row of holes is drilled first"),
	}
}

func roundSlotFields() []field[part.Slot] {
	type S = part.Slot
	return append([]field[S]{
		lengthOf("at", func(s *S) *units.Length { return &s.Z }).required().says("z of its middle; it lies along the bar"),
		angleOf("roll", func(s *S) *units.Angle { return &s.Roll }).says("direction it is cut from; 0 is up").defaults("0"),
	}, slotFields()...)
}

func blockFields() []field[part.Block] {
	type B = part.Block
	return []field[B]{
		{key: "size", kind: "list of 3 lengths", bare: fileUnits, needed: true, doc: "[x, y, z]", read: func(r *reader, n ast.Node, b *B) {
			if l, ok := exactly(r, n, 3, "size", "[x, y, z]", asSize); ok {
				b.X, b.Y, b.Z = l[0], l[1], l[2]
			}
		}},
		sizeMaybe("min_wall", func(b *B) **units.Length { return &b.MinWall }).says("the thinnest wall allowed; falling short fails").without("the material's usual wall only warns"),
		groups("slopes", func(b *B) *[]part.Slope { return &b.Slopes }, func(s *part.Slope, p problem.Pos) { s.At = p }, slopeFields).says("planes milled off the top; the highest point stays at the top"),
		groups("slots", func(b *B) *[]part.Slot { return &b.Slots }, func(s *part.Slot, p problem.Pos) { s.At = p }, blockSlotFields).says("slots down from the top"),
		groups("holes", func(b *B) *[]part.BlockHole { return &b.Holes }, func(h *part.BlockHole, p problem.Pos) { h.At = p }, blockHoleFields).says("holes down from the top"),
	}
}

func slopeFields() []field[part.Slope] {
	type S = part.Slope
	return []field[S]{
		{key: "face", kind: "word", doc: "top: the only face so far", def: "top", read: func(r *reader, n ast.Node, s *S) { scalar(r, n, "face", "word", oneOf("top")) }},
		lengthOf("from_x", func(s *S) *units.Length { return &s.FromX }).required().says("x where it begins"),
		lengthOf("to_x", func(s *S) *units.Length { return &s.ToX }).required().says("x where it ends"),
		angleOf("along_x", func(s *S) *units.Angle { return &s.AlongX }).says("positive when it rises toward +x").defaults("0"),
		angleOf("along_y", func(s *S) *units.Angle { return &s.AlongY }).says("positive when it rises toward +y").defaults("0"),
	}
}

// position reads at: [x, y].
func position[T any](get func(*T) (x, y *units.Length)) field[T] {
	return field[T]{key: "at", kind: "list of 2 lengths", bare: fileUnits, needed: true, doc: "[x, y] of its middle", read: func(r *reader, n ast.Node, t *T) {
		if a, b, ok := pair(r, n, "at", "[x, y]"); ok {
			x, y := get(t)
			*x, *y = a, b
		}
	}}
}

func blockSlotFields() []field[part.Slot] {
	type S = part.Slot
	return append([]field[S]{
		position(func(s *S) (*units.Length, *units.Length) { return &s.X, &s.Y }),
		angleOf("angle", func(s *S) *units.Angle { return &s.Angle }).says("of its length from x").defaults("0"),
	}, slotFields()...)
}

func blockHoleFields() []field[part.BlockHole] {
	type H = part.BlockHole
	return []field[H]{
		position(func(h *H) (*units.Length, *units.Length) { return &h.X, &h.Y }),
		sizeOf("dia", func(h *H) *units.Length { return &h.Dia }).required().says("its diameter"),
		sizeMaybe("depth", func(h *H) **units.Length { return &h.Depth }).says("of the full diameter").without("it goes through"),
		value("spec", "text", "", func(h *H) *string { return &h.Spec }, asText).says("a thread in it").without("it is plain"),
	}
}

// Project reads a project file and the parts it names. The parts lie beside it
// or below: none may leave its folder.
func Project(name string) (*part.Project, sheet.Warnings, error) {
	text, err := open(name)
	if err != nil {
		return nil, nil, err
	}
	r, doc, err := parse(name, text)
	if err != nil {
		return nil, nil, err
	}
	d := &projectDoc{Project: &part.Project{From: name}}
	if !r.header(doc, "project") {
		return nil, r.warnings, r.done()
	}
	mapping(r, doc, "", d, projectFields())
	var inParts problem.List
	for i, p := range d.Parts {
		file, err := inside(filepath.Dir(name), d.paths[i])
		if err != nil {
			return nil, nil, err
		}
		if file == "" {
			r.problems = append(r.problems, problem.Problem{Code: problem.Forbidden, Found: d.paths[i], Want: "leaves the project's folder: a part lies beside the project file or below it"}.In(p.At))
			continue
		}
		one, warnings, err := Part(file)
		var wrong problem.List
		if err != nil && !errors.As(err, &wrong) {
			return nil, nil, err
		}
		d.Parts[i].Part = one
		r.warnings = append(r.warnings, warnings...)
		inParts = append(inParts, wrong...)
	}
	if len(r.problems) == r.harmless {
		d.checkNames(r)
	}
	var all problem.List
	all.Add(r.done())
	all = append(all, inParts...)
	return d.Project, r.warnings, all.Err()
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

type projectDoc struct {
	*part.Project
	format int
	units  units.Unit
	paths  []string
}

// ProjectKeys returns the table of keys of a project file.
func ProjectKeys() []Row { return rows(projectFields(), "") }

func projectFields() []field[projectDoc] {
	type P = projectDoc
	return []field[P]{
		value("format", "whole number", "yes", func(p *P) *int { return &p.format }, asFormat).required().says("the file format; 1 is the newest"),
		value("project", "text", "", func(p *P) *string { return &p.Name }, asText).required().says("the project's name"),
		value("units", "word", "", func(p *P) *units.Unit { return &p.units }, asUnit).says("mm or in: what bare numbers in this file are").defaults("mm"),
		{key: "parts", kind: "group of file names", needed: true, doc: "a name of your own for each part, and its file beside this one or below", read: func(r *reader, n ast.Node, p *P) {
			entries, ok := r.entries(n)
			if !ok || len(entries) == 0 {
				r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: "parts"}, Want: "must be a group of names with files: {body: body.yaml}"})
				return
			}
			if len(entries) > maxParts {
				r.add(n, problem.Problem{Code: problem.TooLarge, At: problem.Pos{Key: "parts"}, Found: fmt.Sprintf("%d parts", len(entries)), Want: fmt.Sprintf("a project has at most %d", maxParts)})
				return
			}
			for _, e := range entries {
				if e.node == nil {
					continue
				}
				if path, ok := scalar(r, e.node, e.key, "text", asText); ok {
					p.Parts = append(p.Parts, part.ProjectPart{Key: e.key, At: at(r, e.node, e.key)})
					p.paths = append(p.paths, path)
				}
			}
		}},
		groups("fits", func(p *P) *[]part.Fit { return &p.Fits }, func(f *part.Fit, pos problem.Pos) { f.At = pos }, fitFields).says("how the parts meet"),
	}
}

func fitFields() []field[part.Fit] {
	type F = part.Fit
	return []field[F]{
		value("screw", "text", "", func(f *F) *string { return &f.Screw }, asText).says("the part that is screwed in"),
		value("into", "text", "", func(f *F) *string { return &f.Into }, asText).says("the part it goes into"),
		value("thread", "text", "", func(f *F) *string { return &f.Thread }, asText).says("the thread they share"),
		value("align", "word", "", func(f *F) *string { return &f.Align }, oneOf("facets", "holes")).says("facets or holes: what must line up").without("nothing need line up"),
		value("seat", "text", "", func(f *F) *string { return &f.Seat }, asText).says("what is pushed on, a part or not"),
		value("on", "text", "", func(f *F) *string { return &f.On }, asText).says("the part whose cone it stops on"),
		sizeMaybe("bore", func(f *F) **units.Length { return &f.Bore }).says("of the seat"),
	}
}

// checkNames refuses fits that name no part of the project, or half a fit. What
// is seated need not be a part of its own: its bore is all that matters.
func (d *projectDoc) checkNames(r *reader) {
	var names []string
	for _, p := range d.Parts {
		names = append(names, p.Key)
	}
	for _, f := range d.Fits {
		add := func(code problem.Code, key, found, want string, known []string) {
			at := f.At
			if key != "" {
				at.Key = key
			}
			r.problems = append(r.problems, problem.Problem{Code: code, At: at, Found: found, Want: want}.Near(known))
		}
		screw, seat := f.Screw != "" && f.Into != "", f.Seat != "" && f.On != ""
		if screw == seat {
			add(problem.Missing, "", "", "a fit is screw with into, or seat with on", nil)
			continue
		}
		for _, w := range []struct{ key, name string }{{"screw", f.Screw}, {"into", f.Into}, {"on", f.On}} {
			if w.name != "" && !slices.Contains(names, w.name) {
				add(problem.Unknown, w.key, w.name, "no such part of this project: "+strings.Join(names, ", "), names)
			}
		}
		if screw && f.Thread == "" {
			add(problem.Missing, "thread", "", "a screwed fit needs its thread", nil)
		}
		if seat && f.Bore == nil {
			add(problem.Missing, "bore", "", "a seat needs its bore", nil)
		}
	}
}
