package seed

// toleranceSource names the table of the range allowed between replicates.
const toleranceSource = "US 7 CFR 201.55(a), table of the maximum tolerated range between 100-seed replicates, 2015 edition"

// toleratedRange is the table of 7 CFR 201.55(a) as printed: by the average germination
// in whole %, the range in % that replicates of 100 seeds may span. It is not the exact
// binomial rule behind it, from which the print differs by 1 in about a quarter of the
// rows. Below 50 the table mirrors: 49 is read as 52 (two rows of the print give 48 and
// 38 where the mirror is 49 and 39). 0, 1 and 100 have no row; two replicates have none
// at 2, 3, 98 and 99 either.
var toleratedRange = []struct{ average, four, two int }{
	{99, 5, 0}, {98, 6, 0}, {97, 7, 6}, {96, 8, 6}, {95, 9, 7}, {94, 10, 8}, {93, 10, 8},
	{92, 11, 9}, {91, 11, 9}, {90, 12, 9}, {89, 12, 10}, {88, 13, 10}, {87, 13, 11},
	{86, 14, 11}, {85, 14, 11}, {84, 14, 11}, {83, 15, 12}, {82, 15, 12}, {81, 15, 12},
	{80, 16, 13}, {79, 16, 13}, {78, 16, 13}, {77, 17, 13}, {76, 17, 13}, {75, 17, 14},
	{74, 17, 14}, {73, 17, 14}, {72, 18, 14}, {71, 18, 14}, {70, 18, 14}, {69, 18, 14},
	{68, 18, 15}, {67, 18, 15}, {66, 19, 15}, {65, 19, 15}, {64, 19, 15}, {63, 19, 15},
	{62, 19, 15}, {61, 19, 15}, {60, 19, 15}, {59, 19, 15}, {58, 19, 15}, {57, 19, 15},
	{56, 19, 15}, {55, 20, 15}, {54, 20, 16}, {53, 20, 16}, {52, 20, 16}, {51, 20, 16},
}

// TolerableRangePercent looks up the range that so many replicates of 100 seeds may span
// at an average germination in whole %. known is false where the table has no row: for
// other than two or four replicates, and at its ends.
func TolerableRangePercent(averagePercent, replicates int) (rangePercent int, known bool) {
	if averagePercent <= 50 {
		averagePercent = 101 - averagePercent
	}
	for _, row := range toleratedRange {
		if row.average == averagePercent {
			switch replicates {
			case 4:
				return row.four, true
			case 2:
				return row.two, row.two > 0
			}
		}
	}
	return 0, false
}
