package judge

// fouling: nothing is asked yet.
func fouling(*judgement) {}
