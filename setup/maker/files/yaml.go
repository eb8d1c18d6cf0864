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
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"setover/setup/base/problem"
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
// numbers, and every problem found so far.
type reader struct {
	name     string
	lines    []string
	bare     units.Unit
	problems problem.List
	harmless int // problems that leave the rest of the file fit to be checked
	warnings sheet.Warnings
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

// parse turns text into the file's one document, or the problems that keep it
// from being read at all.
func parse(name string, text []byte) (*reader, ast.Node, error) {
	r := &reader{name: name}
	whole := func(code problem.Code, want string) (*reader, ast.Node, error) {
		return r, nil, problem.List{{Code: code, At: problem.Pos{File: name}, Want: want}}
	}
	if len(text) > maxBytes {
		return whole(problem.TooLarge, fmt.Sprintf("more than %d KiB: a file of this kind is far smaller", maxBytes>>10))
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	lineOf := func(i int) int { return 1 + bytes.Count(text[:i], []byte("\n")) }
	if i := bytes.IndexByte(text, 0); i >= 0 {
		return whole(problem.Syntax, fmt.Sprintf("line %d holds a NUL byte: this is not a text file", lineOf(i)))
	}
	if !utf8.Valid(text) {
		return whole(problem.Syntax, fmt.Sprintf("line %d is not UTF-8: save the file as UTF-8", invalidLine(text)))
	}
	if i := bytes.IndexFunc(text, func(c rune) bool { return c != '\n' && c != '\t' && unicode.IsControl(c) }); i >= 0 {
		return whole(problem.Syntax, fmt.Sprintf("line %d holds a control character: this is not a text file", lineOf(i)))
	}
	r.lines = strings.Split(string(text), "\n")
	if err := r.shallow(); err != nil {
		return r, nil, err
	}
	doc, err := r.document(text)
	return r, doc, err
}

func invalidLine(text []byte) int {
	line := 1
	for len(text) > 0 {
		c, n := utf8.DecodeRune(text)
		if c == utf8.RuneError && n == 1 {
			break
		}
		if c == '\n' {
			line++
		}
		text = text[n:]
	}
	return line
}

// shallow refuses what would make the parser recurse or crawl: deep nesting
// and endless lines.
func (r *reader) shallow() error {
	depth := 0
	for i, l := range r.lines {
		refuse := func(want string) error {
			return problem.List{problem.Problem{Code: problem.TooLarge, At: problem.Pos{File: r.name, Line: i + 1, Col: 1}, Want: want}}
		}
		if len(l) > maxLine {
			return refuse(fmt.Sprintf("a line of more than %d characters", maxLine))
		}
		words := strings.TrimLeft(l, " \t-?")
		if lead := l[:len(l)-len(words)]; len(lead) > maxIndent || strings.Count(lead, "-") > maxDepth {
			return refuse("nested deeper than any part")
		}
		for _, c := range words {
			switch c {
			case '[', '{':
				depth++
			case ']', '}':
				depth = max(0, depth-1)
			}
			if depth > maxDepth {
				return refuse("nested deeper than any part")
			}
		}
	}
	return nil
}

// document parses the text and returns its only document.
func (r *reader) document(text []byte) (doc ast.Node, err error) {
	defer func() {
		if p := recover(); p != nil {
			doc, err = nil, problem.List{{Code: problem.Syntax, At: problem.Pos{File: r.name}, Want: "not well-formed YAML"}}
		}
	}()
	tokens := lexer.Tokenize(string(text))
	if len(tokens) > maxTokens {
		t := tokens[maxTokens]
		return nil, problem.List{{Code: problem.TooLarge, At: r.pos(t.Position.Line, t.Position.Column, 1), Want: fmt.Sprintf("more than %d words and marks up to here: a file of this kind is far smaller", maxTokens)}}
	}
	if r.refuse(tokens); len(r.problems) > 0 {
		return nil, r.done()
	}
	f, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, r.syntax(err)
	}
	for _, d := range f.Docs {
		if d.Body != nil {
			return d.Body, nil
		}
	}
	return nil, problem.List{{Code: problem.Missing, At: problem.Pos{File: r.name}, Want: "is empty: the first line is format: 1"}}
}

// machinery names the parts of YAML that these files do not use, and "" for the
// others. A few lines of them can stand for gigabytes.
func machinery(t token.Type) string {
	switch t {
	case token.AnchorType:
		return "an anchor (&)"
	case token.AliasType:
		return "an alias (*)"
	case token.TagType:
		return "a tag (!)"
	case token.DirectiveType:
		return "a directive (%)"
	case token.MergeKeyType:
		return "a merge key (<<)"
	case token.MappingKeyType:
		return "a complex key (?)"
	}
	return ""
}

// refuse refuses a second document and the machinery, before the parser sees
// them.
func (r *reader) refuse(tokens token.Tokens) {
	begun := false // the document has content
	ended := false // a mark after content: what follows is another document
	for _, t := range tokens {
		p := problem.Problem{Code: problem.Forbidden, At: r.pos(t.Position.Line, t.Position.Column, 1)}
		if p.Found = machinery(t.Type); p.Found != "" {
			p.Want = "not used in these files: write the value itself (in quotes if it is a text)"
			r.problems = append(r.problems, p)
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
				p.Want = "a second document in one file: one part, shop or project a file"
				r.problems = append(r.problems, p)
				return
			}
			begun = true
		}
	}
}

