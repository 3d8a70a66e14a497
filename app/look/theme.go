package look

import (
	"image/color"

	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// Theme is the bench's theme over the colours by role; its font is Noto Sans, which the toolkit brings.
type Theme struct{}

var _ fyne.Theme = Theme{}

// Color gives the toolkit's own widgets (entries, menus, dialogs, lists) the colours by role. Light or dark is Dark's, whatever the desktop says.
func (Theme) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	switch n {
	case theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground, theme.ColorNameHeaderBackground:
		return Color(ink.Panel)
	case theme.ColorNameBackground, theme.ColorNameInputBackground: // the window's own ground is that of the views: they need no other
		return Color(ink.Ground)
	case theme.ColorNameButton:
		return Color(ink.Ground)
	case theme.ColorNameDisabledButton:
		return Color(ink.Panel)
	case theme.ColorNameForeground:
		return menuText{Color(ink.Text)}
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return Color(ink.Second)
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return Color(ink.Press)
	case theme.ColorNameForegroundOnPrimary:
		return Color(ink.OnPress)
	case theme.ColorNameFocus:
		return Veil(ink.Press, 0x50)
	case theme.ColorNameSelection:
		return Veil(ink.Press, 0x40)
	case theme.ColorNameHover:
		return Veil(ink.Press, 0x18)
	case theme.ColorNamePressed:
		return Veil(ink.Press, 0x38)
	case theme.ColorNameInputBorder:
		return Color(ink.Edge)
	case theme.ColorNameSeparator:
		return Color(ink.Rule)
	case theme.ColorNameScrollBar:
		return Color(ink.Edge)
	case theme.ColorNameScrollBarBackground:
		return Clear
	case theme.ColorNameShadow:
		return shade()
	case theme.ColorNameError, theme.ColorNameWarning:
		return Color(ink.Trouble)
	case theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnWarning:
		return Color(ink.Text)
	case theme.ColorNameSuccess:
		return Color(ink.Measure)
	}
	v := theme.VariantLight
	if Dark() {
		v = theme.VariantDark
	}
	return theme.DefaultTheme().Color(n, v)
}

// menuText is a colour of letters. The toolkit's menus give the letters of their shortcuts the low byte of 0.95 of its alpha, 16 bits: 0.999 of
// full makes that full, where full itself leaves a fifth.
type menuText struct{ color.NRGBA }

// RGBA is the colour, as good as opaque.
func (c menuText) RGBA() (r, g, b, a uint32) {
	r, g, b, _ = c.NRGBA.RGBA()
	return r, g, b, 0xFFC9
}

// Font is the default theme's Noto Sans, its ascent said a little lower.
func (Theme) Font(s fyne.TextStyle) fyne.Resource { return lower(theme.DefaultTheme().Font(s)) }

// Icon is the default theme's.
func (Theme) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Size sets type and corners to the bench's.
func (Theme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return Body
	case theme.SizeNameHeadingText:
		return Large
	case theme.SizeNameSubHeadingText:
		return Body
	case theme.SizeNameCaptionText:
		return Small
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return Radius
	case theme.SizeNameInputBorder:
		return Weight()
	}
	return theme.DefaultTheme().Size(n)
}

// shade is what dims the bench behind a question; there are no other shadows.
func shade() color.Color {
	if Dark() {
		return color.NRGBA{A: 0xA0}
	}
	return Veil(ink.Second, 0x70)
}

// Flat is Theme without the shadows the toolkit draws where something scrolls; in a list the row the keys are on stands out.
type Flat struct{ Theme }

// Calm gives a scroll, a list or an entry the theme without shadows.
func Calm(o fyne.CanvasObject) fyne.CanvasObject { return container.NewThemeOverride(o, Flat{}) }

// Color is Theme's but for these.
func (f Flat) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch n {
	case theme.ColorNameShadow:
		return Clear
	case theme.ColorNameHover: // of a list: also the row its keys are on
		return Veil(ink.Press, 0x38)
	}
	return f.Theme.Color(n, v)
}
