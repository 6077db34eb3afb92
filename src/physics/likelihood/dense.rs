//! Turns a covariance into distances and a determinant: Cholesky's root of a small matrix.

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

    /// Squared distance of a difference, in standard deviations.
    pub fn distance(&self, difference: &mut [f64]) -> f64 {
        let mut sum = 0.0;
        for row in 0..self.size {
            let dot: f64 = (0..row).map(|k| self.lower[row * self.size + k] * difference[k]).sum();
            difference[row] = (difference[row] - dot) / self.lower[row * self.size + row];
            sum += difference[row] * difference[row];
        }
        sum
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
        assert!((root.distance(&mut [2.0, 1.0]) - 1.0).abs() < 1e-12);
    }
}