// plainly says the parser's commonest complaints in other words.
func plainly(complaint string) string {
	switch complaint {
	case "found character '\t' that cannot start any token":
		return "a tab does not indent: use spaces"
	case "could not find flow mapping end token '}'":
		return "this { has no }"
	case "sequence end token ']' not found":
		return "this [ has no ]"
	case "mapping value is not allowed in this context":
		return "a second colon on one line, or keys that do not stand under one another: put a text with a colon in quotes"
	case "could not find end character of double-quoted text":
		return "this \" has no second one"
	case "could not find end character of single-quoted text":
		return "this ' has no second one"
	case "could not find map value":
		return "a key without a value"
	case "unexpected key name":
		return "a key that does not stand under the others"
	case "found invalid token":
		return "not a value: put it in quotes if it is a text"
	case "non-map value is specified":
		return "a key without its colon"
	case "block sequence entries are not allowed in this context":
		return "a - that does not stand under the others"
	case "found an invalid key for this map":
		return "not a key: a key is one word"
	case "could not find expected ':'":
		return "a key without its colon"
	case "unexpected end of flow mapping":
		return "this } has no {"
	case "value is not allowed in this context":
		return "does not belong here: a comma, bracket or indent is wrong"
	case "value is not allowed in this context. map key-value is pre-defined":
		return "does not belong here: the key has its value already"
	}
	return complaint
}

// syntax turns the parser's complaint into a problem at its place. A size that
// starts with a hash and has no quotes has made the rest of its line a comment,
// brackets and all: that is said where it stands.
func (r *reader) syntax(err error) error {
	var e *yaml.SyntaxError
	p := problem.Problem{Code: problem.Syntax, At: problem.Pos{File: r.name}, Want: "not well-formed YAML"}
	if errors.As(err, &e) {
		p.Want = e.Message
		if e.Token != nil {
			p.At = r.pos(e.Token.Position.Line, e.Token.Position.Column, 1)
		}
	}
	p.Want = plainly(p.Want)
	if line, col, word := r.hashInBrackets(); line > 0 {
		p = problem.Problem{Code: problem.Syntax, At: r.pos(line, col, len(word)), Found: word, Want: hashHint + "; as it is, the bracket before it has no end"}
	}
	return problem.List{p}
}

const hashHint = "a # starts a comment: put the size in quotes, or write No (No7, No8-32)"

// hashInBrackets finds the first comment that starts with a digit behind an
// open bracket: most likely a size, such as #7 or #10-24.
func (r *reader) hashInBrackets() (line, col int, word string) {
	for i, l := range r.lines {
		code, comment, ok := strings.Cut(l, " #")
		if ok && comment != "" && comment[0] >= '0' && comment[0] <= '9' && strings.Count(code, "[")+strings.Count(code, "{") > strings.Count(code, "]")+strings.Count(code, "}") {
			return i + 1, utf8.RuneCountInString(code) + 2, "#" + strings.TrimRight(strings.Fields(comment)[0], ",]}")
		}
	}
	return 0, 0, ""
}

// pos returns a place in the file with its line.
func (r *reader) pos(line, col, width int) problem.Pos {
	p := problem.Pos{File: r.name, Line: line, Col: col, Width: width}
	if line >= 1 && line <= len(r.lines) {
		p.Source = r.lines[line-1]
	}
	return p
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
	return r.pos(t.Position.Line, t.Position.Column, max(1, utf8.RuneCountInString(strings.TrimSpace(t.Origin))))
}

// add keeps a problem, placed at a node.
func (r *reader) add(n ast.Node, p problem.Problem) {
	pos := r.at(n)
	pos.Key = p.At.Key
	r.problems = append(r.problems, p.In(pos))
}

