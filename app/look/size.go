package look

// Type sizes.
const (
	Huge  = 36 // tight line
	Value = 24 // values of readings
	Large = 20 // Start my job
	Body  = 16 // names, buttons
	Small = 15 // the rest, the least there is
	Lead  = 19 // from line to line of Small
)

// Measures of the bench, in Fyne units.
const (
	Gap      = 8  // between panels and between different actions
	Inset    = 12 // inside a panel
	TopBar   = 48
	TightBar = 60
	FootBar  = 32
	Row      = 40 // rows of readings and lists
	Drawn    = 34 // height a button is drawn at
	Hit      = 48 // hit area of pivots, tyres, the dot, top bar, tight line
	Radius   = 4
	Stroke   = 1.5
	Heavy    = 3
)
