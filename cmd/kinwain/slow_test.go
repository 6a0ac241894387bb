package main

import (
	"context"
	"log/slog"
	"net"
	"net/http"
	"testing"
	"time"
)

// TestSlowReaders lets somebody ask for more than a connection holds and read
// none of it.
func TestSlowReaders(t *testing.T) {
	t.Parallel()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	gaveUp := make(chan error, 1)
	handler := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		var err error
		for chunk := make([]byte, 1<<20); err == nil; {
			_, err = w.Write(chunk)
		}
		gaveUp <- err
	})
	quick := usual
	quick.write = 300 * time.Millisecond
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- answer(ctx, l, handler, slog.New(slog.DiscardHandler), nil, quick) }()
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close() // nothing was read
	if _, err := c.Write([]byte("GET / HTTP/1.1\r\nHost: x\r\n\r\n")); err != nil {
		t.Fatal(err)
	}
	select {
	case <-gaveUp:
	case <-time.After(time.Minute):
		t.Error("still writing")
	}
	cancel()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if usual.write <= usual.read || usual.drain >= longestEnd {
		t.Errorf("%+v", usual)
	}
}
