package files

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// The bounds of a file. A part with a thousand features has some 50 KB and
// 20,000 tokens. The YAML parser's time grows with the square of the tokens, so
// their number is what keeps any file within a second.
const (
	maxBytes    = 256 << 10
	maxTokens   = 24_000 // words, colons, commas, brackets and dashes
	maxItems    = 2000   // in one list
	maxDepth    = 32     // brackets or dashes inside one another
	maxIndent   = 120    // columns before the first word of a line
	maxLine     = 4096
	maxParts    = 100 // in one project
	maxProblems = 100 // told in one run
	formatRead  = 1   // the newest format this program reads
)

// hash returns the first digits of a file's SHA-256, enough to tell two states
// of one file apart.
func hash(text []byte) string { return fmt.Sprintf("%x", sha256.Sum256(text))[:7] }

// reader reads one file: it keeps the lines for messages, the unit of bare
// numbers, and every problem and warning found so far.
type reader struct {
	name     string
	lines    []string
	bare     units.Unit
	problems problem.List
	harmless int // problems that leave the rest of the file fit to be checked
	asked    []asked
	sheet.Remarks
}

// open reads a file's bytes, one more than maxBytes of them at the most. What
// is not a regular file is not opened: a pipe might never end.
func open(name string) ([]byte, error) {
	if info, err := os.Stat(name); err != nil {
		return nil, err
	} else if !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "read", Path: name, Err: errors.New("not a regular file")}
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxBytes+1))
}

// read parses a file and reads the keys of its mapping, unless it is another
// kind of file; fields are asked for once the unit of bare numbers is known.
func read(name string, text []byte, kind string, fields func(r *reader) []field) (r *reader, doc ast.Node, known bool) {
	r, doc, err := parse(name, text)
	if err != nil {
		return r, nil, false
	}
	known = r.header(doc, kind)
	if known {
		r.mapping(doc, "", fields(r))
	}
	return r, doc, known
}

// parse turns text into the file's one document, or the problems that keep it
// from being read at all.
func parse(name string, text []byte) (r *reader, doc ast.Node, err error) {
	r = &reader{name: name}
	if len(text) > maxBytes {
		r.file(problem.TooLarge, "more than ", maxBytes>>10, " KiB: a file of this kind is far smaller")
		return r, nil, r.done()
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	r.lines = strings.Split(string(text), "\n")
	for i, l := range r.lines {
		if why := notText(l); why != "" {
			r.file(problem.Syntax, "line ", i+1, " ", why)
			return r, nil, r.done()
		}
	}
	if r.shallow(); len(r.problems) == 0 {
		doc = r.document(text)
	}
	return r, doc, r.done()
}

// notText returns what makes a line no text, or "".
func notText(line string) string {
	switch {
	case strings.Contains(line, "\x00"):
		return "holds a NUL byte: this is not a text file"
	case !utf8.ValidString(line):
		return "is not UTF-8: save the file as UTF-8"
	case strings.ContainsFunc(line, func(c rune) bool { return c != '\t' && unicode.IsControl(c) }):
		return "holds a control character: this is not a text file"
	}
	return ""
}

// shallow refuses what would make the parser recurse or crawl: deep nesting
// and endless lines.
func (r *reader) shallow() {
	depth := 0
	for i, l := range r.lines {
		at := problem.Pos{File: r.name, Line: i + 1, Col: 1}
		if len(l) > maxLine {
			r.place(at, problem.TooLarge, nil, "a line of more than ", maxLine, " characters")
			return
		}
		words := strings.TrimLeft(l, " \t-?")
		lead := l[:len(l)-len(words)]
		deep := len(lead) > maxIndent || strings.Count(lead, "-") > maxDepth
		for _, c := range words {
			switch c {
			case '[', '{':
				depth++
			case ']', '}':
				depth = max(0, depth-1)
			}
			deep = deep || depth > maxDepth
		}
		if deep {
			r.place(at, problem.TooLarge, nil, "nested deeper than any part")
			return
		}
	}
}

// document parses the text and returns its only document, nil with a problem.
func (r *reader) document(text []byte) (doc ast.Node) {
	defer func() {
		if p := recover(); p != nil {
			doc = nil
			r.file(problem.Syntax, notYAML)
		}
	}()
	tokens := lexer.Tokenize(string(text))
	if len(tokens) > maxTokens {
		r.place(r.token(tokens[maxTokens]), problem.TooLarge, nil,
			"more than ", maxTokens, " words and marks up to here: a file of this kind is far smaller")
		return nil
	}
	if r.refuse(tokens); len(r.problems) > 0 {
		return nil
	}
	f, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		r.syntax(err)
		return nil
	}
	for _, d := range f.Docs {
		if d.Body != nil {
			return d.Body
		}
	}
	r.file(problem.Missing, "is empty: the first line is format: 1")
	return nil
}

