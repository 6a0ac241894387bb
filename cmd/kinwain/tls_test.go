package main

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"io"
	"log"
	"math/big"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/letsencrypt/pebble/v2/ca"
	"github.com/letsencrypt/pebble/v2/db"
	"github.com/letsencrypt/pebble/v2/va"
	"github.com/letsencrypt/pebble/v2/wfe"
	"github.com/miekg/dns"
)

// freePort returns a port on which nobody listens.
func freePort(t *testing.T) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close() // nothing was sent
	return l.Addr().(*net.TCPAddr).Port
}

// names is a server of names of which every one leads to this computer.
func names(t *testing.T) (address string) {
	t.Helper()
	socket, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &dns.Server{Listener: socket, Handler: dns.HandlerFunc(func(w dns.ResponseWriter, asked *dns.Msg) {
		told := new(dns.Msg)
		told.SetReply(asked)
		if q := asked.Question[0]; q.Qtype == dns.TypeA {
			told.Answer = []dns.RR{&dns.A{Hdr: dns.RR_Header{Name: q.Name, Rrtype: dns.TypeA, Class: dns.ClassINET}, A: net.IPv4(127, 0, 0, 1)}}
		}
		if err := w.WriteMsg(told); err != nil {
			t.Error(err)
		}
	})}
	served := make(chan error, 1)
	go func() { served <- server.ActivateAndServe() }()
	t.Cleanup(func() {
		if err := errors.Join(server.Shutdown(), <-served); err != nil {
			t.Error(err)
		}
	})
	return socket.Addr().String()
}

// authority runs an authority for certificates that looks at a port of this
// computer, and returns its directory and its root.
func authority(t *testing.T, port int) (directory string, roots *x509.CertPool) {
	t.Helper()
	t.Setenv("PEBBLE_VA_NOSLEEP", "1")
	quiet := log.New(io.Discard, "", 0)
	store := db.NewMemoryStore()
	issuer := ca.New(quiet, store, "", "ecdsa", 0, 1, map[string]ca.Profile{"default": {Description: "the only one"}})
	front := wfe.New(quiet, store, va.New(quiet, port, port, true, names(t), store), issuer, []string{"authority.example"}, true, false, 1, 1)
	server := httptest.NewTLSServer(front.Handler())
	t.Cleanup(server.Close)
	// The program trusts what the system does.
	trusted := filepath.Join(t.TempDir(), "authority.pem")
	if err := os.WriteFile(trusted, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: server.Certificate().Raw}), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("SSL_CERT_FILE", trusted)
	roots = x509.NewCertPool()
	roots.AddCert(issuer.GetRootCert(0).Cert)
	return server.URL + wfe.DirectoryPath, roots
}

// reach makes the browser of a test trust roots, and find every name at an
// address.
func (a *app) reach(address string, roots *x509.CertPool) {
	a.client.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}, ForceAttemptHTTP2: true, DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
		var d net.Dialer
		return d.DialContext(ctx, network, address)
	}}
}

