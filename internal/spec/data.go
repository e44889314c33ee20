package spec

// Data gives the texts of the data files that the plan names, by their paths from the root: what is
// said of a file's line can then show it.
func (s *Spec) Data() map[string][]byte {
	out := map[string][]byte{}
	for _, t := range s.Tests {
		out[t.DataName] = t.DataText
	}
	athletes := s.Athletes[:len(s.Athletes):len(s.Athletes)]
	for _, q := range s.Squads {
		if q.Defaults != nil {
			athletes = append(athletes, q.Defaults)
		}
	}
	for _, a := range athletes {
		for _, r := range a.Rosters {
			out[r.FileName] = r.FileText
		}
	}
	delete(out, "") // where no file is named
	return out
}