const notYAML = "not well-formed YAML"

// machinery names the parts of YAML that these files do not use. A few lines of
// them can stand for gigabytes.
var machinery = map[token.Type]string{
	token.AnchorType:     "an anchor (&)",
	token.AliasType:      "an alias (*)",
	token.TagType:        "a tag (!)",
	token.DirectiveType:  "a directive (%)",
	token.MergeKeyType:   "a merge key (<<)",
	token.MappingKeyType: "a complex key (?)",
}

// refuse refuses a second document and the machinery, before the parser sees
// them.
func (r *reader) refuse(tokens token.Tokens) {
	begun := false // the document has content
	ended := false // a mark after content: what follows is another document
	for _, t := range tokens {
		if name, found := machinery[t.Type]; found {
			r.place(r.token(t), problem.Forbidden, name,
				"not used in these files: write the value itself (in quotes if it is a text)")
			if t.Type == token.DirectiveType {
				return
			}
			continue
		}
		switch t.Type {
		case token.DocumentHeaderType, token.DocumentEndType:
			ended = begun
		case token.CommentType:
		default:
			if ended {
				r.place(r.token(t), problem.Forbidden, nil,
					"a second document in one file: one part, shop or project a file")
				return
			}
			begun = true
		}
	}
}

// plainly has the parser's commonest complaints in other words.
var plainly = map[string]string{
	"found character '\t' that cannot start any token":       "a tab does not indent: use spaces",
	"could not find flow mapping end token '}'":              "this { has no }",
	"sequence end token ']' not found":                       "this [ has no ]",
	"could not find end character of double-quoted text":     "this \" has no second one",
	"could not find end character of single-quoted text":     "this ' has no second one",
	"could not find map value":                               "a key without a value",
	"unexpected key name":                                    "a key that does not stand under the others",
	"found invalid token":                                    "not a value: put it in quotes if it is a text",
	"non-map value is specified":                             "a key without its colon",
	"block sequence entries are not allowed in this context": "a - that does not stand under the others",
	"found an invalid key for this map":                      "not a key: a key is one word",
	"could not find expected ':'":                            "a key without its colon",
	"unexpected end of flow mapping":                         "this } has no {",
	"value is not allowed in this context":                   "does not belong here: a comma, bracket or indent is wrong",
	"mapping value is not allowed in this context": "a second colon on one line, or keys that do not " +
		"stand under one another: put a text with a colon in quotes",
	"value is not allowed in this context. map key-value is pre-defined": "does not belong here: the key has its " +
		"value already",
}

// syntax turns the parser's complaint into a problem at its place. A size that
// starts with a hash and has no quotes has made the rest of its line a comment,
// brackets and all: that is said where it stands.
func (r *reader) syntax(err error) {
	if line, col, word := r.hashInBrackets(); line > 0 {
		r.place(r.mark(line, col, len(word)), problem.Syntax, word,
			hashHint, "; as it is, the bracket before it has no end")
		return
	}
	var e *yaml.SyntaxError
	if !errors.As(err, &e) {
		r.file(problem.Syntax, notYAML)
		return
	}
	pos := problem.Pos{File: r.name}
	if e.Token != nil {
		pos = r.token(e.Token)
	}
	r.place(pos, problem.Syntax, nil, cmp.Or(plainly[e.Message], e.Message))
}

const hashHint = "a # starts a comment: put the size in quotes, or write No (No7, No8-32)"

// hashInBrackets finds the first comment that starts with a digit behind an
// open bracket: most likely a size, such as #7 or #10-24.
func (r *reader) hashInBrackets() (line, col int, word string) {
	count := func(s, a, b string) int { return strings.Count(s, a) + strings.Count(s, b) }
	for i, l := range r.lines {
		code, comment, _ := strings.Cut(l, " #")
		if comment != "" && digits(comment[:1]) && count(code, "[", "{") > count(code, "]", "}") {
			word := "#" + strings.TrimRight(strings.Fields(comment)[0], ",]}")
			return i + 1, utf8.RuneCountInString(code) + 2, word
		}
	}
	return 0, 0, ""
}

