// Package assets holds what ships inside the programs: the demo jobs, the icon and the translations.
package assets

import (
	"embed"
	"strings"
)

//go:embed jobs/*.axleloft
var files embed.FS

// Translations are the words of other languages, a file each: translations/de.json.
//
//go:embed translations/*.json
var Translations embed.FS

//go:embed icon.png
var icon []byte

// Icon returns the program's icon, a PNG of 512 by 512 drawn from icon.svg. The bytes are shared: they must not be changed.
func Icon() []byte { return icon }

// Demo returns the bytes of a demo job by its short name ("orchard-sprayer", "rescue-tender", "survey-wagon"); nil for an unknown one.
func Demo(name string) []byte {
	b, err := files.ReadFile("jobs/" + name + ".axleloft")
	if err != nil {
		return nil
	}
	return b
}

// Demos lists the short names of the demo jobs; the first is the one the window opens with.
func Demos() []string {
	entries, err := files.ReadDir("jobs")
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".axleloft"))
	}
	return names
}
