package plan

import (
	"flag"
	"os"
	"testing"
)

// TestMain draws few random parts, for they take a second a dozen, and more with
// SETOVER_SLOW set.
func TestMain(m *testing.M) {
	flag.Parse()
	checks := "4"
	if os.Getenv("SETOVER_SLOW") != "" {
		checks = "15"
	}
	if err := flag.Set("rapid.checks", checks); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}
