//! Sizes in which tanks are sold: a table of the program's, which an owner may replace.

use super::amount::limited_amount;
use crate::document::{Fields, read_document};
use crate::physics::plan::SoldTank;
use crate::quantity::{Family, Measure, SourceId, Uncertain, Units, read_number, rectangular_u};
use crate::source::{Fault, SourceText};

/// The table that comes with the program, as a file would have it.
pub const TANK_SIZES: &str = include_str!("tank-sizes.toml");

const KEYS: &[&str] = &["sold_as", "volume", "limit", "price", "units"];

/// The sizes that a table has for a household that reads these units, in its order.
///
/// # Errors
/// Every fault found.
///
/// ```
/// use tankhand::quantity::Units;
/// use tankhand::source::SourceText;
/// use tankhand::system::{TANK_SIZES, load_sizes};
/// let sizes = load_sizes(&SourceText::new("tank-sizes.toml", TANK_SIZES), Units::Us).unwrap();
/// let names: Vec<&str> = sizes.iter().map(|size| size.name.as_str()).collect();
/// assert_eq!(names, ["20 gal", "32 gal", "44 gal", "62 gal", "80 gal", "120 gal"]);
/// ```
pub fn load_sizes(source: &SourceText, units: Units) -> Result<Vec<SoldTank>, Vec<Fault>> {
    let (sizes, mut faults) = read_document(source, |root| {
        root.only(&["format", "size"]);
        root.check_format();
        if !root.has("size") {
            root.missing("size", "a [[size]] for each tank to choose from");
        }
        let sizes = root.tables("size").into_iter().filter_map(|fields| size(&fields));
        sizes.filter(|(_, read_by)| read_by.is_none_or(|read_by| read_by == units)).collect::<Vec<_>>()
    })?;
    Fault::sort(&mut faults);
    if faults.is_empty() { Ok(sizes.into_iter().map(|(size, _)| size).collect()) } else { Err(faults) }
}

/// One size, and the household it is for where that is said.
fn size(fields: &Fields<'_>) -> Option<(SoldTank, Option<Units>)> {
    fields.only(KEYS);
    let name = fields.needed_text("sold_as", "what the tank is called where it is sold");
    if !fields.has("volume") {
        fields.missing("volume", "its whole volume, from the plate, with its unit");
    }
    let (si, off) = limited_amount(fields, "volume", Measure::Volume)?;
    let source = SourceId::limit_at(("size", fields.span.start));
    let positive = "write a number of zero or more, without a sign for money";
    let price = fields.read("price", |text| read_number(text, Family::Number), positive);
    Some((
        SoldTank {
            name: name?.text,
            volume: Uncertain::exact(si).with_component(source, rectangular_u(off.unwrap_or(0.0))),
            limit: limited_amount(fields, "limit", Measure::Pressure).map(|(limit, _)| limit),
            price: price.map(|price| price.number),
        },
        fields.text("units").and_then(|text| super::load::units(fields, &text)),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<String> {
        match load_sizes(&SourceText::new("sizes.toml", text), Units::Us) {
            Ok(sizes) => sizes.iter().map(|size| format!("{} {:?}", size.name, size.price)).collect(),
            Err(faults) => faults.iter().map(Fault::heading).collect(),
        }
    }

    #[test]
    fn a_table_of_ones_own_may_have_prices() {
        let text = "format = 1\n[[size]]\nsold_as = \"forty\"\nvolume = \"40 gal +- 2 gal\"\nprice = 310.5\n\
                    [[size]]\nsold_as = \"hundred\"\nvolume = \"100 L\"\nunits = \"metric\"\n";
        assert_eq!(found(text), ["forty Some(310.5)"]);
    }

    #[test]
    fn all_faults_of_a_table_are_told() {
        assert_eq!(found("format = 1\n"), ["sizes.toml:1:1: `size` is missing here"]);
        let text = "format = 1\n[[size]]\nvolume = \"40\"\nprise = 3\n[[size]]\nsold_as = \"x\"\nvolume = \"9 gal\"\nprice = \"dear\"\n";
        assert_eq!(
            found(text),
            [
                "sizes.toml:2:1: `sold_as` is missing here",
                "sizes.toml:3:10: `volume` cannot be read: the unit is missing",
                "sizes.toml:4:1: there is no key `prise` here",
                "sizes.toml:8:9: `price` cannot be what stands here",
            ]
        );
    }
}
