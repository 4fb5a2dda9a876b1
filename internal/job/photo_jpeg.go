package job

import (
	"bytes"
	"encoding/binary"
)

// The markers of a JPEG that matter here (ITU-T T.81, table B.1).
const (
	markSOI = 0xd8
	markEOI = 0xd9
	markSOS = 0xda
	markAPP = 0xe0 // to markAPP + 15
	markCOM = 0xfe
)

// bareJPEG copies a JPEG without its comments and without what applications wrote beside
// the picture, except the colour profile and, from Exif, how the picture is turned. What
// follows the picture is left out. It is false for a JPEG that is cut short.
func bareJPEG(in []byte) (out []byte, whole bool) {
	out = append(out, 0xff, markSOI)
	turned := 0
	for at := 2; ; {
		marker, start, ok := nextMarker(in, at)
		if !ok {
			return nil, false
		}
		if marker == markEOI {
			return withTurn(append(out, 0xff, markEOI), turned), true
		}
		if marker == 0x01 || marker >= 0xd0 && marker <= 0xd7 { // alone, without a length
			out, at = append(out, 0xff, marker), start
			continue
		}
		if start+2 > len(in) {
			return nil, false
		}
		end := start + int(binary.BigEndian.Uint16(in[start:]))
		if end < start+2 || end > len(in) {
			return nil, false
		}
		if body := in[start+2 : end]; marker == markAPP+1 && turned == 0 {
			turned = turnOf(body)
		} else if pictures(marker, body) {
			out = append(append(out, 0xff, marker), in[start:end]...)
		}
		if at = end; marker == markSOS {
			at = scanEnd(in, end)
			out = append(out, in[end:at]...)
		}
	}
}

// nextMarker finds the marker at a place, past the fill bytes before it.
func nextMarker(in []byte, at int) (marker byte, after int, ok bool) {
	if at >= len(in) || in[at] != 0xff {
		return 0, 0, false
	}
	for at < len(in) && in[at] == 0xff {
		at++
	}
	if at >= len(in) || in[at] == 0 {
		return 0, 0, false
	}
	return in[at], at + 1, true
}

// scanEnd is where the coded picture that begins at a place ends: at the next marker that
// is no restart.
func scanEnd(in []byte, at int) int {
	for ; at+1 < len(in); at++ {
		if next := in[at+1]; in[at] == 0xff && next != 0 && next != 0xff && (next < 0xd0 || next > 0xd7) {
			return at
		}
	}
	return len(in)
}

// pictures tells whether a segment is needed to show the picture.
func pictures(marker byte, body []byte) bool {
	switch {
	case marker == markAPP:
		return bytes.HasPrefix(body, []byte("JFIF\x00"))
	case marker == markAPP+2:
		return bytes.HasPrefix(body, []byte("ICC_PROFILE\x00"))
	case marker == markAPP+14:
		return bytes.HasPrefix(body, []byte("Adobe"))
	}
	return marker != markCOM && (marker < markAPP || marker > markAPP+15)
}

// turnTag is the orientation tag of TIFF 6.0, kept by Exif: 1 is upright, 2 to 8 are turned
// or mirrored.
const turnTag = 0x0112

// turnOf reads how a picture is turned from its Exif segment; 0 when it does not say.
func turnOf(body []byte) int {
	tiff, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00"))
	if !ok || len(tiff) < 8 {
		return 0
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return 0
	}
	entries := uint64(order.Uint16(tiff[at:]))
	for i := range entries {
		entry := at + 2 + 12*i
		if entry+12 > uint64(len(tiff)) {
			return 0
		}
		if order.Uint16(tiff[entry:]) != turnTag {
			continue
		}
		if turned := int(order.Uint16(tiff[entry+8:])); turned >= 1 && turned <= 8 {
			return turned
		}
	}
	return 0
}

// withTurn puts an Exif segment behind the start of a JPEG that says how it is turned, and
// nothing else.
func withTurn(jpeg []byte, turned int) []byte {
	if turned < 2 {
		return jpeg
	}
	segment := []byte("\xff\xe1\x00\x22Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	segment[4+6+8+2+8+1] = byte(turned)
	return append(append(jpeg[:2:2], segment...), jpeg[2:]...)
}
