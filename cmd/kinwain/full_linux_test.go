package main

import (
	"errors"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"kinwain/internal/skipped"
)

// onSmallDisk says that a process of these tests may mount what it likes.
const onSmallDisk = "KINWAIN_TEST_ON_SMALL_DISK"

// TestFullDisk serves from a disk that fills up: pages are still read, what
// cannot be kept is said, and it goes on once there is room. The disk is a
// small file system in memory, mounted where only a child of this test sees
// it.
func TestFullDisk(t *testing.T) {
	if os.Getenv(onSmallDisk) == "" {
		inOwnSpace(t)
		return
	}
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=6m"); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := syscall.Unmount(disk, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	}()
	dir := filepath.Join(disk, "data")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	demoShop.Fill(t, dir)
	admin := freeAddress(t)
	a := start(t, dir, "-admin-addr", admin).signIn()
	made, _ := a.post("/consultations", formType, "")
	consultation := made.Request.URL.Path
	answers := url.Values{"units": {"metric"}, "do": {"save"}, "customer": {strings.Repeat("M", 100)}}.Encode()
	filler := fill(t, disk)
	for _, page := range []string{"/", consultation, "/inventory"} {
		if response, _ := a.get(page); response.StatusCode != http.StatusOK {
			t.Errorf("with a full disk %s is %d", page, response.StatusCode)
		}
	}
	full := 0
	for range 200 { // what is left of the log's last pages may take a few
		response, page := a.post(consultation, formType, answers)
		if response.StatusCode == http.StatusInsufficientStorage && strings.Contains(page.Text(), "disk of the shop’s computer is full") {
			full++
		}
	}
	if full == 0 {
		t.Error("every answer was said to be kept on a full disk")
	}
	if response, _ := a.get(consultation); response.StatusCode != http.StatusOK {
		t.Errorf("after that the consultation is %d", response.StatusCode)
	}
	if response, _ := a.get("http://" + admin + "/healthz"); response.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("with a full disk /healthz is %d", response.StatusCode)
	}
	if !strings.Contains(a.stderr.String(), "no space left") {
		t.Errorf("the log does not say so: %s", &a.stderr)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if response, page := a.post(consultation, formType, answers); response.StatusCode != http.StatusOK || page.Find("[name=customer]").AttrOr("value", "") != strings.Repeat("M", 100) {
		t.Errorf("with room again: %d", response.StatusCode)
	}
	if response, _ := a.get("http://" + admin + "/healthz"); response.StatusCode != http.StatusOK {
		t.Errorf("with room again /healthz is %d", response.StatusCode)
	}
	a.cancel()
	if status := <-a.ended; status != 0 {
		t.Errorf("exit status %d", status)
	}
}

// inOwnSpace runs the test again where it may mount.
func inOwnSpace(t *testing.T) {
	child := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	child.Env = append(os.Environ(), onSmallDisk+"=1")
	child.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}}
	said, err := child.CombinedOutput()
	var ended *exec.ExitError
	if err != nil && !errors.As(err, &ended) || strings.Contains(string(said), "operation not permitted") || strings.Contains(string(said), "permission denied") {
		skipped.Test(t, "leave to mount a small file system")
	}
	if err != nil || !strings.Contains(string(said), "--- PASS: "+t.Name()) {
		t.Errorf("%v\n%s", err, said)
	}
}

// fill writes until there is no room left.
func fill(t *testing.T, dir string) (name string) {
	t.Helper()
	f, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() // what matters is that it is full
	for size := 1 << 16; size > 0; size /= 2 {
		for err == nil {
			_, err = f.Write(make([]byte, size))
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatal(err)
		}
		err = nil
	}
	return f.Name()
}
