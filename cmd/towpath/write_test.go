package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/export"
)

// bundleOf makes a bundle with its list of files from names and contents in turn.
func bundleOf(t *testing.T, dir string, namesAndTexts ...string) bundle {
	t.Helper()
	b := bundle{dir: dir}
	for i := 0; i < len(namesAndTexts); i += 2 {
		b.files = append(b.files, export.File{Name: namesAndTexts[i], Bytes: []byte(namesAndTexts[i+1])})
	}
	var list bytes.Buffer
	if err := printJSON(&list, export.NewManifest(b.files)); err != nil {
		t.Fatal(err)
	}
	b.files = append(b.files, export.File{Name: export.ManifestName, Bytes: list.Bytes()})
	return b
}

// tree lists the files below a folder with their contents, but for the lists of files.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == export.ManifestName {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		if d.Type()&fs.ModeSymlink != 0 {
			out[filepath.ToSlash(rel)] = "a link"
			return nil
		}
		data, err := os.ReadFile(path)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestWriteReplacesAndRemoves(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	first := bundleOf(t, "maren/spring", "calendar.ics", "one", "workouts/a.fit", "A", "workouts/b.fit", "B")
	if _, err := writeBundles(out, []bundle{first}, nil); err != nil {
		t.Fatal(err)
	}
	block := filepath.Join(out, "maren", "spring")
	put(t, filepath.Join(block, "notes.txt"), "the coach's own")
	put(t, filepath.Join(block, tempName), "left by a build that was cut off")
	second := bundleOf(t, "maren/spring", "calendar.ics", "two", "workouts/a.fit", "A")
	done, err := writeBundles(out, []bundle{second}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]written{{block, "calendar.ics, 1 in workouts", 1}}, done, cmp.AllowUnexported(written{})); diff != "" {
		t.Error(diff)
	}
	want := map[string]string{
		"maren/spring/calendar.ics":   "two",
		"maren/spring/workouts/a.fit": "A",
		"maren/spring/notes.txt":      "the coach's own",
	}
	if diff := cmp.Diff(want, tree(t, out)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	third := bundleOf(t, "maren/spring", "calendar.ics", "three")
	if _, err := writeBundles(out, []bundle{third}, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(block, "workouts")); !os.IsNotExist(err) {
		t.Errorf("the empty folder stays: %v", err)
	}
}

// Whatever is refused is refused before anything changes.
func TestWriteRefuses(t *testing.T) {
	tests := []struct {
		name string
		set  func(t *testing.T, base, block string) (inputs []string)
		want string
	}{
		{"a file of the plan", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "sessions.csv"), "the plan's data")
			return []string{filepath.Join(block, "sessions.csv")}
		}, "belongs to the plan"},
		{"a file of the plan by another name", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "sessions.csv"), "the plan's data")
			if err := os.Link(filepath.Join(block, "sessions.csv"), filepath.Join(base, "data.csv")); err != nil {
				t.Skipf("this file system has no second names for files: %v", err)
			}
			return []string{filepath.Join(base, "data.csv")}
		}, "belongs to the plan"},
		{"a list that leads out", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "files.json"), `{"files":[{"name":"../../../precious.txt"}]}`)
			return nil
		}, "was not written by this program"},
		{"a list that is none", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "files.json"), `Dear diary`)
			return nil
		}, "was not written by this program"},
		{"a folder where a file belongs", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "sessions.csv", "x"), "x")
			return nil
		}, "is no ordinary file"},
		{"a file where a folder belongs", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(base, "out", "maren"), "x")
			return nil
		}, "is no folder"},
		{"a linked folder", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "calendar.ics"), "old")
			link(t, base, filepath.Join(block, "workouts"))
			return nil
		}, "a link to one"},
		{"a linked file", func(t *testing.T, base, block string) []string {
			put(t, filepath.Join(block, "calendar.ics"), "old")
			link(t, filepath.Join(base, "precious.txt"), filepath.Join(block, "plan.json"))
			return nil
		}, "is no ordinary file"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			base := t.TempDir()
			put(t, filepath.Join(base, "precious.txt"), "precious")
			inputs := tt.set(t, base, filepath.Join(base, "out", "maren", "spring"))
			before := tree(t, base)
			b := bundleOf(t, "maren/spring", "calendar.ics", "new", "plan.json", "new", "sessions.csv", "new", "workouts/a.fit", "new")
			other := bundleOf(t, "anna/spring", "calendar.ics", "new")
			_, err := writeBundles(filepath.Join(base, "out"), []bundle{other, b}, inputs)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got error %v, want one with %q", err, tt.want)
			}
			if diff := cmp.Diff(before, tree(t, base)); diff != "" {
				t.Errorf("something changed (-before +after)\n%s", diff)
			}
		})
	}
}

// A list of files from elsewhere that names a file behind a link removes nothing.
func TestWriteRemovesNothingBehindLinks(t *testing.T) {
	base := t.TempDir()
	block := filepath.Join(base, "out", "maren", "spring")
	put(t, filepath.Join(base, "elsewhere", "precious.txt"), "precious")
	put(t, filepath.Join(block, "files.json"), `{"files":[{"name":"old/precious.txt"},{"name":"gone.txt"},{"name":"linked.txt"}]}`)
	link(t, filepath.Join(base, "elsewhere"), filepath.Join(block, "old"))
	link(t, filepath.Join(base, "elsewhere", "precious.txt"), filepath.Join(block, "linked.txt"))
	if _, err := writeBundles(filepath.Join(base, "out"), []bundle{bundleOf(t, "maren/spring", "calendar.ics", "new")}, nil); err != nil {
		t.Fatal(err)
	}
	got := tree(t, base)
	if got["elsewhere/precious.txt"] != "precious" || got["out/maren/spring/linked.txt"] != "a link" {
		t.Errorf("something behind a link is gone: %v", got)
	}
}

// The list of files is gone while a folder is not whole.
func TestWriteListLast(t *testing.T) {
	base := t.TempDir()
	block := filepath.Join(base, "maren", "spring")
	good := bundleOf(t, "maren/spring", "calendar.ics", "one")
	if _, err := writeBundles(base, []bundle{good}, nil); err != nil {
		t.Fatal(err)
	}
	bad := bundleOf(t, "maren/spring", "calendar.ics", "two")
	bad.files = bad.files[:1] // no list: a fault of ours, in place of a disk that is full
	if _, err := writeBundles(base, []bundle{bad}, nil); err == nil {
		t.Fatal("a bundle without a list of files was taken")
	}
	if _, err := os.Stat(filepath.Join(block, export.ManifestName)); !os.IsNotExist(err) {
		t.Errorf("the list of files stands in a folder that is not whole: %v", err)
	}
}

func TestReplaceFile(t *testing.T) {
	dir := t.TempDir()
	real := filepath.Join(dir, "plan.hcl")
	put(t, real, "old")
	if err := os.Chmod(real, 0o640); err != nil {
		t.Fatal(err)
	}
	link(t, real, filepath.Join(dir, "link.hcl"))
	if err := replaceFile(filepath.Join(dir, "link.hcl"), []byte("new")); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(map[string]string{"plan.hcl": "new", "link.hcl": "a link"}, tree(t, dir)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if info, err := os.Stat(real); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the permissions changed: %v %v", info.Mode(), err)
	}
}

func link(t *testing.T, to, name string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(to, name); err != nil {
		t.Skipf("this file system has no links: %v", err)
	}
}
