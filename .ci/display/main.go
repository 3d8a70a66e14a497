// Command display exits 0 where an X server answers at $DISPLAY; otherwise it says in one sentence why no window can be opened.
// It needs nothing but Go, so that it can be asked before anything is installed for the window.
package main

import (
	"fmt"
	"net"
	"os"
	"strconv"
	"strings"
	"time"
)

const patience = 3 * time.Second

func main() {
	if why := trouble(os.Getenv("DISPLAY")); why != "" {
		fmt.Println(why)
		os.Exit(1)
	}
}

// trouble says what keeps a window from display ([host]:number[.screen], X(7)); "" where a server answers.
func trouble(display string) string {
	if display == "" {
		if os.Getenv("WAYLAND_DISPLAY") != "" {
			return "The window needs X: this Wayland session has no Xwayland (DISPLAY is not set)."
		}
		return "There is no display here (DISPLAY is not set)."
	}
	colon := strings.LastIndex(display, ":")
	if colon < 0 {
		return fmt.Sprintf("DISPLAY is %q, which names no display; :0 would be the first one here.", display)
	}
	host := display[:colon]
	number, _, _ := strings.Cut(display[colon+1:], ".")
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 65535-6000 {
		return fmt.Sprintf("DISPLAY is %q, which names no display; :0 would be the first one here.", display)
	}
	if answers(host, n) {
		return ""
	}
	return fmt.Sprintf("No X server answers at DISPLAY %s.", display)
}

// answers reports whether something listens for X clients: on this machine's sockets for no host or "unix", else by TCP at port 6000 + n.
func answers(host string, n int) bool {
	type place struct{ network, address string }
	var places []place
	if host == "" || host == "unix" {
		socket := "/tmp/.X11-unix/X" + strconv.Itoa(n)
		places = []place{{"unix", "@" + socket}, {"unix", socket}}
	} else {
		places = []place{{"tcp", net.JoinHostPort(host, strconv.Itoa(6000+n))}}
	}
	for _, p := range places {
		c, err := net.DialTimeout(p.network, p.address, patience)
		if err == nil {
			c.Close()
			return true
		}
	}
	return false
}
