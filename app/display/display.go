// Package display asks whether a window can be opened on an X server. It needs nothing but the standard library.
package display

import (
	"fmt"
	"io"
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
	c, why := Reach(display)
	if c != nil {
		c.Close()
	}
	return why
}

// Reach connects to a display; why says what keeps it from that, "" where a server answers. The connection is to be closed once the caller's own
// window is open and not before: a server without another client starts afresh when its last one leaves, and for that moment answers nobody.
func Reach(display string) (connection io.Closer, why string) {
	if display == "" {
		if os.Getenv("WAYLAND_DISPLAY") != "" {
			return nil, "The window needs X: this Wayland session has no Xwayland (DISPLAY is not set)."
		}
		return nil, "There is no display here (DISPLAY is not set)."
	}
	colon := strings.LastIndex(display, ":")
	if colon < 0 {
		return nil, fmt.Sprintf("DISPLAY is %q, which names no display; :0 would be the first one here.", display)
	}
	host := display[:colon]
	number, _, _ := strings.Cut(display[colon+1:], ".")
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 65535-6000 {
		return nil, fmt.Sprintf("DISPLAY is %q, which names no display; :0 would be the first one here.", display)
	}
	if c := dial(host, n); c != nil {
		return c, ""
	}
	return nil, fmt.Sprintf("No X server answers at DISPLAY %s.", display)
}

// dial connects to what listens for X clients: on this machine's sockets for no host or "unix", else by TCP at port 6000 + n; nil where nothing does.
func dial(host string, n int) net.Conn {
	type place struct{ network, address string }
	var places []place
	if host == "" || host == "unix" {
		socket := "/tmp/.X11-unix/X" + strconv.Itoa(n)
		places = []place{{"unix", "@" + socket}, {"unix", socket}}
	} else {
		places = []place{{"tcp", net.JoinHostPort(host, strconv.Itoa(6000+n))}}
	}
	for _, p := range places {
		if c, err := net.DialTimeout(p.network, p.address, patience); err == nil {
			return c
		}
	}
	return nil
}
