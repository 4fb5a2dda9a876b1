package site

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"testing"
	"time"

	"github.com/valyala/fasthttp"

	"rowtally/internal/job"
)

// listening serves the town on loopback and gives its address.
func (w town) listening(t *testing.T) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go w.app.Listener(listener)
	t.Cleanup(func() { w.app.Shutdown() })
	return listener.Addr().String()
}

// headSent sends the head of a request and nothing of its body. It gives the answer, or
// false where the site waits for the body.
func headSent(t *testing.T, address, head string) (page, bool) {
	t.Helper()
	line, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer line.Close()
	fmt.Fprint(line, head)
	line.SetReadDeadline(time.Now().Add(time.Second))
	answer, err := http.ReadResponse(bufio.NewReader(line), nil)
	if errors.Is(err, os.ErrDeadlineExceeded) {
		return page{}, false
	}
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return page{answer.StatusCode, "", string(body), answer.Header}, true
}

// What is too large is turned away by its head alone, before any of it is read, and still
// by our own page. What its sender may send is waited for.
func TestALargePostIsTurnedAwayByItsHead(t *testing.T) {
	w := newTown(t)
	address := w.listening(t)
	const logs, boundary = "/jobs/1/sown", "/farms/1/paddocks/new"
	for name, c := range map[string]struct {
		path, cookie string
		length       int
		status       int // 0 where the body is waited for
		says         string
	}{
		"a log of nobody":                     {logs, "", 200 << 20, 401, "somebody who is not signed in"},
		"a log under a cookie of no session":  {logs, secret(), 200 << 20, 401, "turned away unread"},
		"a boundary of nobody":                {boundary, "", strangerLimit + 1, 401, "Sign in first"},
		"a few words of nobody":               {"/enter", "", strangerLimit, 0, ""},
		"a log of the contractor":             {logs, w.contractor.cookie, 200 << 20, 0, ""},
		"a log beyond all sense":              {logs, w.contractor.cookie, logBodyLimit + 1, 413, "larger than 256 MB"},
		"a log of the operator, who loads no": {logs, w.operator.cookie, 200 << 20, 413, "larger than 64 MB"},
		"a boundary beyond all sense":         {boundary, w.contractor.cookie, bodyLimit + 1, 413, "larger than 64 MB"},
		"a boundary of the contractor":        {boundary, w.contractor.cookie, bodyLimit, 0, ""},
	} {
		head := fmt.Sprintf("POST %s HTTP/1.1\r\nHost: %s\r\nCookie: %s=%s\r\nContent-Length: %d\r\n\r\n", c.path, host, cookieName, c.cookie, c.length)
		p, answered := headSent(t, address, head)
		if answered != (c.status != 0) {
			t.Errorf("%s: answered %v with %d", name, answered, p.status)
		}
		if answered {
			p.mustShow(t, c.status, c.says)
			guardedPage(t, name, p)
		}
	}
}

// A body of unknown length is read no further than its sender may send, beside what the
// network holds on the way.
func TestABodyInPiecesOfNobodyIsCutOff(t *testing.T) {
	w := newTown(t)
	const onTheWay = 30 << 20
	sent := 0
	body := readerOfPieces(func(p []byte) (int, error) {
		sent += len(p)
		if sent > onTheWay {
			return 0, io.EOF
		}
		return len(p), nil
	})
	answer, err := http.Post("http://"+w.listening(t)+"/jobs/1/sown", "text/csv", body)
	if err == nil {
		answer.Body.Close()
	}
	if sent > onTheWay || err == nil && answer.StatusCode != http.StatusUnauthorized {
		t.Errorf("%d bytes were read: %v %v", sent, answer, err)
	}
}

type readerOfPieces func(p []byte) (int, error)

func (r readerOfPieces) Read(p []byte) (int, error) { return r(p) }

// A log has room and time of its own, at the one address where the contractor loads logs.
func TestALogHasRoomOfItsOwn(t *testing.T) {
	w := newTown(t)
	s := site{Options: Options{Books: w.store, Now: func() time.Time { return moment }}, door: newDoor()}
	for _, c := range []struct {
		method, path string
		length, want int
	}{
		{"POST", "/jobs/12/sown", bodyLimit, logBodyLimit}, {"POST", "/jobs/12/sown?x=1", -1, logBodyLimit},
		{"POST", "/jobs/12/sown/again", bodyLimit, bodyLimit}, {"POST", "/jobs/x/sown", bodyLimit, bodyLimit},
		{"POST", "/season?next=/jobs/1/sown", bodyLimit, bodyLimit}, {"PUT", "/jobs/12/sown", bodyLimit, bodyLimit},
		{"POST", "/jobs/12/sown", strangerLimit, 0}, // as the server has it, without asking who
	} {
		var head fasthttp.RequestHeader
		head.SetMethod(c.method)
		head.SetRequestURI(c.path)
		head.SetCookie(cookieName, w.contractor.cookie)
		head.SetContentLength(c.length)
		got := s.roomFor(&head)
		if got.MaxRequestBodySize != c.want || (got.ReadTimeout == logTimeout) != (c.want == logBodyLimit) {
			t.Errorf("%s %s with %d bytes has room for %d bytes and %v, want %d", c.method, c.path, c.length, got.MaxRequestBodySize, got.ReadTimeout, c.want)
		}
	}
	if logBodyLimit <= job.LargestLog || bodyLimit <= job.LargestFile {
		t.Error("a file that is too large must reach its form")
	}
}

// A session that has run out, or that was closed, opens no more than a stranger has.
func TestASessionThatRanOutHasNoRoom(t *testing.T) {
	w := newTown(t)
	s := site{Options: Options{Books: w.store, Now: func() time.Time { return moment.Add(2 * sessionTime) }}, door: newDoor()}
	if role := s.roleOf(w.contractor.cookie); role != "" {
		t.Errorf("the session is still of a %s", role)
	}
}
