package calc

func mixCalculations() []calculation { return nil }
