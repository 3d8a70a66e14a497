package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"axleloft/app/headless"
	"axleloft/assets"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"axlesheet": func() {
		os.Exit(headless.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}})
}

// One script a case; the demo jobs lie beside it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/cli",
		Setup: func(env *testscript.Env) error {
			for _, name := range assets.Demos() {
				if err := os.WriteFile(filepath.Join(env.WorkDir, name+".axleloft"), assets.Demo(name), 0o644); err != nil {
					return err
				}
			}
			return os.CopyFS(filepath.Join(env.WorkDir, "layouts"), os.DirFS("../../testdata/layouts"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"code": code},
	})
}

// code N command ...: runs a command that must end with status N.
func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}
