package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// repository is the root of the repository, from this package's folder.
const repository = "../.."

// TestMain makes the program itself a command of the scripts.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"towpath": main})
}

// TestScripts runs testdata/script: the command line as a coach uses it.
func TestScripts(t *testing.T) {
	root, err := filepath.Abs(repository)
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(root, "testdata", "script"),
		RequireExplicitExec: true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			if err := os.Mkdir(filepath.Join(e.WorkDir, ".git"), 0o777); err != nil { // the root of the script's plans
				return err
			}
			return os.CopyFS(filepath.Join(e.WorkDir, "demo"), os.DirFS(filepath.Join(root, "plans")))
		},
	})
}
