package detail

type traces struct{ climate string }

func (l *Library) trace(readers []*reader) {}