// mark returns a place in the file with its line.
func (r *reader) mark(line, col, width int) problem.Pos {
	p := problem.Pos{File: r.name, Line: line, Col: col, Width: width}
	if line >= 1 && line <= len(r.lines) {
		p.Source = r.lines[line-1]
	}
	return p
}

// token returns the place of a token.
func (r *reader) token(t *token.Token) problem.Pos {
	return r.mark(t.Position.Line, t.Position.Column, 1)
}

// at returns the place of a node.
func (r *reader) at(n ast.Node) problem.Pos {
	t := n.GetToken()
	if v, ok := n.(*ast.MappingValueNode); ok {
		t = v.Key.GetToken()
	}
	if m, ok := n.(*ast.MappingNode); ok && !m.IsFlowStyle && len(m.Values) > 0 {
		t = m.Values[0].Key.GetToken()
	}
	if t == nil || t.Position == nil {
		return problem.Pos{File: r.name}
	}
	width := utf8.RuneCountInString(strings.TrimSpace(t.Origin))
	return r.mark(t.Position.Line, t.Position.Column, max(1, width))
}

// under returns the place of a node under a key.
func (r *reader) under(n ast.Node, key string) problem.Pos {
	pos := r.at(n)
	pos.Key = key
	return pos
}

// place keeps a problem at a place of the file.
func (r *reader) place(at problem.Pos, code problem.Code, found any, want ...any) {
	r.problems = append(r.problems, problem.New(code, "", found, want...).In(at))
}

// no keeps a problem with the value of a key, which stands at a node.
func (r *reader) no(n ast.Node, code problem.Code, key string, found any, want ...any) {
	r.place(r.under(n, key), code, found, want...)
}

// file keeps a problem of the file as a whole.
func (r *reader) file(code problem.Code, want ...any) {
	r.place(problem.Pos{File: r.name}, code, nil, want...)
}

// refused keeps the problems of err as those of a key's value.
func (r *reader) refused(n ast.Node, key string, err error) {
	var list problem.List
	list.Add(err)
	for _, p := range list {
		r.problems = append(r.problems, p.In(r.under(n, key)))
	}
}

// entry is a key of a mapping with its value, which is nil when it was refused
// already.
type entry struct {
	key  string
	at   ast.Node
	node ast.Node
}

// entries returns the keys of a mapping in their order, or ok = false for
// anything else. A key that stands twice is a problem that names both lines.
func (r *reader) entries(n ast.Node) (list []entry, ok bool) {
	var values []*ast.MappingValueNode
	switch n := n.(type) {
	case *ast.MappingNode:
		values = n.Values
	case *ast.MappingValueNode:
		values = []*ast.MappingValueNode{n}
	default:
		return nil, false
	}
	first := map[string]int{}
	for i := 0; i < len(values); i++ {
		v := values[i]
		key, ok := r.printable(v, "", v.Key.GetToken().Value)
		if !ok {
			continue
		}
		if line, twice := first[key]; twice {
			r.no(v, problem.Duplicate, "", key, "stands here and on line ", line, ": say it once")
			r.harmless++
			continue
		}
		first[key] = v.Key.GetToken().Position.Line
		e := entry{key, v, v.Value}
		if i+1 < len(values) && r.splitByComma(key, v, values[i+1]) {
			e.node = nil
			i++
		}
		list = append(list, e)
	}
	return list, true
}

// splitByComma reports a decimal comma in a group on one line: {dia: 4,2} is
// dia: 4 and a key called 2 without a value.
func (r *reader) splitByComma(key string, v, next *ast.MappingValueNode) bool {
	if _, null := next.Value.(*ast.NullNode); !null || v.Value == nil {
		return false
	}
	a, b := v.Value.GetToken(), next.Key.GetToken()
	if !adjoin(a, b) || b.Value == "" || !digits(b.Value[:1]) {
		return false
	}
	typed := a.Value + "," + b.Value
	at := r.mark(a.Position.Line, a.Position.Column, len(typed))
	at.Key = key
	r.place(at, problem.DecimalComma, typed, "a comma is not read as a decimal point: write ", a.Value, ".", b.Value)
	return true
}

// adjoin reports whether a whole number and only a comma stand before a token
// of the same line.
func adjoin(a, b *token.Token) bool {
	return digits(strings.TrimPrefix(a.Value, "-")) && b.Position.Line == a.Position.Line &&
		b.Position.Column == a.Position.Column+utf8.RuneCountInString(a.Value)+1
}

