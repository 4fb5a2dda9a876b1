package calc

import "rowtally/internal/bill"

func billCalculations() []calculation {
	return []calculation{
		of("bill-totals", "a bill's lines, tax once per category and rate, and what is payable", bill.WorkOut),
		of("business-number", "whether an ABN or ACN can be right, and how it is printed", bill.CheckNumber),
		of("stock-value", "what issued stock cost and what is left is worth", bill.ValueStock),
		of("variance", "price and quantity variance of one input, + is dearer than planned", bill.Compare),
	}
}
