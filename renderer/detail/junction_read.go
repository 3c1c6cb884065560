package detail

func (r *reader) junction() {}
