package rows

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// geos is testdata/overlay.c, compiled: the GEOS library (libgeos-dev of Debian) at the same
// work, by its buffer and its intersection.
type geos string

// overlaidBy is what GEOS makes of a paddock and row lines.
type overlaidBy struct {
	edgeM, rowM float64
	took        time.Duration // of buffer and intersection alone
}

func geosAtHand(t testing.TB) geos {
	t.Helper()
	program := filepath.Join(t.TempDir(), "overlay")
	if said, err := exec.Command("gcc", "-O2", "-o", program, "testdata/overlay.c", "-lgeos_c").CombinedOutput(); err != nil {
		t.Skipf("gcc or GEOS (libgeos-dev) is not installed: %v %s", err, said)
	}
	return geos(program)
}

func (g geos) overlay(in Input, lines []line, quarter int) (out overlaidBy, err error) {
	var text bytes.Buffer
	fmt.Fprintln(&text, in.HeadlandM, quarter, 1+len(in.BoundaryM.Holes))
	for _, ring := range in.BoundaryM.Rings() {
		fmt.Fprintln(&text, len(ring))
		for _, at := range ring {
			fmt.Fprintln(&text, at.E, at.N)
		}
	}
	fmt.Fprintln(&text, len(lines))
	s, err := sceneOf(in)
	if err != nil {
		return out, err
	}
	axes, _ := s.facing(in.BearingDeg)
	p := Plan{BearingDeg: in.BearingDeg, LeftM: axes.leftM}
	for _, line := range lines {
		a, b := p.Place(-50_000, line.offsetM), p.Place(50_000, line.offsetM)
		fmt.Fprintln(&text, a.E, a.N, b.E, b.N)
	}
	run := exec.Command(string(g))
	run.Stdin = &text
	said, err := run.Output()
	if err != nil {
		return out, fmt.Errorf("GEOS: %w", err)
	}
	var seconds float64
	_, err = fmt.Sscan(string(said), &out.edgeM, &out.rowM, &seconds)
	out.took = time.Duration(seconds * float64(time.Second))
	return out, err
}

// allLines are the row lines that a plan is laid from.
func allLines(t testing.TB, in Input) []line {
	t.Helper()
	s, err := sceneOf(in)
	if err != nil {
		t.Fatal(err)
	}
	_, widthM := s.facing(in.BearingDeg)
	lines, err := in.lines(nil, widthM)
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// Rows come out as GEOS has them, once its arcs are fine enough: the finer they are, the
// nearer.
func TestRowsAgainstGEOS(t *testing.T) {
	g, in := geosAtHand(t), station()
	in.AlleyM = 198 // a hundred rows: GEOS takes minutes over ten thousand with fine arcs
	lines, mine := allLines(t, in), laid(t, in).RowM
	last := math.Inf(1)
	for _, quarter := range []int{8, 64, 512} {
		theirs, err := g.overlay(in, lines, quarter)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Abs(mine/theirs.rowM - 1)
		t.Logf("%d segments a quarter: %.6f m, ours %.6f m, %.1e apart", quarter, theirs.rowM, mine, off)
		if off > last {
			t.Errorf("finer arcs brought GEOS no nearer: %.1e after %.1e", off, last)
		}
		last = off
	}
	if last > 1e-9 {
		t.Errorf("%.1e apart with fine arcs", last)
	}
}

// BenchmarkBesideGEOS lays ten thousand rows in process, beside GEOS shrinking the paddock and
// laying the same lines over it, with arcs as coarse as its default. Rows run due north, which
// suits GEOS: the boxes round aslant lines overlap, and it then takes a hundred times as long.
// It fails below thirty times.
func BenchmarkBesideGEOS(b *testing.B) {
	g, in := geosAtHand(b), station()
	in.BearingDeg = 0
	lines := allLines(b, in)
	one, err := g.overlay(in, lines, 8)
	if err != nil {
		b.Fatal(err)
	}
	theirs := one.took
	if off := math.Abs(laid(b, in).RowM/one.rowM - 1); off > 1e-6 {
		b.Errorf("GEOS lays %.6f m, %.1e from ours", one.rowM, off)
	}
	ours := time.Duration(math.MaxInt64)
	for b.Loop() {
		begun := time.Now()
		if _, err := Lay(in); err != nil {
			b.Fatal(err)
		}
		ours = min(ours, time.Since(begun))
	}
	times := theirs.Seconds() / ours.Seconds()
	b.ReportMetric(float64(theirs.Milliseconds()), "ms-GEOS")
	b.ReportMetric(times, "times")
	if times < 30 {
		b.Errorf("%v, GEOS %v: %.1f times, thirty are asked", ours, theirs, times)
	}
}
