package cli

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// writer is a screen that does what the test wants.
type writer func([]byte) (int, error)

func (w writer) Write(b []byte) (int, error) { return w(b) }

// A panic is a defect: status 4, a request for a report, no stack unless it is
// asked for. A screen that cannot be written to is status 3.
func TestStatuses(t *testing.T) {
	question := []string{"taper", "solve", "--ratio", "1:20"}
	breaks := writer(func([]byte) (int, error) { panic("a wheel came off") })
	full := writer(func([]byte) (int, error) { return 0, errors.New("no space left") })
	for _, tc := range []struct {
		name   string
		screen writer
		debug  string
		status int
		want   string
	}{
		{"a defect", breaks, "", statusDefect, "setover: a defect in setover itself: a wheel came off\n" +
			"Nothing above is an answer. Please report the command line and the files it read.\n"},
		{"a defect, traced", breaks, "1", statusDefect, "goroutine "},
		{"a full disk", full, "", statusIO, "setover: writing the answer: no space left\n"},
	} {
		var problems bytes.Buffer
		env := func(name string) (string, bool) { return tc.debug, name == "SETOVER_DEBUG" && tc.debug != "" }
		status := Run(Process{Args: question, Stdout: tc.screen, Stderr: &problems, Env: env})
		if status != tc.status {
			t.Errorf("%s: status %d, want %d", tc.name, status, tc.status)
		}
		if got := problems.String(); tc.debug == "" && got != tc.want || !strings.Contains(got, tc.want) {
			t.Errorf("%s: it says\n%swant\n%s", tc.name, got, tc.want)
		}
	}
}
