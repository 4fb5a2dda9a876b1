package store

import (
	"context"
	"database/sql"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// server is the PostgreSQL that these tests start for themselves, once, when the first of
// them asks for it.
var server struct {
	once  sync.Once
	url   string
	err   error
	hold  io.Closer // the server lives as long as this is open
	shell *exec.Cmd
}

func TestMain(m *testing.M) {
	code := m.Run()
	dropDatabases()
	if server.hold != nil {
		_ = server.hold.Close()
		_ = server.shell.Wait()
	}
	os.Exit(code)
}

// serve makes a cluster in a temporary folder and serves it until standard input ends,
// which it also does when the tests are killed.
const serve = `
dir=$(mktemp -d) || exit 1
trap 'rm -rf "$dir"' EXIT
"$0/initdb" -D "$dir" -U rowtally -A trust -E UTF8 --locale=C --no-sync >&2 || exit 1
"$0/postgres" -D "$dir" -p "$1" -c listen_addresses=127.0.0.1 -c unix_socket_directories= \
	-c fsync=off -c max_connections=300 -c log_min_messages=panic <&- >&2 &
postgres=$!
cat >/dev/null
kill -INT $postgres
wait $postgres
`

func localServer(t testing.TB) string {
	t.Helper()
	bins, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(bins) == 0 {
		t.Skip("no PostgreSQL here: install one, or name a server in ROWTALLY_TEST_DATABASE_URL")
	}
	server.once.Do(func() { server.err = startServer(filepath.Dir(bins[len(bins)-1])) })
	if server.err != nil {
		t.Fatal(server.err)
	}
	return server.url
}

func startServer(bin string) error {
	port, err := freePort()
	if err != nil {
		return err
	}
	server.shell = exec.Command("sh", "-c", serve, bin, port)
	if os.Geteuid() == 0 { // PostgreSQL refuses to be run by root
		server.shell = exec.Command("setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups", "sh", "-c", serve, bin, port)
	}
	server.shell.Dir = os.TempDir()
	if server.hold, err = server.shell.StdinPipe(); err != nil {
		return err
	}
	if err := server.shell.Start(); err != nil {
		return err
	}
	server.url = fmt.Sprintf("postgres://rowtally@127.0.0.1:%s/postgres?sslmode=disable", port)
	return answers(server.url)
}

func freePort() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	_, port, err := net.SplitHostPort(l.Addr().String())
	_ = l.Close()
	return port, err
}

// answers waits until the server does.
func answers(url string) error {
	db, err := sql.Open("pgx", url)
	if err != nil {
		return err
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	for {
		err := db.PingContext(ctx)
		if err == nil || ctx.Err() != nil {
			return err
		}
		time.Sleep(50 * time.Millisecond)
	}
}
