package table_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/table"
)

var form = table.Form{
	Code: "bread", File: "bread file", Row: "loaf", Rows: "loaves", Header: "day,loaf",
	MostBytes: 400, MostRows: 3, Usual: "A week has seven loaves", Suspect: "Is this the year's list?",
}

// Whatever a spreadsheet writes, the same cells come out, and each lies where its place says.
func TestRead(t *testing.T) {
	long := strings.Repeat("x", 500)
	tests := []struct {
		name, text string
		want       []string // cells parted by |, the header first
		said       []string // code, the text at the place and the summary
	}{
		{"commas", "day,loaf\nmon,rye\ntue,\n", []string{"day|loaf", "mon|rye", "tue|"}, nil},
		{"semicolons, quotes, a mark and Windows line ends", "\ufeffday;loaf\r\n\"mon\";\"rye; \"\"dark\"\"\"\r\n\r\n", []string{"day|loaf", `mon|rye; "dark"`}, nil},
		{"tabs, spaces and remarks", "# ours\n\n day \tloaf\n mon\t rye\u00a0\n# no more\n\t\n", []string{"day|loaf", "mon|rye"}, nil},
		{"old line ends", "day,loaf\rmon,rye", []string{"day|loaf", "mon|rye"}, nil},
		{"empty cells at the end of a row", "day,loaf\nmon,rye,,\n", []string{"day|loaf", "mon|rye"}, nil},
		{"too few and too many", "day,loaf\nmon\ntue,rye,seed\nwed,rye\n", []string{"day|loaf", "wed|rye"}, []string{
			"bread-row mon: This line has 1 value, the first line names 2 columns", "bread-row tue,rye,seed: This line has 3 values, the first line names 2 columns",
		}},
		{"a quote without an end", "day,loaf\nmon,\"rye\ntue,seed\n", []string{"day|loaf", "tue|seed"}, []string{`bread-row "rye: A value starts with " and does not end with it`}},
		{"a quote without an end in the header", "day,\"loaf\nmon,rye\n", nil, []string{`bread-row "loaf: A value starts with " and does not end with it`}},
		{"more rows than are read", "day,loaf\na,b\nc,d\ne,f\ng,h\ni,j\n", []string{"day|loaf", "a|b", "c|d", "e|f"}, []string{"bread-file g,h: The bread file has more than 3 loaves"}},
		{"no rows", "day,loaf\n", []string{"day|loaf"}, []string{"bread-file day,loaf: The bread file names its columns and holds no loaves"}},
		{"nothing", "\n# later\n", nil, []string{"bread-file : The bread file holds no loaves"}},
		{"too long", long, nil, []string{"bread-file : The bread file is 0 KiB long"}},
		{"a workbook", "PK\x03\x04", nil, []string{"bread-file : The bread file is a spreadsheet workbook, not a text file"}},
		{"UTF-16", "\xff\xfed\x00", nil, []string{"bread-file : The bread file is written in UTF-16"}},
		{"no text", "day\x00", nil, []string{"bread-file : The bread file is not a text file"}},
		{"an old encoding", "day,br\xf6d\n", nil, []string{"bread-file : The bread file is not written in UTF-8"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			at := func(r diag.Range) string { return tt.text[r.Start.Byte:r.End.Byte] }
			var got, said []string
			enter := func(cells []table.Cell) {
				var words []string
				for _, c := range cells {
					words = append(words, c.Text)
					if inPlace := strings.ReplaceAll(strings.Trim(at(c.At), `"`), `""`, `"`); c.Text != "" && !strings.Contains(inPlace, strings.Trim(c.Text, `"`)) {
						t.Errorf("cell %q stands at %q", c.Text, inPlace)
					}
				}
				got = append(got, strings.Join(words, "|"))
			}
			file, found := table.Open("b.csv", []byte(tt.text), form)
			if !found.HasErrors() {
				enter(file.Header)
				rows, more := file.Rows()
				found = more
				for _, row := range rows {
					enter(row.Cells)
				}
			}
			for _, d := range found {
				said = append(said, d.Code+" "+at(d.Subject)+": "+d.Summary)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("cells (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.said, said); diff != "" {
				t.Errorf("said (-want +got):\n%s", diff)
			}
		})
	}
}

func TestHeader(t *testing.T) {
	file, _ := table.Open("b.csv", []byte("day,Loaf,,day,loaf,\n"), form)
	var got []string
	for _, d := range file.Repeated() {
		got = append(got, d.Summary)
	}
	if diff := cmp.Diff([]string{`The column "day" stands here twice`, `The column "loaf" stands here twice`}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if d := file.NoHeader(); d.Code != "bread-columns" || d.Subject != file.Range {
		t.Errorf("got %+v", d)
	}
}
