//! The header of a weather table: which quantity stands in which column, in which unit.

use csv::StringRecord;

use crate::error::{clip, quoted};

/// A unit in which a column may be written.
#[derive(Clone, Copy)]
pub(super) struct Unit {
    suffix: &'static str,
    pub label: &'static str,
    /// Allowed range, in this unit.
    pub lowest: f64,
    pub highest: f64,
    pub to_si: fn(f64) -> f64,
}

/// Something that is measured; its column is called after the stem and a unit's suffix.
pub(super) struct Quantity {
    stem: &'static str,
    required: bool,
    units: Vec<Unit>,
}

impl Quantity {
    fn new(stem: &'static str, required: bool, units: Vec<Unit>) -> Self {
        Quantity {
            stem,
            required,
            units,
        }
    }

    pub fn temperature(stem: &'static str) -> Self {
        let celsius = unit("c", "°C", -60.0, 60.0, |v| v);
        let fahrenheit = unit("f", "°F", -76.0, 140.0, |v| (v - 32.0) / 1.8);
        Quantity::new(stem, true, vec![celsius, fahrenheit])
    }

    pub fn rain(most_mm: f64) -> Self {
        let millimetres = unit("mm", "mm", 0.0, most_mm, |v| v);
        let inches = unit("in", "inches", 0.0, (most_mm / 25.4).floor(), |v| v * 25.4);
        Quantity::new("rain", false, vec![millimetres, inches])
    }

    pub fn wind() -> Self {
        let metres_per_second = unit("m_s", "m/s", 0.0, 100.0, |v| v);
        let kilometres_per_hour = unit("km_h", "km/h", 0.0, 360.0, |v| v / 3.6);
        Quantity::new("wind", false, vec![metres_per_second, kilometres_per_hour])
    }

    pub fn wet_days() -> Self {
        let days = unit("days", "days", 0.0, 31.0, |v| v);
        Quantity::new("wet", false, vec![days])
    }

    fn names(&self) -> String {
        let name = |unit: &Unit| format!("{}_{}", self.stem, unit.suffix);
        let names: Vec<_> = self.units.iter().map(name).collect();
        names.join(" or ")
    }
}

fn unit(
    suffix: &'static str,
    label: &'static str,
    lowest: f64,
    highest: f64,
    to_si: fn(f64) -> f64,
) -> Unit {
    Unit {
        suffix,
        label,
        lowest,
        highest,
        to_si,
    }
}

/// Where a quantity stands and in which unit.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub index: usize,
    pub unit: Unit,
    pub required: bool,
}

/// The columns of a table.
pub(super) struct Columns {
    /// Where the column stands that tells rows apart.
    pub key: usize,
    /// Where the quantities stand, in the order in which they were asked for.
    pub places: Vec<Option<Place>>,
}

impl Columns {
    /// Finds the key and the quantities among the headers, or explains what does not fit.
    pub fn find(
        header: &StringRecord,
        key_column: &str,
        quantities: &[Quantity],
    ) -> Result<Self, String> {
        if header.iter().all(str::is_empty) {
            return Err(format!(
                "the file is empty; needed is a header with {key_column} and columns such as \
                 minimum_c and maximum_c"
            ));
        }
        let mut key = None;
        let mut places = vec![None; quantities.len()];
        for (index, name) in header.iter().enumerate() {
            let lower = name.to_ascii_lowercase();
            if lower == key_column {
                if key.replace(index).is_some() {
                    return Err(format!("there are two columns {key_column}"));
                }
                continue;
            }
            let Some(slot) = quantities.iter().position(|q| lower.starts_with(q.stem)) else {
                let known: Vec<_> = quantities.iter().map(Quantity::names).collect();
                let (name, known) = (quoted(&clip(name)), known.join(", "));
                return Err(format!(
                    "column {name} is not known; known are {key_column}, {known}"
                ));
            };
            let quantity = &quantities[slot];
            let suffix = lower[quantity.stem.len()..].strip_prefix('_');
            let Some(unit) = quantity
                .units
                .iter()
                .find(|unit| suffix == Some(unit.suffix))
            else {
                return Err(format!(
                    "column {} does not say a unit that can be read; name it {}",
                    quoted(&clip(name)),
                    quantity.names()
                ));
            };
            let place = Place {
                index,
                unit: *unit,
                required: quantity.required,
            };
            if places[slot].replace(place).is_some() {
                return Err(format!("there are two columns of {}", quantity.stem));
            }
        }
        let key = key.ok_or_else(|| format!("there is no column {key_column}"))?;
        for (quantity, place) in quantities.iter().zip(&places) {
            if quantity.required && place.is_none() {
                return Err(format!("there is no column {}", quantity.names()));
            }
        }
        Ok(Columns { key, places })
    }
}
