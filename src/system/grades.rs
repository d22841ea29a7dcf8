//! Accuracy grades as they are printed on dials.

/// A grade of ASME B40.100: the permissible error in per cent of the span, either way.
#[derive(Debug, PartialEq)]
pub struct DialGrade {
    /// As it stands on the dial.
    pub name: &'static str,
    /// In the lower quarter, the middle half and the upper quarter of the scale.
    pub percent: [f64; 3],
}

/// The grades of ASME B40.100-2022, Table 1. The table is from memory.
pub static GRADES: &[DialGrade] = &[
    DialGrade { name: "4A", percent: [0.1, 0.1, 0.1] },
    DialGrade { name: "3A", percent: [0.25, 0.25, 0.25] },
    DialGrade { name: "2A", percent: [0.5, 0.5, 0.5] },
    DialGrade { name: "1A", percent: [1.0, 1.0, 1.0] },
    DialGrade { name: "A", percent: [2.0, 1.0, 2.0] },
    DialGrade { name: "B", percent: [3.0, 2.0, 3.0] },
    DialGrade { name: "C", percent: [4.0, 3.0, 4.0] },
    DialGrade { name: "D", percent: [5.0, 5.0, 5.0] },
];

impl DialGrade {
    /// The grade of that name, in capitals or not.
    pub fn named(name: &str) -> Option<&'static DialGrade> {
        GRADES.iter().find(|grade| grade.name.eq_ignore_ascii_case(name.trim()))
    }

    /// The smallest share of the span that it allows anywhere on the scale.
    pub fn least(&self) -> f64 {
        self.percent.iter().copied().fold(f64::INFINITY, f64::min) / 100.0
    }

    /// The limit of error at a reading, either way, in the unit of both.
    ///
    /// ```
    /// let grade = tankhand::system::DialGrade::named("B").unwrap();
    /// assert_eq!(grade.limit(30.0, 60.0), 1.2);
    /// assert!(grade.limit(10.0, 60.0) > grade.limit(30.0, 60.0));
    /// ```
    pub fn limit(&self, reading: f64, span: f64) -> f64 {
        let [lower, middle, upper] = self.percent;
        let percent = match reading / span {
            at if at < 0.25 => lower,
            at if at <= 0.75 => middle,
            _ => upper,
        };
        percent * span / 100.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ends_of_the_middle_half_belong_to_it() {
        let grade = DialGrade::named("B").unwrap();
        let limits = [0.0, 14.999, 15.0, 45.0, 45.001, 60.0].map(|reading| grade.limit(reading, 60.0));
        assert_eq!(limits, [1.8, 1.8, 1.2, 1.2, 1.8, 1.8]);
    }
}
