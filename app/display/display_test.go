package display

import (
	"net"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTrouble(t *testing.T) {
	t.Setenv("WAYLAND_DISPLAY", "")
	for at, want := range map[string]string{
		"":          "There is no display here (DISPLAY is not set).",
		"nonsense":  `DISPLAY is "nonsense", which names no display; :0 would be the first one here.`,
		":one":      `DISPLAY is ":one", which names no display; :0 would be the first one here.`,
		":-1":       `DISPLAY is ":-1", which names no display; :0 would be the first one here.`,
		":99999999": `DISPLAY is ":99999999", which names no display; :0 would be the first one here.`,
		":48211":    "No X server answers at DISPLAY :48211.",
	} {
		assert.Equal(t, want, Trouble(at), at)
	}
	t.Setenv("WAYLAND_DISPLAY", "wayland-0")
	assert.Contains(t, Trouble(""), "Xwayland")
}

func TestAnswers(t *testing.T) {
	// A port from 6000 up that is free here stands for a display by TCP, as ssh gives one.
	var l net.Listener
	n := 300
	for ; n < 400 && l == nil; n++ {
		l, _ = net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(6000+n))
	}
	require.NotNil(t, l, "no free port")
	n--
	display := "127.0.0.1:" + strconv.Itoa(n) + ".0"
	assert.Empty(t, Trouble(display))
	require.NoError(t, l.Close())
	assert.NotEmpty(t, Trouble(display))
}
