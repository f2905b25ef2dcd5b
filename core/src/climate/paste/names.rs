//! What the head of a column, or a word before a number, means.

/// What stands in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::climate) enum Quantity {
    /// A date, a weekday, a time of day, or a part of one.
    When,
    Minimum,
    Maximum,
    /// Minimum and maximum in one cell.
    Range,
    Temperature,
    Rain,
    Wind,
    Cloud,
    Radiation,
    /// Known, but of no use here: a chance of rain, gusts, humidity.
    Other,
}

/// A unit that a number can be given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::climate) enum Unit {
    Celsius,
    Fahrenheit,
    Millimetres,
    Centimetres,
    Inches,
    MetresPerSecond,
    KilometresPerHour,
    MilesPerHour,
    Knots,
    Percent,
    WattsPerSquareMetre,
}

impl Unit {
    /// The value in °C, mm, m/s, % or W/m².
    pub fn to_si(self, value: f64) -> f64 {
        match self {
            Unit::Fahrenheit => (value - 32.0) / 1.8,
            Unit::Centimetres => value * 10.0,
            Unit::Inches => value * 25.4,
            Unit::KilometresPerHour => value / 3.6,
            // The international mile, 1609.344 m, and the nautical mile, 1852 m.
            Unit::MilesPerHour => value * 0.44704,
            Unit::Knots => value * 1852.0 / 3600.0,
            Unit::Celsius
            | Unit::Millimetres
            | Unit::MetresPerSecond
            | Unit::Percent
            | Unit::WattsPerSquareMetre => value,
        }
    }

    /// Whether a quantity can be given in it.
    pub fn fits(self, quantity: Quantity) -> bool {
        match self {
            Unit::Celsius | Unit::Fahrenheit => matches!(
                quantity,
                Quantity::Minimum | Quantity::Maximum | Quantity::Range | Quantity::Temperature
            ),
            Unit::Millimetres | Unit::Centimetres | Unit::Inches => quantity == Quantity::Rain,
            Unit::MetresPerSecond | Unit::KilometresPerHour | Unit::MilesPerHour | Unit::Knots => {
                quantity == Quantity::Wind
            }
            Unit::Percent => quantity == Quantity::Cloud,
            Unit::WattsPerSquareMetre => quantity == Quantity::Radiation,
        }
    }
}

/// Small letters without accents.
pub(in crate::climate) fn folded(letter: char) -> impl Iterator<Item = char> {
    let plain = |c| match c {
        'á' | 'à' | 'â' | 'ã' | 'ä' | 'å' => 'a',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' => 'i',
        'ó' | 'ò' | 'ô' | 'õ' | 'ö' => 'o',
        'ú' | 'ù' | 'û' | 'ü' => 'u',
        'ç' => 'c',
        'ñ' => 'n',
        other => other,
    };
    letter.to_lowercase().map(plain)
}

/// The words of a name in small letters without accents: `tempMax (°C)` is `temp`, `max`, `c`.
pub(in crate::climate) fn words(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut last_is_small = false;
    for letter in name.chars().take(LONGEST_NAME) {
        if !letter.is_alphanumeric() || (letter.is_uppercase() && last_is_small) {
            words.push(String::new());
        }
        if let Some(word) = words.last_mut()
            && letter.is_alphanumeric()
        {
            word.extend(folded(letter));
        }
        last_is_small = letter.is_lowercase();
    }
    words.retain(|word| !word.is_empty());
    words
}

/// Longest name that is looked at, letters.
const LONGEST_NAME: usize = 200;

const WHEN: &[&str] = &[
    "date",
    "day",
    "dates",
    "days",
    "when",
    "weekday",
    "time",
    "datetime",
    "timestamp",
    "dt",
    "hour",
    "valid",
    "local",
    "utc",
    "data",
    "dia",
    "fecha",
    "hora",
    "datum",
];
const MINIMUM: &[&str] = &[
    "min",
    "minimum",
    "mini",
    "low",
    "lowest",
    "lo",
    "tmin",
    "tn",
    "mintemp",
    "tempmin",
    "overnight",
    "minima",
    "minimo",
    "baja",
];
const MAXIMUM: &[&str] = &[
    "max", "maximum", "maxi", "high", "highest", "hi", "tmax", "tx", "maxtemp", "tempmax",
    "maxima", "maximo", "top",
];
const TEMPERATURE: &[&str] = &["temperature", "temp", "temps", "t", "temperatura", "air"];
const RAIN: &[&str] = &[
    "rain",
    "rainfall",
    "precipitation",
    "precip",
    "prcp",
    "pcp",
    "chuva",
    "lluvia",
    "precipitacao",
    "precipitacion",
];
const WIND: &[&str] = &["wind", "windspeed", "winds", "vento", "viento"];
const CLOUD: &[&str] = &["cloud", "clouds", "cloudcover", "cloudiness"];
const RADIATION: &[&str] = &["radiation", "shortwave", "ghi", "irradiance"];
/// Words that make a column one that is not used.
const OTHER: &[&str] = &[
    "chance",
    "probability",
    "prob",
    "chances",
    "pop",
    "humidity",
    "humid",
    "rh",
    "dew",
    "dewpoint",
    "uv",
    "uvi",
    "sunrise",
    "sunset",
    "sun",
    "sunshine",
    "daylight",
    "moon",
    "moonrise",
    "moonset",
    "pressure",
    "visibility",
    "direction",
    "dir",
    "gust",
    "gusts",
    "windgust",
    "feels",
    "apparent",
    "felt",
    "soil",
    "ground",
    "grass",
    "wet",
    "bulb",
    "icon",
    "weather",
    "weathercode",
    "code",
    "summary",
    "description",
    "condition",
    "conditions",
    "text",
    "forecast",
    "outlook",
    "snow",
    "snowfall",
    "hours",
    "duration",
    "diffuse",
    "direct",
    "terrestrial",
    "sea",
    "water",
    "wave",
    "swell",
    "tide",
    "fire",
    "height",
    "mean",
    "avg",
    "average",
    "media",
    "med",
    "median",
    "record",
    "normal",
    "anomaly",
    "departure",
    "id",
    "note",
    "notes",
    "remark",
    "remarks",
    "comment",
    "showers",
    "evapotranspiration",
    "et0",
    "index",
];

