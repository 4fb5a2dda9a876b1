package calc

import "rowtally/internal/machine"

func machineCalculations() []calculation {
	return []calculation{
		of("capital-recovery", "depreciation and interest of a machine in one yearly sum", machine.CapitalRecovery),
		of("field-rate", "work rate by area, or along rows with turns", machine.FieldRate),
		of("machine-hour", "what one hour of a machine costs to own and to run", machine.HourOf),
		of("remaining-value", "what a machine is still worth at an age", machine.RemainingValue),
		of("repair-cost", "repairs and maintenance between two meter readings", machine.RepairCost),
	}
}
