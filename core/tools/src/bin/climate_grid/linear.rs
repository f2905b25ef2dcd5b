//! Symmetric, positive definite equations.

use crate::Failure;

/// The lower half of a matrix, row by row.
pub struct Symmetric {
    size: usize,
    rows: Vec<f64>,
}

impl Symmetric {
    pub fn new(size: usize) -> Self {
        Symmetric {
            size,
            rows: vec![0.0; size * (size + 1) / 2],
        }
    }

    fn place(row: usize, column: usize) -> usize {
        row * (row + 1) / 2 + column
    }

    /// Adds to an element; the column is not beyond the row.
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        self.rows[Self::place(row, column)] += value;
    }

    /// Solves for a right side, by Cholesky's method.
    pub fn solve(mut self, right: &[f64]) -> Result<Vec<f64>, Failure> {
        for i in 0..self.size {
            for j in 0..=i {
                let (a, b) = (Self::place(i, 0), Self::place(j, 0));
                let dot: f64 = (0..j).map(|k| self.rows[a + k] * self.rows[b + k]).sum();
                let left = self.rows[a + j] - dot;
                if i != j {
                    self.rows[a + j] = left / self.rows[b + j];
                } else if left > 0.0 {
                    self.rows[a + j] = left.sqrt();
                } else {
                    return Err("the equations have no single answer".into());
                }
            }
        }
        let mut found = right.to_vec();
        for i in 0..self.size {
            let row = Self::place(i, 0);
            let dot: f64 = (0..i).map(|k| self.rows[row + k] * found[k]).sum();
            found[i] = (found[i] - dot) / self.rows[row + i];
        }
        for i in (0..self.size).rev() {
            let dot: f64 = (i + 1..self.size)
                .map(|k| self.rows[Self::place(k, i)] * found[k])
                .sum();
            found[i] = (found[i] - dot) / self.rows[Self::place(i, i)];
        }
        Ok(found)
    }
}
