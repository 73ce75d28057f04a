package build_test

import (
	"os"
	"testing"
)

// The test binary plays the program that is killed: see kill_test.go.
func TestMain(m *testing.M) {
	if dir := os.Getenv(victimEnv); dir != "" {
		victim(dir)
		return
	}
	os.Exit(m.Run())
}
