package kit_test

import (
	"net/http/httptest"
	"testing"

	"kinwain/web/kit"
)

func TestWhereARequestComesFrom(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ remote, forwarded, address, neighbours string }{
		{"192.0.2.7:5", "", "192.0.2.7", "192.0.2.7"},
		{"192.0.2.7:5", "198.51.100.9", "192.0.2.7", "192.0.2.7"}, // not this computer's proxy
		{"127.0.0.1:5", "198.51.100.9", "198.51.100.9", "198.51.100.9"},
		{"[::1]:5", "203.0.113.1, 198.51.100.9", "198.51.100.9", "198.51.100.9"},
		{"127.0.0.1:5", "198.51.100.9, nonsense", "127.0.0.1", "127.0.0.1"},
		{"127.0.0.1:5", "", "127.0.0.1", "127.0.0.1"},
		{"[2001:db8:1:2:3:4:5:6]:5", "", "2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"},
		{"127.0.0.1:5", "2001:db8:1:2:ffff::1", "2001:db8:1:2:ffff::1", "2001:db8:1:2::/64"},
		{"127.0.0.1:5", "2001:db8:1:3::1", "2001:db8:1:3::1", "2001:db8:1:3::/64"},
		{"127.0.0.1:5", "::ffff:192.0.2.7", "192.0.2.7", "192.0.2.7"},
		{"[fe80::1%eth0]:5", "", "fe80::1%eth0", "fe80::/64"},
		{"a pipe", "", "a pipe", "a pipe"},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr = c.remote
		if c.forwarded != "" {
			r.Header.Set("X-Forwarded-For", c.forwarded)
		}
		if address, neighbours := kit.AddressOf(r), kit.Neighbours(r); address != c.address || neighbours != c.neighbours {
			t.Errorf("%s through %q: %s, counted as %s", c.remote, c.forwarded, address, neighbours)
		}
	}
}