// digits reports whether a text is digits alone.
func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// items returns the items of a list, or ok = false for anything else.
func (r *reader) items(n ast.Node) ([]ast.Node, bool) {
	s, ok := n.(*ast.SequenceNode)
	if !ok {
		return nil, false
	}
	if len(s.Values) > maxItems {
		r.no(s.Values[maxItems], problem.TooLarge, "", nil, "more than ", maxItems, " items in one list")
		return s.Values[:maxItems], true
	}
	return s.Values, true
}

// commaInList returns the first two neighbours of a list on one line that
// could be one number with a decimal comma, as the 3,2 of [3,2, 1]: whole
// numbers with no space between.
func commaInList(n ast.Node) (a, b *token.Token, found bool) {
	s, ok := n.(*ast.SequenceNode)
	if !ok || !s.IsFlowStyle {
		return nil, nil, false
	}
	for i := 1; i < len(s.Values); i++ {
		a, b := s.Values[i-1].GetToken(), s.Values[i].GetToken()
		if digits(b.Value) && adjoin(a, b) {
			return a, b, true
		}
	}
	return nil, nil, false
}

// warnComma warns of a list of lengths that may hold a decimal comma.
func (r *reader) warnComma(n ast.Node) {
	if a, b, found := commaInList(n); found {
		p := a.Position
		r.Warn("decimal-comma", r.name, ":", p.Line, ":", p.Column, ": ", a.Value, ",", b.Value,
			" was read as two numbers; for one write ", a.Value, ".", b.Value, ", for two put a space after the comma")
	}
}

// remark warns of something that is read all the same, at a node.
func (r *reader) remark(n ast.Node, code string, pieces ...any) {
	at := r.at(n)
	r.asked = append(r.asked, asked{at.Line, at.Col, code, say.Of(pieces...)})
}

// asked is a remark on what is read all the same.
type asked struct {
	line, col int
	code      string
	text      say.Text
}

// wrongLength refuses a list that has not as many values as shape shows.
func (r *reader) wrongLength(n ast.Node, key string, has int, shape string) {
	want := say.Of("must be ", shape)
	if a, b, found := commaInList(n); found {
		want = say.Of(want, "; ", a.Value, ",", b.Value, " was read as two numbers, for one write ", a.Value, ".", b.Value)
	}
	r.no(n, problem.WrongType, key, say.Count(has, "value", "values"), want)
}

// done returns the file's problems in the order of its lines, at most
// maxProblems of them, and makes its remarks warnings.
func (r *reader) done() error {
	slices.SortStableFunc(r.asked, func(a, b asked) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.col, b.col))
	})
	for _, a := range r.asked {
		r.Warn(a.code, r.name, ":", a.line, ":", a.col, ": ", a.text)
	}
	r.asked = nil
	slices.SortStableFunc(r.problems, func(a, b problem.Problem) int {
		return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Col, b.At.Col))
	})
	if more := len(r.problems) - maxProblems; more > 0 {
		r.problems = r.problems[:maxProblems]
		r.file(problem.TooLarge, more, " more problems, not shown")
	}
	return r.problems.Err()
}

// text returns the source text of a scalar. Numbers come as written, so that
// 010 is ten and nothing goes through a float.
func (r *reader) text(n ast.Node, key, want string) (string, bool) {
	switch v := n.(type) {
	case *ast.NullNode:
		hint := ""
		if strings.Contains(r.at(n).Source, "#") {
			hint = "; " + hashHint
		}
		r.no(n, problem.Missing, key, nil, "has no value: write ", want, hint)
		return "", false
	case *ast.StringNode:
		return r.printable(n, key, v.Value)
	case *ast.LiteralNode:
		return r.printable(n, key, v.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	r.no(n, problem.WrongType, key, nil, "must be ", want, ", not a list or a group of keys")
	return "", false
}

// printable refuses a text that would do more to a terminal than be shown, and
// the marks that sentences keep for themselves.
func (r *reader) printable(n ast.Node, key, text string) (string, bool) {
	if strings.ContainsFunc(text, func(c rune) bool { return c != '\n' && c != '\t' && !unicode.IsGraphic(c) }) {
		r.no(n, problem.Malformed, key, strconv.Quote(text), "holds a character that cannot be printed")
		return "", false
	}
	return text, true
}
