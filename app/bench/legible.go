package bench

import (
	"os"
	"strconv"
	"sync"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// schemes are the sets of colours by the name they have on screen and in the preferences, in the order in which the key goes through them.
var schemes = [ink.Schemes]struct{ key, words string }{
	ink.Light:  {"light", words.Mark("Light")},
	ink.Dark:   {"dark", words.Mark("Dark")},
	ink.Bright: {"bright", words.Mark("Bright workshop, heavy lines")},
}

// schemeChosen is the colours to show: the variable FYNE_THEME says so for one run, else the user's choice, else light.
func schemeChosen(p fyne.Preferences) ink.Scheme {
	for _, key := range []string{os.Getenv("FYNE_THEME"), p.String(keyGround)} {
		for s, x := range schemes {
			if x.key == key {
				return ink.Scheme(s)
			}
		}
	}
	return ink.Light
}

// setScheme changes the colours and keeps the choice.
func (b *Bench) setScheme(s ink.Scheme) {
	look.SetScheme(s)
	b.app.Preferences().SetString(keyGround, schemes[s].key)
	b.dress()
}

// dress draws everything again in the colours and at the size chosen.
func (b *Bench) dress() {
	b.app.Settings().SetTheme(look.Theme{})
	b.changed(document.ShownChanged | document.FileChanged)
}

func (b *Bench) schemeMenu() *fyne.MenuItem {
	m := fyne.NewMenuItem(words.T("Colours"), nil)
	m.ChildMenu = fyne.NewMenu("")
	for i, x := range schemes {
		c := fyne.NewMenuItem(words.T(x.words), func() { b.setScheme(ink.Scheme(i)) })
		c.Checked = look.Scheme() == ink.Scheme(i)
		m.ChildMenu.Items = append(m.ChildMenu.Items, c)
	}
	m.ChildMenu.Items = append(m.ChildMenu.Items, fyne.NewMenuItemSeparator(), b.item("ground"))
	return m
}

// textSizes are how many times its usual size all that is written can have. What is pressed grows with it.
var textSizes = [...]float32{1, 1.2, 1.4, 1.7, 2}

// scaleVariable is the toolkit's: how many times larger than usual it draws.
const scaleVariable = "FYNE_SCALE"

// desktopScale is how large everything was asked to be drawn before a size of text was chosen: by the variable, else by the toolkit's settings.
var desktopScale = sync.OnceValue(func() float32 {
	if k, err := strconv.ParseFloat(os.Getenv(scaleVariable), 32); err == nil && k > 0 {
		return float32(k)
	}
	if k := fyne.CurrentApp().Settings().Scale(); k > 0 {
		return k
	}
	return 1
})

// textSize is the size of text chosen.
func (b *Bench) textSize() float32 {
	k := float32(b.app.Preferences().FloatWithFallback(keyText, 1))
	for _, t := range textSizes {
		if max(t-k, k-t) < 0.01 {
			return t
		}
	}
	return 1
}

// scaleText has the toolkit draw at a size of text from the next time it looks.
func scaleText(k float32) {
	base := desktopScale()
	if k == 1 && os.Getenv(scaleVariable) == "" {
		return
	}
	_ = os.Setenv(scaleVariable, strconv.FormatFloat(float64(base*k), 'f', 2, 32))
}

// canText reports whether the window has the room for a size of text.
func (b *Bench) canText(k float32) bool {
	now := b.textSize()
	if k <= now {
		return true
	}
	s, least := b.win.Canvas().Size(), b.layout.MinSize(nil)
	return s.Width*now/k >= least.Width && s.Height*now/k >= least.Height
}

// setText chooses a size of text and keeps it. The window stays as large as it is.
func (b *Bench) setText(k float32) {
	now := b.textSize()
	if k == now {
		return
	}
	if !b.canText(k) {
		b.say(words.T("No room for larger text"), words.T("The window is too small for text of this size. Make the window larger first, on a larger screen if need be."))
		return
	}
	s := b.win.Canvas().Size()
	b.app.Preferences().SetFloat(keyText, float64(k))
	scaleText(k)
	b.dress()
	b.win.Resize(fyne.NewSize(s.Width*now/k, s.Height*now/k))
}

// nextText goes to the next larger size of text, or the next smaller.
func (b *Bench) nextText(by int) {
	for i, k := range textSizes {
		if j := i + by; k == b.textSize() && j >= 0 && j < len(textSizes) {
			b.setText(textSizes[j])
			return
		}
	}
}

func (b *Bench) textMenu() *fyne.MenuItem {
	m := fyne.NewMenuItem(words.T("Text size"), nil)
	m.ChildMenu = fyne.NewMenu("")
	for i, k := range textSizes {
		phrase := words.F("%g times", k)
		if i == 0 {
			phrase = words.T("Usual")
		}
		c := fyne.NewMenuItem(phrase, func() { b.setText(k) })
		c.Checked, c.Disabled = k == b.textSize(), !b.canText(k)
		m.ChildMenu.Items = append(m.ChildMenu.Items, c)
	}
	m.ChildMenu.Items = append(m.ChildMenu.Items, fyne.NewMenuItemSeparator(), b.item("larger"), b.item("smaller"))
	return m
}

// languageMenu offers the languages there are, each by its own name.
func (b *Bench) languageMenu() *fyne.MenuItem {
	m := fyne.NewMenuItem(words.T("Language"), nil)
	m.ChildMenu = fyne.NewMenu("")
	for _, code := range words.Languages() {
		c := fyne.NewMenuItem(words.Name(code), func() { b.setLanguage(code) })
		c.Checked = code == words.Language()
		m.ChildMenu.Items = append(m.ChildMenu.Items, c)
	}
	return m
}

// setLanguage says everything in another language and keeps the choice: the panels are made anew, and the findings worded again.
func (b *Bench) setLanguage(code string) {
	if code == words.Language() {
		return
	}
	if err := words.Use(code); err != nil {
		b.say(words.T("That did not work"), err.Error())
		return
	}
	b.app.Preferences().SetString(keyLanguage, code)
	b.actions = b.table()
	b.doc.Reword()
	b.use(b.doc)
}
