package problem

import "strings"

// Nearest returns the word in words that found was probably meant to be, or ""
// when none is near: the optimal string alignment distance (insert, delete,
// replace, swap neighbours; case ignored) may be at most a third of the longer
// word, and at least 1 is always allowed in words of three letters or more.
// Of two equally near the first wins.
func Nearest(found string, words []string) string {
	best, at := "", 1<<30
	f := strings.ToLower(found)
	for _, w := range words {
		n := max(len([]rune(f)), len([]rune(w)))
		limit := n / 3
		if n >= 3 {
			limit = max(limit, 1)
		}
		if d := distance(f, strings.ToLower(w)); d <= limit && d < at {
			best, at = w, d
		}
	}
	return best
}

// distance is the optimal string alignment distance of a and b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	prev2, prev := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(x); i++ {
		cur := make([]int, len(y)+1)
		cur[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			cur[j] = min(cur[j-1]+1, prev[j]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev = prev, cur
	}
	return prev[len(y)]
}
