package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
)

// reference is the library, run by Node in a process that lives as long as the
// bench.
type reference struct {
	cmd     *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Scanner
	Version string `json:"version"`
	Node    string `json:"node"`
}

// answer is one run of a case by the library.
type answer struct {
	Absent    bool    `json:"absent"`
	Alone     float64 `json:"alone"` // seconds without import and export
	Whole     float64 `json:"whole"` // seconds from mesh to mesh
	Triangles int     `json:"triangles"`
	Volume    float64 `json:"volume"`
	Area      float64 `json:"area"`
}

// longestAnswer bounds a line; an answer has some hundred bytes.
const longestAnswer = 1 << 16

func startReference(ctx context.Context) (*reference, error) {
	cmd := exec.CommandContext(ctx, "node", filepath.Join("bench", "kernel", "reference.mjs"))
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	r := &reference{cmd: cmd, in: in, out: bufio.NewScanner(out)}
	r.out.Buffer(make([]byte, 0, 4096), longestAnswer)
	if err := r.read(r); err != nil {
		r.stop()
		return nil, err
	}
	return r, nil
}

func (r *reference) run(name string, n int) (answer, error) {
	if err := json.NewEncoder(r.in).Encode(map[string]any{"case": name, "n": n}); err != nil {
		return answer{}, err
	}
	var a answer
	err := r.read(&a)
	return a, err
}

func (r *reference) read(into any) error {
	if !r.out.Scan() {
		if err := r.out.Err(); err != nil {
			return err
		}
		return fmt.Errorf("the library ended without an answer; is it installed? (cd bench/kernel && npm ci --ignore-scripts)")
	}
	return json.Unmarshal(r.out.Bytes(), into)
}

// stop ends the process, which ends by itself when its input does.
func (r *reference) stop() {
	r.in.Close()
	_ = r.cmd.Wait()
}
