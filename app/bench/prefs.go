package bench

import (
	"os"

	"fyne.io/fyne/v2"
)

// Keys of the preferences.
const (
	keyGround  = "ground"  // "light" (default) or "dark"
	keyCaution = "caution" // the caution has been read
	keyRecent  = "recent"  // job files, newest first
	keyStood   = "stood"   // how those jobs were left: file, trial and pencil line, one to an entry
	keyFolder  = "folder"  // where the last file was opened or saved
	keyRight   = "layout.right"
	keyColumn  = "layout.column"
	keyRow     = "layout.row"
)

// groundChosen reports whether the ground is dark: the variable FYNE_THEME says so for one run, else the user's choice.
func groundChosen(p fyne.Preferences) bool {
	switch os.Getenv("FYNE_THEME") {
	case "dark":
		return true
	case "light":
		return false
	}
	return p.String(keyGround) == "dark"
}
