package judge

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// Tree is a mapping of a YAML file, as decoded.
type Tree = map[string]any

// node is a place in a file, with what a bare number is in mm.
type node struct {
	tree Tree
	unit float64
}

// in returns the mapping under a key; an absent one is empty.
func (n node) in(key string) node {
	t, _ := n.tree[key].(Tree)
	return node{t, n.unit}
}

func (n node) has(key string) bool { _, ok := n.tree[key]; return ok }

// list returns what stands under a key as a list; one thing is a list of one.
func (n node) list(key string) []any {
	switch v := n.tree[key].(type) {
	case nil:
		return nil
	case []any:
		return v
	default:
		return []any{v}
	}
}

// nodes returns the mappings of a list.
func (n node) nodes(key string) []node {
	var all []node
	for _, v := range n.list(key) {
		if t, ok := v.(Tree); ok {
			all = append(all, node{t, n.unit})
		}
	}
	return all
}

func (n node) text(key string) string {
	if n.tree[key] == nil {
		return ""
	}
	return fmt.Sprint(n.tree[key])
}

// length returns a length in mm, or 0 and false.
func (n node) length(key string) (float64, bool) { return length(n.tree[key], n.unit) }

// mm returns a length in mm, 0 where there is none.
func (n node) mm(key string) float64 { v, _ := n.length(key); return v }

// or returns a length in mm, or another where there is none.
func (n node) or(key string, other float64) float64 {
	if v, ok := n.length(key); ok {
		return v
	}
	return other
}

// count returns a whole number.
func (n node) count(key string, other int) int {
	if v, ok := number(n.tree[key]); ok {
		return int(v)
	}
	return other
}

// number returns a plain number.
func number(v any) (float64, bool) {
	switch v := v.(type) {
	case float64:
		return v, true
	case int:
		return float64(v), true
	case int64:
		return float64(v), true
	case uint64:
		return float64(v), true
	case json.Number:
		f, err := v.Float64()
		return f, err == nil
	case string:
		whole, part, ok := strings.Cut(v, "/")
		if !ok {
			f, err := strconv.ParseFloat(v, 64)
			return f, err == nil
		}
		above, err := strconv.ParseFloat(whole, 64)
		below, err2 := strconv.ParseFloat(part, 64)
		return above / below, err == nil && err2 == nil && below != 0
	}
	return 0, false
}

const inch = 25.4

// length returns a length in mm: a bare number in the file's unit, or one with
// its own.
func length(v any, unit float64) (float64, bool) {
	if s, ok := v.(string); ok {
		s = strings.TrimSpace(s)
		for suffix, of := range map[string]float64{"mm": 1, "in": inch, `"`: inch, "inch": inch} {
			if bare, found := strings.CutSuffix(s, suffix); found {
				f, ok := number(strings.TrimSpace(bare))
				return f * of, ok
			}
		}
		v = s
	}
	f, ok := number(v)
	return f * unit, ok
}

// degrees returns an angle in degrees: 8, 8deg, 8° or 4' for minutes.
func degrees(v any) (float64, bool) {
	s := strings.TrimSpace(fmt.Sprint(v))
	if m, ok := strings.CutSuffix(s, "'"); ok {
		f, ok := number(m)
		return f / 60, ok
	}
	for _, unit := range []string{"deg", "°"} {
		s = strings.TrimSpace(strings.TrimSuffix(s, unit))
	}
	return number(s)
}

// rootOf returns a file's root, with its unit.
func rootOf(t Tree) node {
	n := node{t, 1}
	if u := n.text("units"); u == "in" || u == "inch" {
		n.unit = inch
	}
	return n
}
