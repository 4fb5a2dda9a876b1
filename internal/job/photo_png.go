package job

import (
	"encoding/binary"
	"strings"
)

// pngShows are the chunks beside the critical ones that change how a PNG looks (ISO/IEC
// 15948, 11.3).
const pngShows = "tRNS gAMA cHRM sRGB iCCP sBIT bKGD pHYs"

// barePNG copies a PNG without its texts, times and Exif. It is false for a PNG that is cut
// short.
func barePNG(in []byte) (out []byte, whole bool) {
	const signature, around = 8, 12 // bytes; a chunk has its length, its name and its check around it
	out = append(out, in[:signature]...)
	for at := signature; at+around <= len(in); {
		length := uint64(binary.BigEndian.Uint32(in[at:]))
		name := string(in[at+4 : at+8])
		if length > uint64(len(in)-at-around) {
			return nil, false
		}
		end := at + around + int(length)
		if critical := name[0] >= 'A' && name[0] <= 'Z'; critical || strings.Contains(pngShows, name) {
			out = append(out, in[at:end]...)
		}
		if name == "IEND" {
			return out, true
		}
		at = end
	}
	return nil, false
}
