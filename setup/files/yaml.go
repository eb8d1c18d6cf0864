package files

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"setover/setup/problem"
	"setover/setup/sheet"
	"setover/setup/units"
)

// The bounds of a file. A part with a thousand features has some 50 KB.
const (
	maxBytes   = 1 << 20
	maxDepth   = 32  // brackets or dashes inside one another
	maxIndent  = 120 // columns before the first word of a line
	maxLine    = 4096
	formatRead = 1 // the newest format this program reads
)

// reader reads one file: it keeps the lines for messages, the unit of bare
// numbers, and every problem found so far.
type reader struct {
	name     string
	lines    []string
	bare     units.Unit
	problems problem.List
	warnings sheet.Warnings
}

// open reads a file's bytes, at most maxBytes of them.
func open(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil {
		return nil, err
	} else if !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "read", Path: name, Err: errors.New("not a regular file")}
	}
	text, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return nil, err
	}
	return text, nil
}

// hash returns the first digits of a file's SHA-256, enough to tell two states
// of one file apart.
func hash(text []byte) string { return fmt.Sprintf("%x", sha256.Sum256(text))[:7] }

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
	if i := bytes.IndexByte(text, 0); i >= 0 {
		return whole(problem.Syntax, fmt.Sprintf("line %d holds a NUL byte: this is not a text file", 1+bytes.Count(text[:i], []byte("\n"))))
	}
	if !utf8.Valid(text) {
		return whole(problem.Syntax, fmt.Sprintf("line %d is not UTF-8: save the file as UTF-8", invalidLine(text)))
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
	f, err := parser.ParseBytes(text, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, r.syntax(err)
	}
	var docs []ast.Node
	for _, d := range f.Docs {
		if d.Body != nil {
			docs = append(docs, d.Body)
		}
	}
	switch len(docs) {
	case 0:
		return nil, problem.List{{Code: problem.Missing, At: problem.Pos{File: r.name}, Want: "is empty: the first line is format: 1"}}
	case 1:
		r.refuseMachinery(docs[0])
		return docs[0], r.problems.Err()
	}
	r.add(docs[1], problem.Problem{Code: problem.Forbidden, Want: "a second document in one file: one part or shop a file"})
	return nil, r.problems
}

// syntax turns the parser's complaint into a problem at its place.
func (r *reader) syntax(err error) error {
	var e *yaml.SyntaxError
	p := problem.Problem{Code: problem.Syntax, At: problem.Pos{File: r.name}, Want: "not well-formed YAML"}
	if errors.As(err, &e) {
		p.Want = e.Message
		if e.Token != nil {
			p.At = r.pos(e.Token.Position.Line, e.Token.Position.Column, 1)
		}
	}
	return problem.List{p}
}

// refuseMachinery refuses the parts of YAML that these files do not use:
// anchors, aliases, merge keys, tags and directives. A few lines of them can
// stand for gigabytes.
func (r *reader) refuseMachinery(n ast.Node) {
	found := ""
	switch n := n.(type) {
	case *ast.AnchorNode:
		found = "an anchor (&)"
	case *ast.AliasNode:
		found = "an alias (*)"
	case *ast.TagNode:
		found = "a tag (!)"
	case *ast.DirectiveNode:
		found = "a directive (%)"
	case *ast.MergeKeyNode:
		found = "a merge key (<<)"
	case *ast.MappingNode:
		for _, v := range n.Values {
			r.refuseMachinery(v)
		}
	case *ast.MappingValueNode:
		r.refuseMachinery(n.Key)
		r.refuseMachinery(n.Value)
	case *ast.MappingKeyNode:
		found = "a complex key (?)"
	case *ast.SequenceNode:
		for _, v := range n.Values {
			r.refuseMachinery(v)
		}
	}
	if found != "" {
		r.add(n, problem.Problem{Code: problem.Forbidden, Found: found, Want: "not used in these files: write the value itself (in quotes if it is a text)"})
	}
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

// entry is a key of a mapping with its value.
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
	for _, v := range values {
		key := v.Key.GetToken().Value
		if line, twice := first[key]; twice {
			r.add(v, problem.Problem{Code: problem.Duplicate, Found: key, Want: fmt.Sprintf("stands here and on line %d: say it once", line)})
			continue
		}
		first[key] = v.Key.GetToken().Position.Line
		list = append(list, entry{key, v, v.Value})
	}
	return list, true
}

// items returns the items of a list, or ok = false for anything else.
func (r *reader) items(n ast.Node) ([]ast.Node, bool) {
	s, ok := n.(*ast.SequenceNode)
	if !ok {
		return nil, false
	}
	if s.IsFlowStyle {
		r.warnCommas(s)
	}
	return s.Values, true
}

// warnCommas warns of neighbouring whole numbers with no space between that
// could be one number with a decimal comma: [3,2, 1].
func (r *reader) warnCommas(s *ast.SequenceNode) {
	for i, v := range s.Values[:max(0, len(s.Values)-1)] {
		a, b := v.GetToken(), s.Values[i+1].GetToken()
		whole := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
		if whole(a.Value) && whole(b.Value) && a.Position.Line == b.Position.Line && b.Position.Column == a.Position.Column+len(a.Value)+1 {
			r.warnings.Add("decimal-comma", fmt.Sprintf("%s:%d:%d: %s,%s was read as two numbers; for one write %s.%s, for two put a space after the comma",
				r.name, a.Position.Line, a.Position.Column, a.Value, b.Value, a.Value, b.Value))
		}
	}
}

// text returns the source text of a scalar. Numbers come as written, so that
// 010 is ten and nothing goes through a float.
func (r *reader) text(n ast.Node, key, want string) (string, bool) {
	switch v := n.(type) {
	case *ast.NullNode:
		p := problem.Problem{Code: problem.Missing, At: problem.Pos{Key: key}, Want: "has no value: write " + want}
		if line := r.at(n).Source; strings.Contains(line, "#") {
			p.Want += "; a # starts a comment, so put it in quotes or write No instead (No7, No8-32)"
		}
		r.add(n, p)
		return "", false
	case *ast.StringNode:
		return v.Value, true
	case *ast.LiteralNode:
		return v.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be " + want + ", not a list or a group of keys"})
	return "", false
}
