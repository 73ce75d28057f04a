package main

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"net"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/boombuler/barcode/qr"

	"scalewright/server"
)

// newToken is 128 random bits.
func newToken() string {
	var b [16]byte
	rand.Read(b[:]) // never fails, see crypto/rand
	return hex.EncodeToString(b[:])
}

// hostsOf are the names under which an address may be asked for: itself, or all of
// this machine's where it is any.
func hostsOf(a *net.TCPAddr) []string {
	port := strconv.Itoa(a.Port)
	var hosts []string
	add := func(host string) { hosts = append(hosts, strings.ToLower(net.JoinHostPort(host, port))) }
	switch {
	case a.IP.IsUnspecified():
		add("localhost")
		addresses, err := net.InterfaceAddrs()
		if err != nil {
			break // then the machine's own names must do
		}
		for _, one := range addresses {
			if network, ok := one.(*net.IPNet); ok && !network.IP.IsLinkLocalUnicast() {
				add(network.IP.String())
			}
		}
	case a.IP.IsLoopback():
		add("localhost")
		fallthrough
	default:
		add(a.IP.String())
	}
	return hosts
}

// outward is the first of the hosts that another machine can reach, else the first.
func outward(hosts []string) string {
	k := slices.IndexFunc(hosts, func(h string) bool {
		name, _, err := net.SplitHostPort(h)
		ip := net.ParseIP(name)
		return err == nil && ip != nil && !ip.IsLoopback()
	})
	return hosts[max(0, k)]
}

// address says where the page is; where a token is asked for, also as a code to scan.
func (f *face) address(o server.Options, to string) error {
	if o.Token == "" {
		fmt.Fprintf(f.out, "The page is at http://%s%s (Ctrl-C ends it)\n", o.Hosts[len(o.Hosts)-1], to)
		return nil
	}
	query := url.Values{"token": {o.Token}, "to": {to}}
	link := o.Address + "/pair?" + query.Encode()
	code, err := terminalCode(link)
	if err != nil {
		return err
	}
	fmt.Fprintf(f.out, "Everybody on this network who has the token can work on your builds.\nScan this once with each phone or browser, or open the address under it (Ctrl-C ends it):\n\n%s\n%s\n", code, link)
	return nil
}

// quiet is the margin that ISO/IEC 18004:2015, 6.3.8, asks for, in modules.
const quietZone = 4

// terminalCode is a QR code in letters: half blocks, two rows a line, dark on light
// whatever the terminal's colours are.
func terminalCode(text string) (string, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return "", fmt.Errorf("draw the pairing code: %w", err)
	}
	size := code.Bounds().Dx()
	dark := func(x, y int) bool {
		if x < 0 || y < 0 || x >= size || y >= size {
			return false
		}
		r, _, _, _ := code.At(x, y).RGBA()
		return r < 0x8000
	}
	const blackOnWhite, plain = "\x1b[30;107m", "\x1b[0m"
	var b strings.Builder
	for y := -quietZone; y < size+quietZone; y += 2 {
		b.WriteString(blackOnWhite)
		for x := -quietZone; x < size+quietZone; x++ {
			switch up, low := dark(x, y), dark(x, y+1); {
			case up && low:
				b.WriteRune('█')
			case up:
				b.WriteRune('▀')
			case low:
				b.WriteRune('▄')
			default:
				b.WriteByte(' ')
			}
		}
		b.WriteString(plain + "\n")
	}
	return b.String(), nil
}
