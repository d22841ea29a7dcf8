//! A straight line by weighted least squares, with what its uncertainty needs.

/// One point: where, what was found, and its weight.
pub(super) type WeightedPoint = (f64, f64, f64);

/// The fitted line, told from the middle of its points.
#[derive(Clone, Debug)]
pub(super) struct FittedLine {
    /// Change of the value with the place.
    pub slope: f64,
    /// The weighted mean of the places.
    pub middle: f64,
    /// The line's value there.
    pub level: f64,
    /// The sum of the weights.
    pub weight: f64,
    /// Weighted sum of the squared distances from the middle.
    pub spread: f64,
    /// Weighted sum of the squared distances from the line, for each degree of freedom.
    pub scatter: f64,
    /// Points less the two numbers fitted.
    pub degrees: usize,
}

impl FittedLine {
    /// The line through two points or more at different places.
    ///
    /// Source: linear least squares (textbook); checked against the NIST StRD data set *Norris*.
    pub(super) fn through(points: &[WeightedPoint]) -> FittedLine {
        let weight = points.iter().map(|p| p.2).sum::<f64>();
        let middle = points.iter().map(|p| p.2 * p.0).sum::<f64>() / weight;
        let level = points.iter().map(|p| p.2 * p.1).sum::<f64>() / weight;
        let spread = points.iter().map(|p| p.2 * (p.0 - middle).powi(2)).sum::<f64>();
        let slope = points.iter().map(|p| p.2 * (p.0 - middle) * (p.1 - level)).sum::<f64>() / spread;
        let off = |p: &WeightedPoint| p.1 - level - slope * (p.0 - middle);
        let rest = points.iter().map(|p| p.2 * off(p).powi(2)).sum::<f64>();
        let degrees = points.len().saturating_sub(2);
        let scatter = if degrees == 0 { 0.0 } else { rest / degrees as f64 };
        FittedLine { slope, middle, level, weight, spread, scatter, degrees }
    }

    /// The line's value at a place.
    pub(super) fn at(&self, place: f64) -> f64 {
        self.level + self.slope * (place - self.middle)
    }

    /// How the variance of the line's value at a place goes with that of a point of weight 1.
    pub(super) fn leverage(&self, place: f64) -> f64 {
        1.0 / self.weight + (place - self.middle).powi(2) / self.spread
    }
}
