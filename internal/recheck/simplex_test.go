package recheck

import "math"

// solvable reports whether there are x >= 0 with rows·x <= caps, by the
// simplex method with an extra column that takes away what is infeasible.
func solvable(rows [][]float64, caps []float64) bool {
	const eps = 1e-9
	m, n := len(rows), 0
	if m > 0 {
		n = len(rows[0])
	}
	// Columns 0..n-1 are x, n is the extra one, n+1 the cap; the last row is
	// what is minimised.
	table := make([][]float64, m+1)
	basis := make([]int, m)
	left := make([]int, n+1)
	for i := range table {
		table[i] = make([]float64, n+2)
	}
	for i, row := range rows {
		scale := 1.0
		for _, a := range row {
			scale = max(scale, math.Abs(a))
		}
		for j, a := range row {
			table[i][j] = a / scale
		}
		table[i][n], table[i][n+1], basis[i] = -1, caps[i]/scale, n+1+i
	}
	for j := range left {
		left[j] = j
	}
	table[m][n] = 1
	worst := 0
	for i := range rows {
		if table[i][n+1] < table[worst][n+1] {
			worst = i
		}
	}
	if m == 0 || table[worst][n+1] >= 0 {
		return true
	}
	pivot(table, basis, left, worst, n)
	for {
		enter := -1 // the lowest numbered one that helps: then it ends
		for j := range left {
			if table[m][j] < -eps && (enter < 0 || left[j] < left[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			return -table[m][n+1] <= 1e-6
		}
		leave := -1
		for i := range basis {
			if table[i][enter] <= eps {
				continue
			}
			a, b := table[i][n+1]/table[i][enter], math.Inf(1)
			if leave >= 0 {
				b = table[leave][n+1] / table[leave][enter]
			}
			if a < b-eps || a < b+eps && basis[i] < basis[leave] {
				leave = i
			}
		}
		if leave < 0 {
			return true
		}
		pivot(table, basis, left, leave, enter)
	}
}

func pivot(table [][]float64, basis, left []int, row, column int) {
	by := 1 / table[row][column]
	for i := range table {
		if i == row {
			continue
		}
		f := table[i][column] * by
		for j := range table[i] {
			if j != column {
				table[i][j] -= f * table[row][j]
			}
		}
		table[i][column] = -f
	}
	for j := range table[row] {
		table[row][j] *= by
	}
	table[row][column] = by
	basis[row], left[column] = left[column], basis[row]
}
