// Package display asks whether a window can be opened on an X server. It needs nothing but the standard library.
package display

import (
	"fmt"
	"net"
	"os"
	"strconv"
	"strings"
	"time"
)

// patience is how long a server may take to answer.
const patience = 3 * time.Second

// Trouble says what keeps a window from display ([host]:number[.screen], X(7)); "" where a server answers.
func Trouble(display string) string {
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
