//! What a run is made with.

use std::sync::Arc;

use crate::clock::Moment;
use crate::lang::Shape;
use crate::procedure::Procedure;
use crate::quantity::{SourceId, Uncertain, Units};
use crate::record::{Header, KeptText, TextRole};
use crate::system::System;

/// The word that acknowledges a danger.
pub const ACKNOWLEDGE: &str = "understood";

/// A procedure, the installation it is performed on, and the household's units.
#[derive(Clone, Debug)]
pub struct Setting {
    /// The procedure.
    pub procedure: Arc<Procedure>,
    /// Its name, such as `flush`.
    pub name: String,
    /// The installation.
    pub system: Arc<System>,
    /// The tank worked on, by its place in the system file.
    pub tank: usize,
    /// The units for bare numbers and for showing.
    pub units: Units,
}

impl Setting {
    /// The head of the record of a run made with this.
    pub fn header(&self, id: String, started: Moment) -> Header {
        let kept = |role, source: &crate::source::SourceText| KeptText {
            role,
            name: source.name().to_string(),
            text: Arc::from(source.text()),
        };
        let mut texts = Vec::new();
        for (at, source) in self.procedure.texts.iter().enumerate() {
            texts.push(kept(if at == 0 { TextRole::Procedure } else { TextRole::Part }, source));
        }
        texts.extend(self.system.text().map(|source| kept(TextRole::System, source)));
        Header {
            id,
            program: concat!("tankhand ", env!("CARGO_PKG_VERSION")).to_string(),
            procedure: self.name.clone(),
            title: self.procedure.title.clone(),
            started,
            units: self.units,
            site: self.system.name.clone(),
            tank: self.system.tanks.get(self.tank).map(|tank| tank.id.to_string()),
            demo: self.system.invented,
            texts,
        }
    }

    /// A reading's value with its doubts: the gauge's accuracy, which all readings of the gauge
    /// share, and its resolution, which is this reading's own.
    pub(super) fn doubted(&self, si: f64, gauge: Option<&str>, entry: u64) -> Uncertain {
        let exact = Uncertain::exact(si);
        match gauge.and_then(|id| self.system.gauge(id)) {
            Some(gauge) => exact
                .doubt(gauge_source(&gauge.id), gauge.accuracy_u(si))
                .doubt(SourceId(entry), gauge.resolution_u()),
            None => exact,
        }
    }
}

/// The identity of a gauge's accuracy: its name, kept apart from the numbers of entries.
fn gauge_source(id: &str) -> SourceId {
    let hash = id.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    SourceId(hash >> 2 | 1 << 62)
}

/// How the error of a source is distributed: accuracies and graduations are limits; what has the
/// top bit set is a spread or a fit.
pub(super) fn shape_of(source: SourceId) -> Shape {
    if source.0 >> 63 == 0 { Shape::Rectangular } else { Shape::Normal }
}
