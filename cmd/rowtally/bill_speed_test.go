//go:build !race

package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// What is asked of many invoices issued by one press, while somebody else asks for a page or
// enters something every 20 ms.
const (
	invoicesAtOnce   = 500
	invoicesWithin   = 20 * time.Second
	nobodyWaits      = 100 * time.Millisecond
	othersEvery      = 20 * time.Millisecond
	jobsOfAFarm      = 10
	sownJob          = 3 // of the demo, agreed and told whole
	contractorPerson = 1
)

// TestFiveHundredInvoicesKeepNobodyWaiting issues 500 invoices by one post on the built
// program at ten years of data. Their processor time is bounded on any machine; on one that
// has its cores to itself, so is how long it takes in all and how long anybody else waits.
func TestFiveHundredInvoicesKeepNobodyWaiting(t *testing.T) {
	town := sownOften(t, invoicesAtOnce, sownJob)
	form := town.everyTick(t)
	idle := idleShare()
	before := town.processorTime(t)
	quiet := town.during(t, func() { time.Sleep(2 * time.Second) })
	eachOther := (town.processorTime(t) - before) / time.Duration(len(quiet))
	var said string
	began, before := time.Now(), town.processorTime(t)
	busy := town.during(t, func() { said = town.billAll(t, form) })
	took, spent := time.Since(began), town.processorTime(t)-before-time.Duration(len(busy))*eachOther
	if issued := strings.Count(said, `href="/papers/`); issued != invoicesAtOnce || strings.Contains(said, "Not issued") {
		t.Fatalf("%d invoices are issued: %.900s", issued, said[max(0, len(said)-900):])
	}
	t.Logf("%d invoices in %.1f s, %.1f s of processor without what the others took; machine idle before: %.0f %%", invoicesAtOnce, took.Seconds(), spent.Seconds(), 100*idle)
	t.Logf("others waited, of %d: median %.0f ms, 99 of 100 %.0f ms, longest %.0f ms; with nothing to bill: median %.0f ms, longest %.0f ms",
		len(busy), ms(busy[len(busy)/2]), ms(busy[len(busy)*99/100]), ms(busy[len(busy)-1]), ms(quiet[len(quiet)/2]), ms(quiet[len(quiet)-1]))
	if spent > invoicesWithin {
		t.Errorf("%v of processor, more than %v", spent, invoicesWithin)
	}
	town.holds(t, invoicesAtOnce)
	if idle < 0.8 {
		t.Logf("the machine has other work: how long it took and who waited is not judged")
		return
	}
	if longest := busy[len(busy)-1]; took > invoicesWithin || longest > nobodyWaits {
		t.Errorf("it took %v and somebody waited %v; asked are %v and %v", took, longest, invoicesWithin, nobodyWaits)
	}
}

// TestBillingCutOffGoesOn kills the program while it bills: what is issued stays, and the
// same form sent again bills the rest, each once.
func TestBillingCutOffGoesOn(t *testing.T) {
	const jobs = 60
	town := sownOften(t, jobs, sownJob)
	form := town.everyTick(t)
	answer := town.post(t, "/accounts/bill", form)
	read, rows := make([]byte, 256), 0
	for seen := ""; rows < 5; rows = strings.Count(seen, `href="/papers/`) {
		n, err := answer.Body.Read(read)
		if seen += string(read[:n]); err != nil {
			t.Fatalf("the page ended after %d rows: %v", rows, err)
		}
	}
	town.kill()
	answer.Body.Close()
	town.start(t)
	form.Set("csrf", town.csrf)
	if before := town.invoices(t); before < rows || before >= jobs {
		t.Fatalf("%d invoices are issued after the cut, %d were told of", before, rows)
	}
	if said := town.billAll(t, form); strings.Contains(said, "Not issued") || !strings.Contains(said, "issued before") {
		t.Errorf("going on: %.900s", said[max(0, len(said)-900):])
	}
	town.holds(t, jobs)
}

// processorTime is what the program has used so far, in hundredths of a second.
func (town *billTown) processorTime(t *testing.T) time.Duration {
	t.Helper()
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", town.run.Process.Pid))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(stat), ") ")
	fields := strings.Fields(after)
	user, _ := strconv.ParseInt(fields[11], 10, 64)
	kernel, _ := strconv.ParseInt(fields[12], 10, 64)
	return time.Duration(user+kernel) * 10 * time.Millisecond
}

// idleShare is which share of the machine nobody used during a second.
func idleShare() float64 {
	idle, all := cpuTicks()
	time.Sleep(time.Second)
	idleAfter, allAfter := cpuTicks()
	return float64(idleAfter-idle) / float64(max(1, allAfter-all))
}

// cpuTicks reads how long the machine was idle, and how long it has run in all.
func cpuTicks() (idle, all int64) {
	stat, _ := os.ReadFile("/proc/stat")
	line, _, _ := strings.Cut(string(stat), "\n")
	for i, field := range strings.Fields(line)[1:] {
		n, _ := strconv.ParseInt(field, 10, 64)
		if all += n; i == 3 {
			idle = n
		}
	}
	return idle, all
}
