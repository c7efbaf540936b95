package plots

import (
	"cmp"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// sheet is a figure from top to bottom: heading, introduction, key, body and
// caption.
type sheet struct {
	heading string
	intro   string
	key     []keyEntry
	width   vg.Length // of the page; 0: pageWidth
	height  vg.Length // of the body
	body    func(c draw.Canvas, area vg.Rectangle)
	caption Caption
	data    []Table
}

// Limits of the texts of a sheet.
const (
	introLines           = 3
	introGap   vg.Length = 4 // between the introduction and the key
	bodyGap    vg.Length = 7 // above and below the body
)

// figure lays the sheet out; about says in words what it shows.
func (s *sheet) figure(about string) *Figure {
	width := cmp.Or(s.width, pageWidth)
	room := width - 2*margin
	intro := breakText(s.intro, words{size: textSize}, room, introLines)
	rows := keyRows(s.key, room)
	foot := s.caption.lines(room)
	top := margin + titleSize + 6 + vg.Length(len(intro))*rowHeight
	if len(rows) > 0 {
		top += introGap + vg.Length(len(rows))*keyHeight
	}
	bottom := margin + vg.Length(len(foot))*rowHeight + bodyGap
	height := top + bodyGap + s.height + bottom
	paint := func(c draw.Canvas) {
		c.SetColor(white)
		c.Fill(c.Rectangle.Path())
		y := height - margin - titleSize
		write(c, vg.Point{X: margin, Y: y}, words{text: s.heading, size: titleSize, bold: true}.fit(room))
		y -= 6
		for _, line := range intro {
			y -= rowHeight
			write(c, vg.Point{X: margin, Y: y + 1}, line)
		}
		y -= introGap
		for _, row := range rows {
			y -= keyHeight
			row.draw(c, y)
		}
		s.body(c, vg.Rectangle{Min: vg.Point{X: margin, Y: bottom}, Max: vg.Point{X: margin + room, Y: bottom + s.height}})
		for i, line := range foot {
			write(c, vg.Point{X: margin, Y: margin + 2 + vg.Length(len(foot)-1-i)*rowHeight}, line)
		}
	}
	return &Figure{title: s.heading, about: about, width: width, height: height, paint: paint, data: s.data}
}
