package plan

import (
	"flag"
	"os"
	"testing"
)

// TestMain draws few random parts, for they take a second a dozen. With
// SETOVER_SLOW set it draws as many as -rapid.checks says.
func TestMain(m *testing.M) {
	flag.Parse()
	if os.Getenv("SETOVER_SLOW") == "" {
		if err := flag.Set("rapid.checks", "6"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
