package setup_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// module is the project's name in import paths.
const module = "setover/"

// listed is a package as the go command lists it.
type listed struct {
	ImportPath, Dir, Export            string
	GoFiles, TestGoFiles, XTestGoFiles []string
	Imports                            []string
	Standard                           bool
	Module                             *struct{ Path string }
}

// ours returns the package's path without the module's name, or false when it
// is somebody else's.
func (p listed) ours() (string, bool) { return strings.CutPrefix(p.ImportPath, module) }

// packages are all that the program is made of, listed once. Every folder is
// opened first: the go command does not see what another process reads, and
// would keep an old answer of this test where a file is new.
var packages = sync.OnceValues(func() (map[string]listed, error) {
	err := filepath.WalkDir("..", func(_ string, d fs.DirEntry, err error) error {
		if d.IsDir() && (d.Name() == ".git" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	fields := "-json=ImportPath,Dir,Export,GoFiles,TestGoFiles,XTestGoFiles,Imports,Standard,Module"
	c := exec.Command("go", "list", "-export", "-deps", fields, "./...")
	c.Dir = ".."
	out, err := c.Output()
	if failed := (*exec.ExitError)(nil); errors.As(err, &failed) {
		return nil, fmt.Errorf("go list: %w\n%s", err, failed.Stderr)
	}
	all := map[string]listed{}
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			return nil, err
		}
		all[p.ImportPath] = p
	}
	return all, err
})

// list returns all packages by import path.
func list(t *testing.T) map[string]listed {
	t.Helper()
	all, err := packages()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// source is a Go file of ours.
type source struct {
	name string // from the top of the tree
	text string
	tree *ast.File
}

// test reports whether the file is one of a test.
func (f source) test() bool { return strings.HasSuffix(f.name, "_test.go") }

// code is Go files, with the types of their expressions.
type code struct {
	fset     *token.FileSet
	files    []source
	info     types.Info
	compiled types.Importer
}

// newCode returns no files yet. What they import is taken as the compiler left
// it.
func newCode(all map[string]listed) *code {
	c := &code{fset: token.NewFileSet(), info: types.Info{
		Types: map[ast.Expr]types.TypeAndValue{},
		Uses:  map[*ast.Ident]types.Object{},
	}}
	c.compiled = importer.ForCompiler(c.fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(all[path].Export)
	})
	return c
}

// line returns where a node stands: the file and the line.
func (c *code) line(n ast.Node) string {
	p := c.fset.Position(n.Pos())
	name, _ := filepath.Rel("..", p.Filename)
	return fmt.Sprintf("%s:%d", filepath.ToSlash(name), p.Line)
}

// read parses every Go file of ours and works out its types, once.
var read = sync.OnceValues(func() (*code, error) {
	all, err := packages()
	if err != nil {
		return nil, err
	}
	c := newCode(all)
	for _, p := range all {
		room, ours := p.ours()
		if !ours {
			continue
		}
		tested, err := c.add(room, append(p.GoFiles, p.TestGoFiles...), c.compiled)
		if err != nil {
			return nil, err
		}
		from := importerFunc(func(path string) (*types.Package, error) {
			if path == p.ImportPath {
				return tested, nil
			}
			return c.compiled.Import(path)
		})
		if _, err := c.add(room, p.XTestGoFiles, from); err != nil {
			return nil, err
		}
	}
	return c, nil
})

// importerFunc is a function that imports.
type importerFunc func(path string) (*types.Package, error)

func (f importerFunc) Import(path string) (*types.Package, error) { return f(path) }

// add reads files that are one package. Tests may use packages that are not
// listed, so what is wrong in a test's types is passed over.
func (c *code) add(room string, names []string, from types.Importer) (*types.Package, error) {
	var trees []*ast.File
	for _, n := range names {
		name := filepath.Join("..", room, n)
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		tree, err := parser.ParseFile(c.fset, name, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		trees = append(trees, tree)
		c.files = append(c.files, source{room + "/" + n, string(text), tree})
	}
	if len(trees) == 0 {
		return nil, nil
	}
	var wrong error
	checker := types.Config{Importer: from, Error: func(err error) {
		if e, ok := err.(types.Error); ok && !strings.HasSuffix(c.fset.Position(e.Pos).Filename, "_test.go") {
			wrong = errors.Join(wrong, err)
		}
	}}
	made, _ := checker.Check(module+room, c.fset, trees, &c.info)
	return made, wrong
}

// sources returns every Go file of ours.
func sources(t *testing.T) *code {
	t.Helper()
	c, err := read()
	if err != nil {
		t.Fatal(err)
	}
	return c
}
