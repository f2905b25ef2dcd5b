//! `docs/seasons.md`: published and practised seasons beside the computed ones.

use std::fmt::Write;

use apiary_almanac::season::{DateState, PublishedKind, PublishedMark, Season, SeasonSettings};
use apiary_almanac::{Error, Site, Weather, bee};
use chrono::{Datelike, NaiveDate};

/// A place of the table: name, latitude and longitude, height and bee.
type Place = (&'static str, (f64, f64), f64, &'static str);

const PLACES: &[Place] = &[
    ("Porto Alegre", (-30.03, -51.23), 10.0, "generic_small"),
    ("Florianópolis", (-27.60, -48.55), 10.0, "generic_small"),
    ("Curitiba", (-25.43, -49.27), 930.0, "generic_small"),
    (
        "Curitiba",
        (-25.43, -49.27),
        930.0,
        "melipona_quadrifasciata",
    ),
    ("Curitiba", (-25.43, -49.27), 930.0, "plebeia_droryana"),
    ("São Paulo", (-23.55, -46.63), 760.0, "generic_small"),
    ("Ribeirão Preto", (-21.18, -47.81), 545.0, "generic_small"),
    ("Brasília", (-15.79, -47.88), 1_100.0, "generic_small"),
    ("Mossoró", (-5.19, -37.34), 16.0, "melipona_subnitida"),
    ("Carajás", (-6.06, -50.17), 650.0, "melipona_seminigra"),
    (
        "Felipe Carrillo Puerto",
        (19.58, -88.05),
        25.0,
        "melipona_beecheii",
    ),
    (
        "San José, Costa Rica",
        (9.93, -84.08),
        1_160.0,
        "melipona_beecheii",
    ),
    ("Los Baños", (14.17, 121.24), 40.0, "generic_small"),
    (
        "Thrissur, Kerala",
        (10.52, 76.21),
        10.0,
        "tetragonula_iridipennis",
    ),
    (
        "Bengaluru",
        (12.97, 77.59),
        900.0,
        "tetragonula_iridipennis",
    ),
    (
        "Bogor, Java",
        (-6.60, 106.80),
        265.0,
        "tetragonula_laeviceps",
    ),
    ("Delhi", (28.61, 77.21), 215.0, "tetragonula_ruficornis"),
    ("Brisbane", (-27.47, 153.03), 20.0, "generic_small"),
    ("Brisbane", (-27.47, 153.03), 20.0, "tetragonula_carbonaria"),
    (
        "Brisbane",
        (-27.47, 153.03),
        20.0,
        "austroplebeia_australis",
    ),
    ("Lismore", (-28.81, 153.28), 12.0, "generic_small"),
    ("Sydney", (-33.87, 151.21), 20.0, "generic_small"),
    ("Sydney", (-33.87, 151.21), 20.0, "tetragonula_carbonaria"),
    ("Kuala Lumpur", (3.13, 101.69), 40.0, "generic_medium"),
    ("Chanthaburi", (12.61, 102.10), 10.0, "generic_small"),
    ("Kolkata", (22.57, 88.36), 9.0, "generic_small"),
    ("Taipei", (25.03, 121.56), 10.0, "generic_small"),
    ("Bogotá", (4.71, -74.07), 2_550.0, "generic_medium"),
    ("Durban", (-29.86, 31.02), 20.0, "generic_small"),
    ("Miami", (25.76, -80.19), 3.0, "generic_small"),
];

/// The document.
///
/// # Errors
/// Those of the engine; none are expected.
pub fn season_table() -> Result<String, Error> {
    let (mut out, mut sources, mut rows) = (HEAD.to_owned(), String::new(), Vec::new());
    for (name, (latitude_deg, longitude_deg), elevation_m, bee) in PLACES {
        let site = Site::new(*latitude_deg, *longitude_deg, *elevation_m, "Etc/UTC")?;
        let bee = bee::built_in(bee)?;
        let year = if *latitude_deg < 0.0 {
            ("2026-07-01", "2027-06-30")
        } else {
            ("2026-01-01", "2026-12-31")
        };
        let date = |text: &str| text.parse::<NaiveDate>().unwrap_or_default();
        let settings = SeasonSettings::default();
        let found =
            Weather::of_location(site, &bee).season(date(year.0), date(year.1), &settings)?;
        let _ = writeln!(
            out,
            "| {name} | {} | {} | {} | {} | {} |",
            bee.label(),
            published(&found),
            spans(&found, DateState::Good),
            spans(&found, DateState::AtRisk),
            against(&found),
        );
        for row in found.published {
            if !rows.contains(&row.said) {
                rows.push(row.said.clone());
                let _ = writeln!(sources, "- {} {}.", row.said.text(), row.source);
            }
        }
    }
    out.push_str("\n## The published rows\n\n");
    out.push_str(&sources);
    Ok(out)
}

