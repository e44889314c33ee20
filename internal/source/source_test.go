package source

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// tree makes a file system of texts by path.
func tree(files map[string]string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

func names(set *Set) []string {
	var out []string
	for _, f := range set.Files {
		out = append(out, f.Name)
	}
	return out
}

// told prints diagnostics as "file:line:column code".
func told(diags diag.List) []string {
	var out []string
	for _, d := range diags {
		out = append(out, fmt.Sprintf("%s:%d:%d %s", d.Subject.Filename, d.Subject.Start.Line, d.Subject.Start.Column, d.Code))
	}
	return out
}

func TestLoad(t *testing.T) {
	library := tree(map[string]string{"sessions.hcl": "a = 1\n", "library.go": "package library\n"})
	for _, test := range []struct {
		name  string
		files map[string]string
		dir   string
		want  []string
		diags []string
	}{
		{
			name:  "all files of the folder, by name, and nothing else",
			files: map[string]string{"p/b.hcl": "", "p/a.hcl": "", "p/log.csv": "", "p/sub/c.hcl": "", "p/.draft.hcl": "=", "q/d.hcl": ""},
			dir:   "p", want: []string{"built-in/sessions.hcl", "p/a.hcl", "p/b.hcl"},
		},
		{
			name:  "one file",
			files: map[string]string{"p/a.hcl": "", "p/b.hcl": "="},
			dir:   "p/a.hcl", want: []string{"built-in/sessions.hcl", "p/a.hcl"},
		},
		{
			name:  "the root itself",
			files: map[string]string{"a.hcl": ""},
			dir:   ".", want: []string{"built-in/sessions.hcl", "a.hcl"},
		},
		{
			name: "includes before the plan, from the file that names them",
			files: map[string]string{
				"plans/p/z.hcl": `include = ["../../team/riders", "../library"]`, "plans/library/s.hcl": "",
				"team/riders/r.hcl": `include = ["../tests/t.hcl"]`, "team/tests/t.hcl": "", "team/tests/u.hcl": "=",
			},
			dir:  "plans/p",
			want: []string{"built-in/sessions.hcl", "plans/library/s.hcl", "team/riders/r.hcl", "team/tests/t.hcl", "plans/p/z.hcl"},
		},
		{
			name:  "loops, each folder once",
			files: map[string]string{"p/a.hcl": `include = ["../q", ".", "a.hcl"]`, "q/b.hcl": `include = ["../p", "../p/a.hcl"]`},
			dir:   "p", want: []string{"built-in/sessions.hcl", "q/b.hcl", "p/a.hcl"},
		},
		{
			name:  "one file that includes its own folder",
			files: map[string]string{"p/a.hcl": `include = ["."]`, "p/b.hcl": ""},
			dir:   "p/a.hcl", want: []string{"built-in/sessions.hcl", "p/b.hcl", "p/a.hcl"},
		},
		{
			name:  "no such folder",
			files: map[string]string{"p/a.hcl": ""},
			dir:   "q", want: []string{"built-in/sessions.hcl"}, diags: []string{"q:1:1 missing-file"},
		},
		{
			name:  "no plan in the folder",
			files: map[string]string{"p/notes.txt": "", "p/sub/a.hcl": ""},
			dir:   "p", want: []string{"built-in/sessions.hcl"}, diags: []string{"p:1:1 no-plan-file"},
		},
		{
			name:  "another kind of file",
			files: map[string]string{"p/notes.txt": ""},
			dir:   "p/notes.txt", want: []string{"built-in/sessions.hcl"}, diags: []string{"p/notes.txt:1:1 no-plan-file"},
		},
		{
			name: "includes that lead nowhere",
			files: map[string]string{
				"p/a.hcl": "include = [\n  \"../none\",\n  \"../..\",\n  \"/etc\",\n  \"C:/x\",\n  \"..\\\\q\",\n  \"\",\n  \"../empty\",\n]\n", "empty/x.txt": "",
			},
			dir: "p", want: []string{"built-in/sessions.hcl", "p/a.hcl"},
			diags: []string{
				"p/a.hcl:2:3 missing-file", "p/a.hcl:3:3 outside-repository", "p/a.hcl:4:3 outside-repository", "p/a.hcl:5:3 outside-repository",
				"p/a.hcl:6:3 outside-repository", "p/a.hcl:7:3 outside-repository", "p/a.hcl:8:3 no-plan-file",
			},
		},
		{
			name:  "includes that are computed",
			files: map[string]string{"p/a.hcl": "include = [\"../${x}\", y]\n", "p/b.hcl": "include = \"../q\"\n"},
			dir:   "p", want: []string{"built-in/sessions.hcl", "p/a.hcl", "p/b.hcl"},
			diags: []string{"p/a.hcl:1:12 include-not-literal", "p/a.hcl:1:23 include-not-literal", "p/b.hcl:1:11 include-not-literal"},
		},
		{
			name:  "mistakes in included files are told there",
			files: map[string]string{"p/a.hcl": `include = ["../q"]`, "q/b.hcl": "a = 5 h\n"},
			dir:   "p", want: []string{"built-in/sessions.hcl", "q/b.hcl", "p/a.hcl"}, diags: []string{"q/b.hcl:1:7 syntax"},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			set, diags := Load(tree(test.files), test.dir, library)
			if diff := cmp.Diff(test.want, names(set)); diff != "" {
				t.Errorf("files: want -, got +:\n%s", diff)
			}
			if diff := cmp.Diff(test.diags, told(diags)); diff != "" {
				t.Errorf("diagnostics: want -, got +:\n%s", diff)
			}
			for _, f := range set.Files {
				if f.Library != strings.HasPrefix(f.Name, "built-in/") {
					t.Errorf("%s: library is %v", f.Name, f.Library)
				}
			}
		})
	}
}

