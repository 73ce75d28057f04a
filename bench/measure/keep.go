package main

import (
	"encoding/gob"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"sync"
)

// kept is scores by seed in a file, so that many seeds can be measured a few at a
// time and judged as one. Gob, since figures without an answer are NaN.
type kept struct {
	file   string
	mu     sync.Mutex
	Scores map[uint64]score
}

// open reads what is there; without a file name nothing is kept.
func open(file string) (*kept, error) {
	k := &kept{file: file, Scores: map[uint64]score{}}
	if file == "" {
		return k, nil
	}
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	if err != nil {
		return nil, err
	}
	if err := errors.Join(gob.NewDecoder(f).Decode(&k.Scores), f.Close()); err != nil {
		return nil, fmt.Errorf("read %s: %w", file, err)
	}
	return k, nil
}

func (k *kept) has(seed uint64) (score, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	s, ok := k.Scores[seed]
	return s, ok
}

// put writes the file anew after each score, so that a run cut short keeps its work.
func (k *kept) put(seed uint64, s score) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.Scores[seed] = s
	if k.file == "" {
		return nil
	}
	next := k.file + ".next"
	f, err := os.Create(next)
	if err != nil {
		return err
	}
	if err := errors.Join(gob.NewEncoder(f).Encode(k.Scores), f.Close()); err != nil {
		return err
	}
	return os.Rename(next, k.file)
}
