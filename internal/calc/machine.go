package calc

func machineCalculations() []calculation { return nil }