// TestCertificatesComeByThemselves starts under a name, and opens the printed
// link there with a certificate that an authority has issued over the wire.
// Another name gets none, and a second start needs the authority no more.
func TestCertificatesComeByThemselves(t *testing.T) {
	port := freePort(t)
	directory, roots := authority(t, port)
	address := net.JoinHostPort("127.0.0.1", strconv.Itoa(port))
	dir := demoShop.New(t)
	flags := []string{"-domain", "bikes.example", "-acme", directory, "-addr", address, "-log-level", "ERROR"}
	a := start(t, dir, flags...)
	if !strings.HasPrefix(a.link, "https://bikes.example/sign-in/") {
		t.Fatalf("the link is %s", a.link)
	}
	a.reach(address, roots)
	a.signIn()
	response, _ := a.get("/")
	if response.ProtoMajor != 2 || response.TLS.PeerCertificates[0].VerifyHostname("bikes.example") != nil {
		t.Errorf("HTTP/%d, for %v", response.ProtoMajor, response.TLS.PeerCertificates[0].DNSNames)
	}
	if got := response.Header.Get("Strict-Transport-Security"); got != "max-age=31536000" {
		t.Errorf("the next visit may come without TLS: %q", got)
	}
	if cookies := response.Request.Header.Get("Cookie"); !strings.Contains(cookies, "kinwain=") {
		t.Errorf("the cookies are %q", cookies)
	}
	if c, err := tls.Dial("tcp", address, &tls.Config{ServerName: "other.example", InsecureSkipVerify: true}); err == nil {
		t.Errorf("another name gets a certificate: %v", c.Close())
	}
	a.end("certificates", "kinwain.db")

	b := start(t, dir, "-domain", "bikes.example", "-acme", "http://127.0.0.1:1/none", "-addr", address, "-log-level", "ERROR")
	b.reach(address, roots)
	b.signIn()
	b.end("certificates", "kinwain.db")
}

// end ends the program and checks what is left.
func (a *app) end(left ...string) {
	a.Helper()
	a.cancel()
	if status := <-a.ended; status != 0 || a.stderr.String() != "" {
		a.Errorf("exit status %d: %s", status, &a.stderr)
	}
	files := strings.Join(filesIn(a.T, a.dir), " ")
	for _, name := range left {
		if !strings.Contains(files, name) {
			a.Errorf("no %s among %s", name, files)
		}
	}
}

// written writes a certificate for this computer and its key into files, and
// returns who trusts it.
func written(t *testing.T, cert, key string, serial int64) *x509.CertPool {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	plain := &x509.Certificate{SerialNumber: big.NewInt(serial), Subject: pkix.Name{CommonName: "shop"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, plain, plain, private.Public(), private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	for name, block := range map[string]*pem.Block{key: {Type: "PRIVATE KEY", Bytes: secret}, cert: {Type: "CERTIFICATE", Bytes: der}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	roots := x509.NewCertPool()
	if !roots.AppendCertsFromPEM(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})) {
		t.Fatal("no certificate")
	}
	return roots
}

// TestCertificateOfFiles starts with a certificate in files, renews it there,
// and then damages it.
func TestCertificateOfFiles(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	cert, key := filepath.Join(folder, "cert.pem"), filepath.Join(folder, "key.pem")
	roots := written(t, cert, key, 1)
	a := start(t, demoShop.New(t), "-tls-cert", cert, "-tls-key", key, "-log-level", "ERROR")
	if !strings.HasPrefix(a.link, "https://127.0.0.1:") {
		t.Fatal(a.link)
	}
	address := strings.TrimPrefix(a.base, "https://")
	serial := func() int64 {
		a.reach(address, roots)
		response, _ := a.get("/sign-in")
		return response.TLS.PeerCertificates[0].SerialNumber.Int64()
	}
	a.reach(address, roots)
	a.signIn()
	for _, cookie := range a.client.Jar.Cookies(mustParse(t, a.base)) {
		if cookie.Name == "kinwain" && cookie.Value == "" {
			t.Error("no session")
		}
	}
	if got := serial(); got != 1 {
		t.Errorf("certificate %d", got)
	}
	roots = written(t, cert, key, 2)
	if err := os.Chtimes(cert, time.Time{}, time.Now().Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	if got := serial(); got != 2 {
		t.Errorf("certificate %d after it was renewed", got)
	}
	if err := os.WriteFile(cert, []byte("damaged"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := serial(); got != 2 {
		t.Errorf("certificate %d after it was damaged", got)
	}
	if _, err := tls.Dial("tcp", address, &tls.Config{RootCAs: roots, MaxVersion: tls.VersionTLS11, MinVersion: tls.VersionTLS10}); err == nil {
		t.Error("an old TLS is spoken")
	}
	a.stop()
}
