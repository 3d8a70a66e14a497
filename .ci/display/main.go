// Command display exits 0 where an X server answers at $DISPLAY; otherwise it says in one sentence why no window can be opened.
// It needs nothing but Go, so that it can be asked before anything is installed for the window.
package main

import (
	"fmt"
	"os"

	"axleloft/app/display"
)

func main() {
	if why := display.Trouble(os.Getenv("DISPLAY")); why != "" {
		fmt.Println(why)
		os.Exit(1)
	}
}
