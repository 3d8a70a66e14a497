package study

// Fresh is how many pairs' smallest gaps the study worked out itself.
func (s *Study) Fresh() int {
	if s.gapWork == nil {
		return 0
	}
	return s.gapWork.Fresh
}