// addErr keeps the problems of err, placed at a node under a key.
func (r *reader) addErr(n ast.Node, key string, err error) {
	var list problem.List
	list.Add(err)
	for _, p := range list {
		p.At = problem.Pos{Key: key}
		r.add(n, p)
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
			r.add(v, problem.Problem{Code: problem.Duplicate, Found: key, Want: fmt.Sprintf("stands here and on line %d: say it once", line)})
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
	if !adjoin(a, b) || !whole(strings.TrimPrefix(a.Value, "-")) || b.Value == "" || !whole(b.Value[:1]) {
		return false
	}
	typed := a.Value + "," + b.Value
	at := r.pos(a.Position.Line, a.Position.Column, len(typed))
	at.Key = key
	r.problems = append(r.problems, problem.Problem{
		Code: problem.DecimalComma, At: at, Found: typed,
		Want: "a comma is not read as a decimal point: write " + a.Value + "." + b.Value,
	})
	return true
}

// adjoin reports whether only a comma stands between two tokens of a line.
func adjoin(a, b *token.Token) bool {
	return a.Position.Line == b.Position.Line && b.Position.Column == a.Position.Column+utf8.RuneCountInString(a.Value)+1
}

// whole reports whether a text is digits alone.
func whole(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// items returns the items of a list, or ok = false for anything else.
func (r *reader) items(n ast.Node) ([]ast.Node, bool) {
	s, ok := n.(*ast.SequenceNode)
	if !ok {
		return nil, false
	}
	if len(s.Values) > maxItems {
		r.add(s.Values[maxItems], problem.Problem{Code: problem.TooLarge, Want: fmt.Sprintf("more than %d items in one list", maxItems)})
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
		if whole(strings.TrimPrefix(a.Value, "-")) && whole(b.Value) && adjoin(a, b) {
			return a, b, true
		}
	}
	return nil, nil, false
}

// warnComma warns of a list of lengths that may hold a decimal comma.
func (r *reader) warnComma(n ast.Node) {
	if a, b, found := commaInList(n); found {
		r.warnings.Add("decimal-comma", fmt.Sprintf("%s:%d:%d: %s,%s was read as two numbers; for one write %s.%s, for two put a space after the comma",
			r.name, a.Position.Line, a.Position.Column, a.Value, b.Value, a.Value, b.Value))
	}
}

// wrongLength refuses a list that has not as many values as want shows.
func (r *reader) wrongLength(n ast.Node, key string, has int, want string) {
	count := fmt.Sprintf("%d values", has)
	if has == 1 {
		count = "1 value"
	}
	p := problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Found: count, Want: "must be " + want}
	if a, b, found := commaInList(n); found {
		p.Want += fmt.Sprintf("; %s,%s was read as two numbers, for one write %s.%s", a.Value, b.Value, a.Value, b.Value)
	}
	r.add(n, p)
}

// done returns the file's problems in the order of its lines, at most
// maxProblems of them.
func (r *reader) done() error {
	slices.SortStableFunc(r.problems, func(a, b problem.Problem) int {
		return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Col, b.At.Col))
	})
	if more := len(r.problems) - maxProblems; more > 0 {
		r.problems = append(r.problems[:maxProblems], problem.Problem{
			Code: problem.TooLarge, At: problem.Pos{File: r.name}, Want: fmt.Sprintf("%d more problems, not shown", more),
		})
	}
	return r.problems.Err()
}

// text returns the source text of a scalar. Numbers come as written, so that
// 010 is ten and nothing goes through a float.
func (r *reader) text(n ast.Node, key, want string) (string, bool) {
	switch v := n.(type) {
	case *ast.NullNode:
		p := problem.Problem{Code: problem.Missing, At: problem.Pos{Key: key}, Want: "has no value: write " + want}
		if line := r.at(n).Source; strings.Contains(line, "#") {
			p.Want += "; " + hashHint
		}
		r.add(n, p)
		return "", false
	case *ast.StringNode:
		return r.printable(n, key, v.Value)
	case *ast.LiteralNode:
		return r.printable(n, key, v.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be " + want + ", not a list or a group of keys"})
	return "", false
}

// printable refuses a text that would do more to a terminal than be shown.
func (r *reader) printable(n ast.Node, key, text string) (string, bool) {
	if strings.ContainsFunc(text, func(c rune) bool { return c != '\n' && c != '\t' && !unicode.IsGraphic(c) }) {
		r.add(n, problem.Problem{Code: problem.Malformed, At: problem.Pos{Key: key}, Found: fmt.Sprintf("%q", text), Want: "holds a character that cannot be printed"})
		return "", false
	}
	return text, true
}
