package keep

import (
	"cmp"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Options set up a store.
type Options struct {
	Most int64            // bytes of all entries together; 0: DefaultMost
	Now  func() time.Time // when an entry is asked for; nil: the system's clock
}

// DefaultMost is the bound when nothing else is said: 1 GiB.
const DefaultMost = 1 << 30

// Dir is a store in a folder. It is safe for concurrent use, by several
// programs too: each counts what it found when it opened the folder and what it
// has written since, so that two together may for a while hold twice the bound.
// Make one with [Open].
type Dir struct {
	path string
	most int64
	now  func() time.Time

	mu   sync.Mutex
	held int64 // bytes, as far as this program knows
}

const (
	suffix     = ".kept"
	tempPrefix = ".new-"
	// A temporary file older than this was left by a program that was killed:
	// writing one takes well under a second.
	tempAge = time.Hour
)

// Open looks through a folder, which need not be there yet.
func Open(path string, o Options) (*Dir, error) {
	d := &Dir{path: path, most: cmp.Or(o.Most, DefaultMost), now: o.Now}
	if d.now == nil {
		d.now = time.Now
	}
	entries, err := d.scan()
	if err != nil {
		return nil, fmt.Errorf("look through %s: %w", path, err)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.evict(entries)
	return d, nil
}

// Get is the data that was put under a key.
func (d *Dir) Get(key [32]byte) ([]byte, bool) {
	name := d.name(key)
	if info, err := os.Stat(name); err != nil || info.Size() > d.most {
		return nil, false
	}
	file, err := os.ReadFile(name)
	if err != nil {
		return nil, false
	}
	data, ok := open(key, file)
	if !ok {
		d.remove(name, int64(len(file)))
		return nil, false
	}
	now := d.now()
	_ = os.Chtimes(name, now, now) // at worst it is removed before its turn
	return data, true
}

// Put writes data under a key. Data larger than the bound is not kept.
func (d *Dir) Put(key [32]byte, data []byte) error {
	file := seal(key, data)
	if int64(len(file)) > d.most {
		return nil
	}
	name := d.name(key)
	before := int64(0)
	if info, err := os.Stat(name); err == nil {
		before = info.Size()
	}
	if err := d.write(name, file); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.held += int64(len(file)) - before
	if d.held <= d.most {
		return nil
	}
	entries, err := d.scan()
	if err != nil {
		return fmt.Errorf("look through %s: %w", d.path, err)
	}
	d.evict(entries)
	return nil
}

// write puts a file in place whole or not at all.
func (d *Dir) write(name string, file []byte) (err error) {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(name), tempPrefix)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(temp.Name())
		}
	}()
	_, err = temp.Write(file)
	if err = errors.Join(err, temp.Close()); err != nil {
		return err
	}
	now := d.now()
	if err := os.Chtimes(temp.Name(), now, now); err != nil {
		return err
	}
	return os.Rename(temp.Name(), name)
}

// name is the file of a key: a folder for the first two digits keeps folders
// short.
func (d *Dir) name(key [32]byte) string {
	digits := hex.EncodeToString(key[:])
	return filepath.Join(d.path, digits[:2], digits+suffix)
}

func (d *Dir) remove(name string, size int64) {
	if os.Remove(name) == nil {
		d.mu.Lock()
		defer d.mu.Unlock()
		d.held -= size
	}
}
