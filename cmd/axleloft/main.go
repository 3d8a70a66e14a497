// Command axleloft opens the bench: the window in which a link suspension is sketched.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"

	"axleloft/app/bench"
	"axleloft/app/display"
	"axleloft/assets"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
)

// id names the application to the desktop and to its preferences.
const id = "axleloft.axleloft"

func main() {
	server, why := reachDisplay()
	if why != "" {
		fmt.Fprintln(os.Stderr, "axleloft: "+why+" Run it on a desktop, or use axlesheet, which works without one.")
		os.Exit(2)
	}
	o := bench.Options{StateDir: stateDir(), Probe: os.Getenv("AXLELOFT_PROBE")}
	if len(os.Args) > 1 {
		if os.Args[1] == "-h" || os.Args[1] == "--help" {
			fmt.Println("usage: axleloft [JOB.axleloft]")
			return
		}
		o.File = os.Args[1]
	}
	if os.Getenv("AXLELOFT_CHECK_THREADS") == "" { // all that is drawn is drawn from the window's goroutine; asking each time costs a tenth of a frame
		app.SetMetadata(fyne.AppMetadata{ID: id, Migrations: map[string]bool{"fyneDo": true}})
	}
	a := app.NewWithID(id)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.Icon()))
	b := bench.New(a, o)
	if server != nil {
		server.Close() // the window has its own connection now
	}
	b.Start()
	b.Run()
}

// reachDisplay says why no window can be opened; "" where one can, with a connection to hold till it is open (nil where none is needed).
// This build draws on an X server everywhere but on Windows and macOS.
func reachDisplay() (io.Closer, string) {
	switch runtime.GOOS {
	case "windows", "darwin":
		return nil, ""
	}
	return display.Reach(os.Getenv("DISPLAY"))
}

// stateDir is where autosaves of jobs without a file live; "" where the system names no such place.
func stateDir() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	dir = filepath.Join(dir, "axleloft", "unsaved")
	if os.MkdirAll(dir, 0o700) != nil {
		return ""
	}
	return dir
}
