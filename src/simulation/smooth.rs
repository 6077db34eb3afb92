//! Turns the sharp bends of vapour, stops and reliefs into round ones that Newton's method can follow.

/// The part of `x` above zero, rounded over `width`, and its slope.
#[inline]
pub fn above(x: f64, width: f64) -> (f64, f64) {
    let root = (x * x + width * width).sqrt();
    (0.5 * (x + root), 0.5 * (1.0 + x / root))
}

#[cfg(test)]
mod tests {
    use super::above;

    #[test]
    fn far_from_the_bend_it_is_sharp() {
        let (value, slope) = above(100.0, 0.1);
        assert!((value - 100.0).abs() < 1e-4 && (slope - 1.0).abs() < 1e-6);
        let (value, slope) = above(-100.0, 0.1);
        assert!(value.abs() < 1e-4 && slope.abs() < 1e-6);
    }
}
