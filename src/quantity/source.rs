//! Sources of uncertainty: what an error comes from, and how it is distributed.

use std::hash::{BuildHasher, Hash};

use rustc_hash::FxBuildHasher;

/// One independent source of uncertainty: where the same one stands in two values, they share it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SourceId {
    /// What one reading was rounded to, by the number of its entry.
    Reading(u64),
    /// What several readings were rounded to in common, by what they are.
    Rounding(u64),
    /// A gauge's accuracy, which all its readings share, by its place in the table of gauges.
    Gauge(u16),
    /// A spread that is known, by what it is of.
    Spread(u64),
    /// The spread of few readings, or a fit to few, by what it was made from, with its degrees of freedom.
    Few(u64, u16),
    /// A limit written `+-`, by where it stands.
    Limit(u64),
}

/// How the error that a source stands for is distributed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// As likely anywhere within its limits: a gauge's accuracy, a graduation (JCGM 101:2008, 6.4.2).
    Rectangular,
    /// Normally: a spread that is known (JCGM 101:2008, 6.4.7).
    Normal,
    /// As Student's t with so many degrees of freedom, in units of the standard uncertainty: the spread of
    /// few readings, which tell it badly themselves (JCGM 101:2008, 6.4.9).
    StudentsT(u16),
}

/// The standard uncertainty of what lies anywhere within a limit either way, all of it as likely
/// (JCGM 100:2008, 4.3.7).
///
/// ```
/// assert!((tankhand::quantity::rectangular_u(3.0) - 1.732).abs() < 0.001);
/// ```
pub fn rectangular_u(limit: f64) -> f64 {
    limit.abs() / 3f64.sqrt()
}

impl SourceId {
    /// The known spread that is made from these values; the same for the same ones.
    pub fn spread_of(made_from: impl Hash) -> SourceId {
        SourceId::Spread(FxBuildHasher.hash_one(made_from))
    }

    /// The spread of few readings, or the fit to them, that is made from these values and leaves so many
    /// degrees of freedom; the same for the same ones.
    pub fn few(made_from: impl Hash, degrees: usize) -> SourceId {
        let degrees = u16::try_from(degrees.max(1)).unwrap_or(u16::MAX);
        SourceId::Few(FxBuildHasher.hash_one(made_from), degrees)
    }

    /// What readings were rounded to in common; the same for the same ones.
    pub fn rounding_of(made_from: impl Hash) -> SourceId {
        SourceId::Rounding(FxBuildHasher.hash_one(made_from))
    }

    /// The limit that stands at a place; the same for the same place.
    pub fn limit_at(place: impl Hash) -> SourceId {
        SourceId::Limit(FxBuildHasher.hash_one(place))
    }

    /// How its error is distributed.
    pub fn shape(self) -> Shape {
        match self {
            SourceId::Reading(_) | SourceId::Rounding(_) | SourceId::Gauge(_) | SourceId::Limit(_) => {
                Shape::Rectangular
            }
            SourceId::Spread(_) => Shape::Normal,
            SourceId::Few(_, degrees) => Shape::StudentsT(degrees),
        }
    }
}
