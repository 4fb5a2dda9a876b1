package fault

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"testing"
)

func TestEachWayToFailHasItsKind(t *testing.T) {
	for kind, c := range map[Kind]struct {
		err  error
		word string
	}{
		Refused:  {Refuse("row_gap_m", "row gap is %d m", -1), "invalid"},
		Missing:  {Miss("there is no lot %s", "D26-01"), "missing"},
		Clash:    {Conflict("the lot is on hold"), "clash"},
		Internal: {io.ErrUnexpectedEOF, "internal"},
	} {
		if got := KindOf(c.err); got != kind || got.String() != c.word {
			t.Errorf("%v is %s, want %s", c.err, got, c.word)
		}
		if got := KindOf(fmt.Errorf("reading: %w", c.err)); got != kind {
			t.Errorf("wrapped, %v is %s", c.err, got)
		}
	}
	if got := KindOf(nil); got != Internal {
		t.Errorf("no error is %s", got)
	}
}

func TestAFailureReadsAsItsSentence(t *testing.T) {
	err := Refuse("purity_percent", "purity is %d %%, enter a figure above 0 and up to 100", 140)
	if err.Error() != "purity is 140 %, enter a figure above 0 and up to 100" {
		t.Error(err)
	}
}

func TestUnderPutsThePlaceBeforeTheField(t *testing.T) {
	for _, c := range []struct{ prefix, field, want string }{
		{"lots[1]", "purity_percent", "lots[1].purity_percent"},
		{"lots", "[1].purity_percent", "lots[1].purity_percent"},
		{"plan", "", "plan"},
		{"mix.species[0]", "lots[2].code", "mix.species[0].lots[2].code"},
	} {
		err := Under(c.prefix, Refuse(c.field, "no"))
		if got := Fields(err); len(got) != 1 || got[c.want] != "no" {
			t.Errorf("%q under %q is %v, want %q", c.field, c.prefix, got, c.want)
		}
	}
}

func TestUnderReachesEveryJoinedRefusal(t *testing.T) {
	err := Under("lots[0]", errors.Join(Refuse("code", "a"), errors.Join(Refuse("share", "b"), io.EOF)))
	if want := map[string]string{"lots[0].code": "a", "lots[0].share": "b"}; !maps.Equal(Fields(err), want) {
		t.Errorf("%v, want %v", Fields(err), want)
	}
	if !errors.Is(err, io.EOF) {
		t.Error("an error among the refusals is lost")
	}
}

func TestUnderLeavesOtherFailuresAlone(t *testing.T) {
	if Under("lots", nil) != nil {
		t.Error("no error becomes one")
	}
	for _, err := range []error{io.EOF, Miss("gone"), Conflict("held")} {
		if got := Under("lots", err); got != err {
			t.Errorf("%v became %v", err, got)
		}
	}
	first := Refuse("code", "a")
	Under("lots", first)
	if Fields(first)["code"] != "a" {
		t.Error("the refusal itself was changed")
	}
}

func TestFieldsKeepTheFirstSentenceOfAField(t *testing.T) {
	got := Fields(errors.Join(Refuse("a", "first"), Refuse("a", "second"), Refuse("b", "other"), Conflict("held"), io.EOF))
	if want := map[string]string{"a": "first", "b": "other"}; !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Fields(nil); len(got) != 0 {
		t.Errorf("no error has fields: %v", got)
	}
}
