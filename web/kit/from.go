package kit

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// AddressOf returns the address of the network that a request comes from: what
// the proxy on this computer says, or else the other end of the connection.
func AddressOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	if ip, err := netip.ParseAddr(host); err == nil && ip.IsLoopback() {
		passed := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
		if ip, err := netip.ParseAddr(strings.TrimSpace(passed[len(passed)-1])); err == nil {
			return ip.Unmap().WithZone("").String()
		}
	}
	return host
}

// household is how much of an address of IPv6 one connection to the network has
// for itself, in bits: it may come from any of the rest.
const household = 64

// Neighbours returns whom a request is counted with: an address of IPv4, or the
// /64 of one of IPv6.
func Neighbours(r *http.Request) string {
	address := AddressOf(r)
	ip, err := netip.ParseAddr(address)
	if err != nil || ip.Unmap().Is4() {
		return address
	}
	return netip.PrefixFrom(ip.WithZone(""), household).Masked().String()
}
