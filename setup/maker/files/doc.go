// Package files reads the files a maker writes: the shop, the part and the
// project. They are YAML, read strictly: an unknown key, a wrong type, a
// missing unit or an impossible size is a problem that shows the line and
// names the nearest valid word, and all problems of a file come in one run.
//
// Each mapping of a file is described by one list of fields. The list reads
// the file and makes the table of keys, so the two cannot differ. Scalars come
// from their source text: 010 is ten, and no number goes through a float.
//
// It is the only importer of the YAML library.
package files
