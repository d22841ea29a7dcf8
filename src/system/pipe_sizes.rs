//! Sizes by which pipe is sold: names, not diameters.

use crate::quantity::{SourceId, Uncertain, rectangular_u, unit};

/// Names, and the inner diameters of the narrowest and the widest of the common kinds: cross-linked
/// polyethylene of SDR 9 (ASTM F876), copper of type L (B88), PVC of schedule 40 (D1785); in. From memory.
const PIPE_SIZES: &[(f64, [f64; 2])] = &[
    (1.0 / 2.0, [0.475, 0.622]),
    (3.0 / 4.0, [0.681, 0.824]),
    (1.0, [0.875, 1.049]),
    (5.0 / 4.0, [1.069, 1.380]),
    (3.0 / 2.0, [1.263, 1.610]),
];

/// The inner diameter of a pipe sold by a size, anywhere between the narrowest and the widest of its common
/// kinds; `None` where no pipe is sold by it. In m.
///
/// ```
/// use tankhand::system::sold_pipe;
/// let bore = sold_pipe(0.75 * 0.0254).unwrap();
/// assert!((bore.value() / 0.0254 - 0.7525).abs() < 1e-9);
/// assert_eq!(sold_pipe(0.02), None);
/// ```
pub fn sold_pipe(size: f64) -> Option<Uncertain> {
    let inch = unit("in")?.size;
    let (name, [narrow, wide]) = PIPE_SIZES.iter().find(|(name, _)| (name * inch - size).abs() < 1e-9)?;
    let source = SourceId::limit_at(("pipe size", name.to_bits()));
    let middle = Uncertain::exact(f64::midpoint(*narrow, *wide) * inch);
    Some(middle.with_component(source, rectangular_u(0.5 * (wide - narrow) * inch)))
}
