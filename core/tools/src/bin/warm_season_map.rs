//! Draws `docs/warm-season.svg`: how many days of the year have a mean of 18 °C or more.
//!
//! ```text
//! cargo run --release -p apiary-almanac-tools --bin warm_season_map > docs/warm-season.svg
//! ```

use std::fmt::Write as _;

use apiary_almanac::climate::grid::{ATTRIBUTION, PERIOD, WarmSeason, warm_season_map};

const THRESHOLD_C: f64 = 18.0;
/// Cells to one degree.
const FINENESS: i32 = 2;
/// The map reaches this far from the equator, degrees.
const REACH_DEG: i32 = 42;
const COLUMNS: i32 = 360 * FINENESS;
const ROWS: i32 = 2 * REACH_DEG * FINENESS;
/// Side of a cell in the picture.
const CELL: i32 = 2;
const LEFT: i32 = 48;
const TOP: i32 = 58;
const WIDTH: i32 = COLUMNS * CELL;
const HEIGHT: i32 = ROWS * CELL;

/// Classes from light to dark, so that they keep their order in grey and for eyes that see few
/// colours: fewest and most days, colour, words.
const CLASSES: [(u16, u16, &str, &str); 6] = [
    (0, 0, "#f4f2ea", "no day"),
    (1, 89, "#ecd488", "under 3 months"),
    (90, 179, "#dd9d52", "3 to 6 months"),
    (180, 269, "#b65c45", "6 to 9 months"),
    (270, 364, "#75294f", "over 9 months"),
    (365, 365, "#2a1038", "all year"),
];

fn main() -> std::fmt::Result {
    let middle = |cell: i32| (f64::from(cell) + 0.5) / f64::from(FINENESS);
    let latitudes: Vec<f64> = (0..ROWS)
        .map(|row| f64::from(REACH_DEG) - middle(row))
        .collect();
    let longitudes: Vec<f64> = (0..COLUMNS).map(|column| middle(column) - 180.0).collect();
    let seasons = warm_season_map(&latitudes, &longitudes, THRESHOLD_C, None);
    let class = |row: i32, column: i32| -> Option<usize> {
        let inside = (0..ROWS).contains(&row) && (0..COLUMNS).contains(&column);
        let season: WarmSeason = (*seasons.get((row * COLUMNS + column).max(0) as usize)?)?;
        CLASSES
            .iter()
            .position(|(fewest, most, ..)| (*fewest..=*most).contains(&season.days))
            .filter(|_| inside)
    };
    let mut svg = String::new();
    let (width, height) = (LEFT + WIDTH + 16, TOP + HEIGHT + 118);
    writeln!(
        svg,
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" font-family="Georgia, 'DejaVu Serif', serif" fill="#1d2430" role="img" aria-labelledby="title description">
<title id="title">Length of the warm season between {REACH_DEG}° north and south</title>
<desc id="description">A world map in six shades, from light where no day of the year has a mean of {THRESHOLD_C} °C or more to dark where all days have.</desc>
<rect width="{width}" height="{height}" fill="#ffffff"/>
<text x="{LEFT}" y="26" font-size="22">Days of the year with a mean of {THRESHOLD_C} °C or more</text>
<text x="{LEFT}" y="45" font-size="13" fill="#4a5362">smoothed normals of {PERIOD}, brought to today with modern stations; mean elevation of the land around</text>"##
    )?;
    for (number, (_, _, colour, _)) in CLASSES.iter().enumerate() {
        let path = runs(&|row, column| class(row, column) == Some(number));
        writeln!(
            svg,
            r#"<path transform="translate({LEFT} {TOP}) scale({CELL})" fill="{colour}" shape-rendering="crispEdges" d="{path}"/>"#
        )?;
    }
    let shore = shore(&|row, column| class(row, column).is_some());
    writeln!(
        svg,
        r##"<path transform="translate({LEFT} {TOP}) scale({CELL})" fill="none" stroke="#5f6875" stroke-width="0.35" d="{shore}"/>"##
    )?;
    graticule(&mut svg)?;
    legend(&mut svg)?;
    writeln!(svg, "</svg>")?;
    print!("{svg}");
    Ok(())
}