func TestLoadLimits(t *testing.T) {
	many := map[string]string{}
	for i := range sensible.files {
		many[fmt.Sprintf("p/%04d.hcl", i)] = ""
	}
	if set, diags := Load(tree(many), "p", nil); len(set.Files) != sensible.files || diags != nil {
		t.Errorf("got %d files, %v", len(set.Files), told(diags))
	}
	many["p/z.hcl"] = ""
	if _, diags := Load(tree(many), "p", nil); len(diags) != 1 || diags[0].Code != "plan-too-large" {
		t.Errorf("one file more: got %v", told(diags))
	}

	large := strings.Repeat("# comment\n", syntax.MaxFileBytes/10)
	big := map[string]string{"p/a.hcl": large + large}
	if set, diags := Load(tree(big), "p", nil); len(diags) != 1 || diags[0].Code != "file-too-large" || len(set.Files) != 1 {
		t.Errorf("a large file: got %v", told(diags))
	}
	small := tree(map[string]string{"p/a.hcl": "# ten bytes", "p/b.hcl": "# ten bytes", "p/c.hcl": "# ten bytes"})
	if set, diags := load(small, "p", nil, limits{files: 9, bytes: 25}); len(diags) != 1 || told(diags)[0] != "p/c.hcl:1:1 plan-too-large" || len(set.Files) != 2 {
		t.Errorf("a large plan: got %v", told(diags))
	}
}

// TestIncludeFix: where it is plain what was meant, the fix writes it.
func TestIncludeFix(t *testing.T) {
	for text, want := range map[string]string{
		`include = "../q"`: `include = ["../q"]`, `include = q`: `include = ["q"]`, `include = ["../q", q]`: `include = ["../q", "q"]`, `include = ["${q}"]`: "", `include = q.r`: "",
	} {
		_, diags := Load(tree(map[string]string{"p/a.hcl": text, "q/b.hcl": ""}), "p", nil)
		got := ""
		if len(diags) == 1 && diags[0].Fix != nil {
			fixed, err := syntax.Apply([]byte(text), diags[0].Fix.Edits)
			if err != nil {
				t.Error(err)
			}
			got = string(fixed)
		}
		if got != want || len(diags) != 1 {
			t.Errorf("%s: got %q, %v, want %q", text, got, told(diags), want)
		}
	}
}

func TestReadData(t *testing.T) {
	set, _ := Load(tree(map[string]string{"plans/p/a.hcl": "", "plans/p/tests/t.csv": "1", "data/u.csv": "2"}), "plans/p", tree(map[string]string{"s.hcl": ""}))
	plan := set.Files[1]
	for _, test := range []struct {
		path, want, name string
		refused          error
	}{
		{"tests/t.csv", "1", "plans/p/tests/t.csv", nil},
		{"../../data/u.csv", "2", "data/u.csv", nil},
		{"./tests/../tests/t.csv", "1", "plans/p/tests/t.csv", nil},
		{"none.csv", "", "plans/p/none.csv", fs.ErrNotExist},
		{"../../../x.csv", "", "", errRefused},
		{"/etc/passwd", "", "", errRefused},
		{"", "", "", errRefused},
	} {
		data, name, err := set.ReadData(plan, test.path)
		if string(data) != test.want || name != test.name || !errors.Is(err, test.refused) {
			t.Errorf("%s: got %q, %q, %v", test.path, data, name, err)
		}
	}
	if _, _, err := set.ReadData(plan, "tests"); err == nil || err.Error() != "plans/p/tests cannot be read: it is not an ordinary file" {
		t.Error("a folder was read as data")
	}
	if _, _, err := set.ReadData(set.Files[0], "x.csv"); !errors.Is(err, errRefused) {
		t.Errorf("data of the library: got %v", err)
	}
}

