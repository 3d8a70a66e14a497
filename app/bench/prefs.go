package bench

// Keys of the preferences.
const (
	keyGround   = "ground"   // "light" (default), "dark" or "bright"
	keyText     = "text"     // size of text, times the usual
	keyLanguage = "language" // code of the language of the window; "" English
	keyCaution  = "caution"  // the caution has been read
	keyTries    = "tries"    // the things to try on a demo have been closed
	keyRecent   = "recent"   // job files, newest first
	keyStood    = "stood"    // how those jobs were left: file, trial and pencil line, one to an entry
	keyFolder   = "folder"   // where the last file was opened or saved
	keyLands    = "lands"    // what dragged pivots land on, as a sum of kinds
	keyOffFace  = "offFace"  // how far off a face, mm; below 0: half the tube
	keyFraction = "fraction" // lengths in inches are shown to one of so many parts of one
	keyRight    = "layout.right"
	keyColumn   = "layout.column"
	keyRow      = "layout.row"
)