fn any(words: &[String], of: &[&str]) -> bool {
    words.iter().any(|word| of.contains(&&word[..]))
}

/// What a column of this name holds; `None` where the name says nothing.
pub(in crate::climate) fn quantity(name: &str) -> Option<Quantity> {
    let words = words(name);
    let (low, high) = (any(&words, MINIMUM), any(&words, MAXIMUM));
    // At a height where bees do not fly, such as 80m.
    let at_height = |usual: &str| {
        words.iter().any(|word| {
            let metres = word.strip_suffix('m').or_else(|| word.strip_suffix("hpa"));
            word != usual
                && metres.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
        })
    };
    let found = if any(&words, OTHER) {
        Quantity::Other
    } else if any(&words, CLOUD) {
        let part = low || high || any(&words, &["mid", "middle", "medium", "base"]);
        if part {
            Quantity::Other
        } else {
            Quantity::Cloud
        }
    } else if any(&words, RADIATION) {
        Quantity::Radiation
    } else if any(&words, WIND) {
        if low || high || at_height("10m") {
            Quantity::Other
        } else {
            Quantity::Wind
        }
    } else if any(&words, RAIN) {
        // A share of 100 is a chance, not an amount.
        if low || high || name.contains('%') {
            Quantity::Other
        } else {
            Quantity::Rain
        }
    } else if (low || high) && at_height("2m") {
        Quantity::Other
    } else if low && high {
        Quantity::Range
    } else if low {
        Quantity::Minimum
    } else if high {
        Quantity::Maximum
    } else if any(&words, TEMPERATURE) {
        if at_height("2m") {
            Quantity::Other
        } else {
            Quantity::Temperature
        }
    } else if any(&words, WHEN) {
        Quantity::When
    } else {
        return None;
    };
    Some(found)
}

/// Whether a column of this name holds moments or days.
pub(in crate::climate) fn is_moment(name: &str) -> bool {
    quantity(name) == Some(Quantity::When)
}

/// The unit that a text names, such as `°C`, `km/h` or the end of `rain_mm`.
pub(in crate::climate) fn unit(text: &str, quantity: Quantity) -> Option<Unit> {
    if text.contains('%') && quantity == Quantity::Cloud {
        return Some(Unit::Percent);
    }
    if text.trim_end().ends_with(['"', '″']) && quantity == Quantity::Rain {
        return Some(Unit::Inches);
    }
    let words = words(text);
    let joined = |first: &str, second: &str| {
        words
            .windows(2)
            .any(|pair| pair[0] == first && pair[1] == second)
    };
    if quantity == Quantity::Wind {
        if joined("m", "s") {
            return Some(Unit::MetresPerSecond);
        }
        if joined("km", "h") || joined("km", "hr") || joined("km", "hour") {
            return Some(Unit::KilometresPerHour);
        }
        if joined("mi", "h") || joined("mp", "h") {
            return Some(Unit::MilesPerHour);
        }
    }
    if quantity == Quantity::Radiation && (joined("w", "m2") || joined("w", "m²")) {
        return Some(Unit::WattsPerSquareMetre);
    }
    words
        .iter()
        .filter_map(|word| unit_word(word))
        .find(|unit| unit.fits(quantity))
}

fn unit_word(word: &str) -> Option<Unit> {
    Some(match word {
        "c" | "celsius" | "degc" | "centigrade" | "ºc" => Unit::Celsius,
        "f" | "fahrenheit" | "degf" | "ºf" => Unit::Fahrenheit,
        "mm" | "millimetres" | "millimeters" | "millimetre" | "millimeter" => Unit::Millimetres,
        "cm" | "centimetres" | "centimeters" => Unit::Centimetres,
        "in" | "inch" | "inches" => Unit::Inches,
        "ms" | "mps" => Unit::MetresPerSecond,
        "kmh" | "kph" | "kmph" => Unit::KilometresPerHour,
        "mph" => Unit::MilesPerHour,
        "kn" | "kt" | "kts" | "knot" | "knots" => Unit::Knots,
        "percent" | "pct" => Unit::Percent,
        "wm2" => Unit::WattsPerSquareMetre,
        _ => return None,
    })
}

/// Any unit that a text beside a number names: `°C`, `mm`, `km/h`, `%`.
pub(in crate::climate) fn any_unit(text: &str) -> Option<Unit> {
    let text = text.trim();
    if text == "%" {
        return Some(Unit::Percent);
    }
    [
        Quantity::Temperature,
        Quantity::Wind,
        Quantity::Rain,
        Quantity::Radiation,
    ]
    .into_iter()
    .find_map(|quantity| unit(text, quantity))
}
