package files_test

import (
	"strings"
	"testing"

	"setover/setup/maker/files"
	"setover/setup/page/sheet"
)

// read reads a text as the kind of file it says it is; a text that does not say
// is read as a part.
func read(text string) (sheet.Warnings, error) {
	if strings.Contains(text, "\nshop:") || strings.HasPrefix(text, "shop:") {
		_, w, err := files.ReadShop("f.yaml", []byte(text))
		return w, err
	}
	_, w, err := files.ReadPart("f.yaml", []byte(text))
	return w, err
}

// trial is a text and all that reading it says.
type trial struct{ name, text, want string }

func (c trial) run(t *testing.T) {
	t.Helper()
	_, err := read(c.text)
	got := ""
	if err != nil {
		got = err.Error()
	}
	if want := trimmed(c.want); got != want {
		t.Errorf("%s\n--- got\n%s\n--- want\n%s", c.name, got, want)
	}
}

// trimmed lets a wanted text begin on a line of its own.
func trimmed(want string) string { return strings.TrimPrefix(want, "\n") }

const (
	shopHead  = "format: 1\nshop: Shed\nunits: mm\n"
	partHead  = "format: 1\npart: Pin\nunits: mm\nmaterial: free-cutting-brass\n"
	blockHead = partHead + "block:\n  size: [64, 24, 16]\n"
	roundHead = partHead + "round:\n  profile: [[0, 20], [50, 20]]\n"
)