// write makes files under a folder.
func write(t *testing.T, top string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(top, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestOpenFindsTheRoot(t *testing.T) {
	top := t.TempDir()
	write(t, top, map[string]string{
		"repo/.git/HEAD": "", "repo/plans/a/p.hcl": "", "repo/p.hcl": "", "worktree/.git": "gitdir: ../repo/.git", "worktree/a/b/p.hcl": "",
		"loose/plan/p.hcl": "", "loose/library/l.hcl": "",
	})
	for _, test := range []struct{ path, dir, sibling string }{
		{"repo/plans/a", "plans/a", "p.hcl"},
		{"repo/plans/a/p.hcl", "plans/a/p.hcl", "p.hcl"},
		{"repo", ".", "p.hcl"},
		{"worktree/a/b", "a/b", ".git"},
		{"loose/plan", "plan", "library/l.hcl"},
		{"loose/plan/p.hcl", "plan/p.hcl", "library/l.hcl"},
	} {
		fsys, dir, closeRoot, err := Open(filepath.Join(top, filepath.FromSlash(test.path)))
		if err != nil {
			t.Fatal(err)
		}
		if dir != test.dir {
			t.Errorf("%s: dir is %q, want %q", test.path, dir, test.dir)
		}
		if _, err := fs.Stat(fsys, test.sibling); err != nil {
			t.Errorf("%s: %v", test.path, err)
		}
		if set, diags := Load(fsys, dir, nil); len(set.Files) != 1 || diags != nil {
			t.Errorf("%s: got %v, %v", test.path, names(set), told(diags))
		}
		if err := closeRoot(); err != nil {
			t.Error(err)
		}
	}
	if _, _, _, err := Open(filepath.Join(top, "none")); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "none") {
		t.Errorf("no folder: got %v", err)
	}
}

func TestLinksStayInTheRoot(t *testing.T) {
	top := t.TempDir()
	write(t, top, map[string]string{
		"repo/.git/HEAD": "", "repo/p/a.hcl": "include = [\"../out\", \"../in\"]\n", "repo/lib/l.hcl": "", "outside/o.hcl": "", "outside/d.csv": "secret",
	})
	for link, target := range map[string]string{
		"repo/in": "lib", "repo/out": "../outside", "repo/p/z.hcl": "../../outside/o.hcl", "repo/p/d.csv": "../../outside/d.csv", "repo/p/loop.hcl": "loop.hcl", "way": "repo/p",
	} {
		if err := os.Symlink(filepath.FromSlash(target), filepath.Join(top, filepath.FromSlash(link))); err != nil {
			t.Skipf("this system makes no links: %v", err)
		}
	}
	fsys, dir, closeRoot, err := Open(filepath.Join(top, "way")) // itself reached by a link
	if err != nil {
		t.Fatal(err)
	}
	defer closeRoot()
	set, diags := Load(fsys, dir, nil)
	if diff := cmp.Diff([]string{"in/l.hcl", "p/a.hcl"}, names(set)); dir != "p" || diff != "" {
		t.Errorf("dir %s; files: want -, got +:\n%s", dir, diff)
	}
	if diff := cmp.Diff([]string{"p/loop.hcl:1:1 unreadable", "p/z.hcl:1:1 outside-repository", "p/a.hcl:1:12 outside-repository"}, told(diags)); diff != "" {
		t.Errorf("diagnostics: want -, got +:\n%s", diff)
	}
	if data, _, err := set.ReadData(set.Files[1], "d.csv"); !errors.Is(err, errRefused) || data != nil {
		t.Errorf("data outside: got %q, %v", data, err)
	}
}

func TestOverlay(t *testing.T) {
	base := tree(map[string]string{"p/a.hcl": "a = 1\n", "p/b.hcl": "b = 1\n", "p/d.csv": "old"})
	fsys := Overlay(base, map[string][]byte{"p/a.hcl": []byte("a = 5 h\n"), "p/c.hcl": []byte("c = 1\n"), "p/d.csv": []byte("new")})
	set, diags := Load(fsys, "p", nil)
	if diff := cmp.Diff([]string{"p/a.hcl", "p/b.hcl", "p/c.hcl"}, names(set)); diff != "" {
		t.Errorf("files: want -, got +:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"p/a.hcl:1:7 syntax"}, told(diags)); diff != "" {
		t.Errorf("diagnostics: want -, got +:\n%s", diff)
	}
	if data, _, err := set.ReadData(set.Files[0], "d.csv"); string(data) != "new" || err != nil {
		t.Errorf("got %q, %v", data, err)
	}
}
