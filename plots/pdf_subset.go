package plots

import (
	"encoding/binary"
	"errors"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// errFont says that a font is not what the TrueType specification says.
var errFont = errors.New("the font file is not sound")

// Tables that a font embedded by glyph numbers needs (ISO 32000-1, 9.9).
var keptTables = []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"}

// subset returns a TrueType font in which glyphs that are not used have no
// outline. Numbers of glyphs stay. Format: OpenType specification 1.9, "Font
// file", "loca", "glyf".
func subset(file []byte, used []sfnt.GlyphIndex) ([]byte, error) {
	tables, err := tablesOf(file)
	if err != nil {
		return nil, err
	}
	head, loca, glyf := tables["head"], tables["loca"], tables["glyf"]
	if len(head) < 54 || len(loca) < 4 {
		return nil, errFont
	}
	places := placesOf(loca, binary.BigEndian.Uint16(head[50:]) == 1)
	keep, err := withParts(used, places, glyf)
	if err != nil {
		return nil, err
	}
	newGlyf, newLoca := []byte{}, make([]byte, 0, 4*len(places))
	for g := range places {
		newLoca = binary.BigEndian.AppendUint32(newLoca, uint32(len(newGlyf)))
		if g+1 < len(places) && keep[g] {
			newGlyf = padded(append(newGlyf, glyf[places[g]:places[g+1]]...))
		}
	}
	longOffsets := slices.Clone(head)
	binary.BigEndian.PutUint16(longOffsets[50:], 1)
	tables["head"], tables["loca"], tables["glyf"] = longOffsets, newLoca, newGlyf
	return assemble(tables, keptTables), nil
}

// tablesOf finds the tables of a font file by their tags.
func tablesOf(file []byte) (map[string][]byte, error) {
	if len(file) < 12 {
		return nil, errFont
	}
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(file[4:])) {
		at := 12 + 16*i
		if at+16 > len(file) {
			return nil, errFont
		}
		from, size := binary.BigEndian.Uint32(file[at+8:]), binary.BigEndian.Uint32(file[at+12:])
		if uint64(from)+uint64(size) > uint64(len(file)) {
			return nil, errFont
		}
		tables[string(file[at:at+4])] = file[from : from+size]
	}
	return tables, nil
}

// placesOf reads where the outline of each glyph begins, and where the last ends.
func placesOf(loca []byte, long bool) []int {
	var places []int
	if long {
		for i := 0; i+4 <= len(loca); i += 4 {
			places = append(places, int(binary.BigEndian.Uint32(loca[i:])))
		}
		return places
	}
	for i := 0; i+2 <= len(loca); i += 2 {
		places = append(places, 2*int(binary.BigEndian.Uint16(loca[i:])))
	}
	return places
}

// withParts marks glyphs, that of missing letters, and the glyphs they are made
// of.
func withParts(used []sfnt.GlyphIndex, places []int, glyf []byte) ([]bool, error) {
	keep := make([]bool, len(places))
	for todo := append([]int{0}, numbersOf(used)...); len(todo) > 0; {
		g := todo[0]
		todo = todo[1:]
		if g+1 >= len(places) || places[g] > places[g+1] || places[g+1] > len(glyf) {
			return nil, errFont
		}
		if keep[g] {
			continue
		}
		keep[g] = true
		parts, err := partsOf(glyf[places[g]:places[g+1]])
		if err != nil {
			return nil, err
		}
		todo = append(todo, parts...)
	}
	return keep, nil
}

func numbersOf(glyphs []sfnt.GlyphIndex) []int {
	list := make([]int, len(glyphs))
	for i, g := range glyphs {
		list[i] = int(g)
	}
	return list
}

// Flags of a part of a composite glyph.
const (
	wordArguments = 0x0001
	oneScale      = 0x0008
	moreParts     = 0x0020
	twoScales     = 0x0040
	fourScales    = 0x0080
)

// partsOf are the glyphs that a composite outline is made of.
func partsOf(outline []byte) ([]int, error) {
	if len(outline) < 10 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return nil, nil // no outline, or a simple one
	}
	var parts []int
	for at := 10; ; {
		if at+4 > len(outline) {
			return nil, errFont
		}
		flags := binary.BigEndian.Uint16(outline[at:])
		parts = append(parts, int(binary.BigEndian.Uint16(outline[at+2:])))
		if flags&moreParts == 0 {
			return parts, nil
		}
		at += 6
		for flag, size := range map[uint16]int{wordArguments: 2, oneScale: 2, twoScales: 4, fourScales: 8} {
			if flags&flag != 0 {
				at += size
			}
		}
	}
}

func padded(b []byte) []byte {
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	return b
}

// assemble makes a font file of those tables of some tags that there are.
func assemble(tables map[string][]byte, tags []string) []byte {
	tags = slices.DeleteFunc(slices.Clone(tags), func(tag string) bool { return tables[tag] == nil })
	n, power, log := len(tags), 1, 0
	for 2*power <= n {
		power, log = 2*power, log+1
	}
	file := []byte{0, 1, 0, 0}
	for _, x := range []int{n, 16 * power, log, 16 * (n - power)} {
		file = binary.BigEndian.AppendUint16(file, uint16(x))
	}
	at := 12 + 16*n
	for _, tag := range tags {
		file = append(file, tag...)
		for _, x := range []uint32{checksum(tables[tag]), uint32(at), uint32(len(tables[tag]))} {
			file = binary.BigEndian.AppendUint32(file, x)
		}
		at += len(padded(slices.Clone(tables[tag])))
	}
	for _, tag := range tags {
		file = padded(append(file, tables[tag]...))
	}
	return file
}

// checksum is the sum of the words of a table.
func checksum(table []byte) (sum uint32) {
	for word := range slices.Chunk(padded(slices.Clone(table)), 4) {
		sum += binary.BigEndian.Uint32(word)
	}
	return sum
}
