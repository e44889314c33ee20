package main

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

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

// A bundle without a list of files is a fault of ours, and changes nothing.
func TestWriteWithoutList(t *testing.T) {
	base := t.TempDir()
	if _, err := writeBundles(base, []bundle{bundleOf(t, "maren/spring", "calendar.ics", "one")}, nil); err != nil {
		t.Fatal(err)
	}
	bad := bundleOf(t, "maren/spring", "calendar.ics", "two")
	bad.files = bad.files[:1]
	before := tree(t, base)
	if _, err := writeBundles(base, []bundle{bad}, nil); err == nil {
		t.Fatal("a bundle without a list of files was taken")
	}
	if diff := cmp.Diff(before, tree(t, base)); diff != "" {
		t.Errorf("something changed (-before +after)\n%s", diff)
	}
}

// What a build that was cut off left is cleared up by the next: its own files and those of the build
// before it go, a file that the coach changed meanwhile or put there stays.
func TestWriteAfterABuildThatWasCutOff(t *testing.T) {
	base := t.TempDir()
	block := filepath.Join(base, "maren", "spring")
	whole := bundleOf(t, "maren/spring", "calendar.ics", "one", "workouts/a.fit", "A", "workouts/b.fit", "B")
	if _, err := writeBundles(base, []bundle{whole}, nil); err != nil {
		t.Fatal(err)
	}
	cut := bundleOf(t, "maren/spring", "calendar.ics", "two", "workouts/b.fit", "B2", "workouts/c.fit", "C", "workouts/d.fit", "D", "workouts/e.fit", "E")
	put(t, filepath.Join(block, newName), string(cut.files[len(cut.files)-1].Bytes))
	if err := os.Rename(filepath.Join(block, export.ManifestName), filepath.Join(block, oldName)); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(block, "calendar.ics"), "two")
	put(t, filepath.Join(block, "workouts", "c.fit"), "C")
	put(t, filepath.Join(block, "workouts", "d.fit"), "changed by the coach")
	put(t, filepath.Join(block, "workouts", tempName), "half of")
	next := bundleOf(t, "maren/spring", "calendar.ics", "three", "workouts/f.fit", "F")
	if _, err := writeBundles(base, []bundle{next}, nil); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{
		"maren/spring/calendar.ics":   "three",
		"maren/spring/workouts/d.fit": "changed by the coach",
		"maren/spring/workouts/f.fit": "F",
	}
	if diff := cmp.Diff(want, tree(t, base)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// A folder with a list of files holds exactly those files, whenever the build that wrote them ended.
func TestKilledBuilds(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, ".git", "HEAD"), "")
	put(t, filepath.Join(dir, "a", "plan.hcl"), strings.Replace(goodPlan, "weeks = 2", "weeks = 12", 1))
	put(t, filepath.Join(dir, "b", "plan.hcl"), strings.NewReplacer("weeks = 2", "weeks = 12", "2027-03-01", "2027-04-05").Replace(goodPlan))
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	block := filepath.Join(dir, "out", "noor", "spring")
	build := func(plan string) *exec.Cmd {
		return &exec.Cmd{Path: program, Args: []string{"towpath", "build", plan, "--out", "out"}, Dir: dir}
	}
	var names [2][]string
	began := time.Now()
	for i, plan := range []string{"a", "b"} {
		if out, err := build(plan).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		names[i] = checkWhole(t, block)
	}
	if cmp.Equal(names[0], names[1]) {
		t.Fatal("both plans have the same files: nothing would be removed")
	}
	usual := time.Since(began) / 2
	const kills = 24
	whole := 0
	for i := range kills {
		cmd := build([]string{"a", "b"}[i%2])
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// The files are written in the last part of a build.
		time.Sleep(usual/2 + usual*time.Duration(i)/kills)
		_ = cmd.Process.Kill() // it may have ended
		_ = cmd.Wait()
		if _, err := os.Stat(filepath.Join(block, export.ManifestName)); err == nil {
			checkWhole(t, block)
			whole++
		}
	}
	t.Logf("%d of %d killed builds left a whole folder", whole, kills)
	if out, err := build("a").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if diff := cmp.Diff(names[0], checkWhole(t, block)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if left, err := filepath.Glob(filepath.Join(block, ".towpath.*")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

// checkWhole compares a folder with its list of files, and gives their names.
func checkWhole(t *testing.T, dir string) (names []string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, export.ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	m, err := export.ReadManifest(data)
	if err != nil {
		t.Fatal(err)
	}
	got := tree(t, dir)
	for _, f := range m.Files {
		text, ok := got[f.Name]
		if sum := export.NewManifest([]export.File{{Bytes: []byte(text)}}).Files[0].SHA256; !ok || sum != f.SHA256 {
			t.Errorf("%s is not what the list says", f.Name)
		}
		delete(got, f.Name)
		names = append(names, f.Name)
	}
	for name := range got {
		if !strings.HasPrefix(filepath.Base(name), ".towpath.") {
			t.Errorf("%s is in no list", name)
		}
	}
	return names
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