const HEAD: &str = "\
# Seasons, published and computed

Written by `cargo run -p apiary-almanac-tools --bin season_table > docs/seasons.md`: the published or practised
months of the region that fit best, and what the default rules give from coordinates alone
([season-and-mornings.md](season-and-mornings.md)). *Practice* is what keepers do or write, without a study;
*unknown* was searched for and not found. After each span stands how many days it has; an edge with dates in brackets
lies between them when the place is warmer or cooler by the typical error of the grid. The year runs from January in the
north and from July in the south, and what goes on beyond it is cut there. At risk is at most eight weeks (56 d) on
either edge of a good season; where two good seasons lie less than sixteen weeks apart it reaches from one to the
other. Places stand for their regions, whose bounds are ours.

| place | bee | published | good | at risk | by the numbers |
|---|---|---|---|---|---|
";

/// `Oct–Mar`, of the row that fits best.
fn published(season: &Season) -> String {
    let Some(row) = season.published.first() else {
        return "no row".to_owned();
    };
    let month = |number: Option<&u8>| {
        let first = number.and_then(|month| NaiveDate::from_ymd_opt(2026, u32::from(*month), 1));
        first.map_or_else(String::new, |first| first.format("%b").to_string())
    };
    let months = match row.months.len() {
        0 => "no months".to_owned(),
        _ => format!("{}–{}", month(row.months.first()), month(row.months.last())),
    };
    let mark = match row.mark {
        PublishedMark::Publication => "",
        PublishedMark::Practice => ", *practice*",
        PublishedMark::Unknown => ", *unknown*",
    };
    let kind = match row.kind {
        PublishedKind::Divide | PublishedKind::NoMonths => "",
        PublishedKind::Swarms => "swarms ",
        PublishedKind::QueensAndMales => "queen cells and males ",
        PublishedKind::NotThen => "not ",
    };
    format!("{kind}{months}{mark}")
}

fn spans(season: &Season, state: DateState) -> String {
    if let [only] = season.states.as_slice()
        && only.state == state
    {
        return match (&season.rain, state) {
            (Some(rain), DateState::Good) => {
                let wet: Vec<_> = rain.wet_months.iter().map(u8::to_string).collect();
                format!("all year; wet months {}", wet.join(", "))
            }
            _ => "all year".to_owned(),
        };
    }
    let stretches = season.states.iter().enumerate();
    let words: Vec<_> = stretches
        .filter(|(_, stretch)| stretch.state == state)
        .map(|(number, stretch)| {
            let until = season.states.get(number + 1);
            let edge = |range: Option<(Option<NaiveDate>, Option<NaiveDate>)>| match range {
                Some((Some(earliest), Some(latest))) => {
                    format!(" ({} to {})", day(earliest), day(latest))
                }
                _ => String::new(),
            };
            let of = |begins: Option<apiary_almanac::season::EdgeRange>| {
                begins.map(|range| (range.earliest, range.latest))
            };
            format!(
                "{}{} – {}{}, {} d",
                day(stretch.first),
                edge(of(stretch.begins)),
                day(stretch.last),
                edge(of(until.and_then(|next| next.begins))),
                stretch.days
            )
        })
        .collect();
    if words.is_empty() {
        "none".to_owned()
    } else {
        words.join("; ")
    }
}

fn against(season: &Season) -> String {
    let row = season.published.first();
    let words: Vec<_> = row
        .into_iter()
        .flat_map(|row| &row.against)
        .map(|why| why.text())
        .collect();
    words.join(" ")
}

fn day(date: NaiveDate) -> String {
    format!("{} {}", date.day(), date.format("%b"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_document_is_up_to_date() {
        let kept = include_str!("../../../docs/seasons.md");
        assert!(
            season_table().unwrap() == kept,
            "write docs/seasons.md anew: cargo run -p apiary-almanac-tools --bin season_table"
        );
    }
}
