package main

import (
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// encryption is how the app speaks TLS, if it does so itself.
type encryption struct{ cert, key, domain, authority string }

// encryptionFlags are the flags that say so.
func encryptionFlags(f *flag.FlagSet) *encryption {
	var e encryption
	f.StringVar(&e.cert, "tls-cert", "", "speak TLS with the certificate of this `FILE`, in PEM, with its chain")
	f.StringVar(&e.key, "tls-key", "", "the `FILE` of the private key of -tls-cert")
	f.StringVar(&e.domain, "domain", "", "speak TLS under this `NAME`, which leads to this computer from outside; certificates come by themselves, which accepts the terms of their authority")
	f.StringVar(&e.authority, "acme", autocert.DefaultACMEDirectory, "the `URL` of the ACME directory of the authority for -domain")
	return &e
}

// wrong says why the flags do not go together.
func (e *encryption) wrong() error {
	switch {
	case (e.cert == "") != (e.key == ""):
		return errors.New("-tls-cert and -tls-key go together")
	case e.cert != "" && e.domain != "":
		return errors.New("give -domain or -tls-cert, not both")
	case e.domain != "" && (!strings.Contains(e.domain, ".") || strings.ContainsAny(e.domain, "/:@ ") || net.ParseIP(e.domain) != nil):
		return fmt.Errorf("%q is no name for -domain; write it like bikes.example", e.domain)
	}
	return nil
}

// on reports whether the app speaks TLS itself.
func (e *encryption) on() bool { return e.cert != "" || e.domain != "" }

// base is the address under which the app is reached at a listener.
func (e *encryption) base(a net.Addr) string {
	switch {
	case e.domain != "":
		return "https://" + e.domain
	case e.on():
		return "https://" + reachable(a)
	}
	return "http://" + reachable(a)
}

// config returns how TLS is spoken; nil where it is not. Certificates that come
// by themselves are kept in the folder of the store.
func (e *encryption) config(data string, log *slog.Logger) (*tls.Config, error) {
	switch {
	case e.domain != "":
		m := &autocert.Manager{Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(e.domain), Cache: autocert.DirCache(filepath.Join(data, "certificates")),
			Client: &acme.Client{DirectoryURL: e.authority, UserAgent: "kinwain"}}
		return m.TLSConfig(), nil
	case e.cert != "":
		pair := &keyPair{cert: e.cert, key: e.key, log: log}
		if _, err := pair.get(nil); err != nil {
			return nil, fmt.Errorf("-tls-cert and -tls-key: %w", err)
		}
		return &tls.Config{GetCertificate: pair.get, MinVersion: tls.VersionTLS12}, nil
	}
	return nil, nil
}

// keyPair is a certificate in files. A newer one there is taken from the next
// connection on, so that renewing it needs no restart.
type keyPair struct {
	cert, key string
	log       *slog.Logger
	mutex     sync.Mutex
	written   time.Time
	pair      *tls.Certificate
}

func (k *keyPair) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	info, err := os.Stat(k.cert)
	if err == nil && (k.pair == nil || !info.ModTime().Equal(k.written)) {
		var pair tls.Certificate
		if pair, err = tls.LoadX509KeyPair(k.cert, k.key); err == nil {
			k.pair, k.written = &pair, info.ModTime()
		}
	}
	if err != nil && k.pair != nil {
		k.log.Warn("the new certificate cannot be read; the one of before stays", "error", err)
		return k.pair, nil
	}
	return k.pair, err
}
