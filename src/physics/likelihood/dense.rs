//! Turns a covariance into distances and a determinant: Cholesky's root of a small matrix.

/// Sum of the products, four at a time.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours, rest) = (a.chunks_exact(4).zip(b.chunks_exact(4)), a.len() / 4 * 4);
    for (a, b) in fours {
        for (sum, (a, b)) in sums.iter_mut().zip(a.iter().zip(b)) {
            *sum += a * b;
        }
    }
    let rest: f64 = a[rest..].iter().zip(&b[rest..]).map(|(a, b)| a * b).sum();
    sums[0] + sums[1] + sums[2] + sums[3] + rest
}

/// A covariance matrix split into a lower root, row by row.
#[derive(Debug, Clone)]
pub struct Root {
    size: usize,
    lower: Vec<f64>,
}

impl Root {
    /// The root of a positive matrix of `size` rows; a pivot that rounding has taken is held just above nothing.
    pub fn of(mut matrix: Vec<f64>, size: usize) -> Self {
        for row in 0..size {
            for column in 0..=row {
                let dot: f64 = (0..column).map(|k| matrix[row * size + k] * matrix[column * size + k]).sum();
                let rest = matrix[row * size + column] - dot;
                matrix[row * size + column] = if row == column {
                    rest.max(f64::MIN_POSITIVE).sqrt()
                } else {
                    rest / matrix[column * size + column]
                };
            }
        }
        Self { size, lower: matrix }
    }

    /// Squared distances of several differences, in standard deviations; `differences` holds their first coordinates side by
    /// side, then their second, and so on, and is used up.
    pub fn distances(&self, differences: &mut [f64]) -> Vec<f64> {
        let count = differences.len() / self.size.max(1);
        let mut sums = vec![0.0; count];
        for row in 0..self.size {
            let (above, rest) = differences.split_at_mut(row * count);
            let own = &mut rest[..count];
            let lower = &self.lower[row * self.size..][..=row];
            for (other, weight) in above.chunks_exact(count).zip(lower) {
                own.iter_mut().zip(other).for_each(|(value, other)| *value -= weight * other);
            }
            let pivot = 1.0 / lower[row];
            for (value, sum) in own.iter_mut().zip(&mut sums) {
                *value *= pivot;
                *sum += *value * *value;
            }
        }
        sums
    }

    /// Logarithm of the root of the determinant.
    pub fn log_volume(&self) -> f64 {
        (0..self.size).map(|row| libm::log(self.lower[row * self.size + row])).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::Root;

    /// By hand: [[4, 2], [2, 3]] has determinant 8; (2, 1) lies 1 away, since its inverse is [[3, -2], [-2, 4]]/8.
    #[test]
    fn a_matrix_of_two() {
        let root = Root::of(vec![4.0, 2.0, 2.0, 3.0], 2);
        assert!((root.log_volume() - 0.5 * libm::log(8.0)).abs() < 1e-12);
        // (2, 1) and, beside it, nothing.
        let distances = root.distances(&mut [2.0, 0.0, 1.0, 0.0]);
        assert!((distances[0] - 1.0).abs() < 1e-12 && distances[1] == 0.0, "{distances:?}");
    }
}