/// A path of all cells of a class, each run along a row as one rectangle.
fn runs(is_member: &dyn Fn(i32, i32) -> bool) -> String {
    let mut path = String::new();
    for row in 0..ROWS {
        let mut column = 0;
        while column < COLUMNS {
            let length = (column..COLUMNS).take_while(|c| is_member(row, *c)).count() as i32;
            if length > 0 {
                path += &format!("M{column} {row}h{length}v1h-{length}z");
            }
            column += length.max(1);
        }
    }
    path
}

/// The borders between land and what is not land.
fn shore(is_land: &dyn Fn(i32, i32) -> bool) -> String {
    let mut path = String::new();
    for row in 0..ROWS {
        for column in 0..COLUMNS {
            let here = is_land(row, column);
            if column > 0 && here != is_land(row, column - 1) {
                path += &format!("M{column} {row}v1");
            }
            if row > 0 && here != is_land(row - 1, column) {
                path += &format!("M{column} {row}h1");
            }
        }
    }
    path
}

fn graticule(svg: &mut String) -> std::fmt::Result {
    let (right, bottom) = (LEFT + WIDTH, TOP + HEIGHT);
    writeln!(
        svg,
        r##"<rect x="{LEFT}" y="{TOP}" width="{WIDTH}" height="{HEIGHT}" fill="none" stroke="#5f6875"/>"##
    )?;
    let y = |latitude: f64| {
        f64::from(TOP) + (f64::from(REACH_DEG) - latitude) * f64::from(FINENESS * CELL)
    };
    for (latitude, name, dashes) in [
        (23.44, "23° N", "6 5"),
        (0.0, "0°", "none"),
        (-23.44, "23° S", "6 5"),
        (40.0, "40° N", "1 6"),
        (-40.0, "40° S", "1 6"),
    ] {
        let (y, text_y) = (y(latitude), y(latitude) + 4.0);
        writeln!(
            svg,
            r##"<path d="M{LEFT} {y:.1}H{right}" stroke="#5f6875" stroke-width="0.8" stroke-dasharray="{dashes}" opacity="0.75"/><text x="{}" y="{text_y:.1}" font-size="12" text-anchor="end">{name}</text>"##,
            LEFT - 6
        )?;
    }
    for longitude in (-150..=150).step_by(30) {
        let x = LEFT + (longitude + 180) * FINENESS * CELL;
        let name = match longitude {
            0 => "0°".to_owned(),
            1.. => format!("{longitude}° E"),
            _ => format!("{}° W", -longitude),
        };
        writeln!(
            svg,
            r##"<path d="M{x} {bottom}v5" stroke="#5f6875"/><text x="{x}" y="{}" font-size="12" text-anchor="middle">{name}</text>"##,
            bottom + 18
        )?;
    }
    Ok(())
}

fn legend(svg: &mut String) -> std::fmt::Result {
    let top = TOP + HEIGHT + 40;
    let box_width = WIDTH / CLASSES.len() as i32;
    for (number, (fewest, most, colour, words)) in CLASSES.iter().enumerate() {
        let x = LEFT + number as i32 * box_width;
        let days = if fewest == most {
            format!("{fewest} d")
        } else {
            format!("{fewest} to {most} d")
        };
        writeln!(
            svg,
            r##"<rect x="{x}" y="{top}" width="46" height="24" fill="{colour}" stroke="#5f6875" stroke-width="0.7"/><text x="{}" y="{}" font-size="14">{words}</text><text x="{}" y="{}" font-size="12" fill="#4a5362">{days}</text>"##,
            x + 54,
            top + 11,
            x + 54,
            top + 25,
        )?;
    }
    let (first, second) = ATTRIBUTION.split_once("; ").unwrap_or((ATTRIBUTION, ""));
    // The source first, then the coastline: in one line they would not fit.
    for (y, line) in [(top + 54, first), (top + 70, second)] {
        writeln!(
            svg,
            r##"<text x="{LEFT}" y="{y}" font-size="11" fill="#4a5362">{line}</text>"##
        )?;
    }
    Ok(())
}
