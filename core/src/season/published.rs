//! When colonies are divided, as it has been published or is practised, by region.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::rain::month_spans;
use super::{DateState, Season};
use crate::bee::Bee;
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::wire::FromNode;

/// What a row rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum PublishedMark {
    /// A publication.
    Publication,
    /// What keepers do or write, without a study.
    Practice,
    /// Nothing was found.
    Unknown,
}

/// What the months of a row are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum PublishedKind {
    /// Colonies are divided in them.
    Divide,
    /// Colonies swarm in them.
    Swarms,
    /// There are queen cells and males in them.
    QueensAndMales,
    /// Colonies are not divided in them: there is no brood, or no flight.
    NotThen,
    /// None are named.
    NoMonths,
}

/// A published or practised season of the region of a place.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct PublishedSeason {
    /// The region.
    pub place: String,
    /// Of which bees it tells.
    pub bees: String,
    /// Whether the bee that was asked about is one of them.
    pub of_this_bee: bool,
    /// What the months are.
    pub kind: PublishedKind,
    /// The months, January as 1, in the order of the season.
    pub months: Vec<u8>,
    /// Why then, as the source has it.
    pub reason: String,
    /// Publication, or `common practice, no source`.
    pub source: String,
    /// What it rests on.
    pub mark: PublishedMark,
    /// The row in a sentence.
    pub said: Reason,
    /// Where the computed season says otherwise; empty where the two agree or there is nothing to
    /// compare.
    pub against: Vec<Reason>,
}

/// A row of the table: a region by its bounds, degrees.
struct Row {
    place: &'static str,
    bees: &'static str,
    /// Beginnings of the names of these bees; any bee when empty.
    names: &'static [&'static str],
    south_north_deg: (f64, f64),
    west_east_deg: (f64, f64),
    kind: PublishedKind,
    months: &'static [u8],
    reason: &'static str,
    source: &'static str,
    mark: PublishedMark,
}

use PublishedKind::{Divide, NoMonths, NotThen, QueensAndMales, Swarms};
use PublishedMark::{Practice, Publication, Unknown};

const ANY: &str = "stingless bees";

const fn unknown(
    place: &'static str,
    south_north_deg: (f64, f64),
    west_east_deg: (f64, f64),
) -> Row {
    Row {
        place,
        bees: ANY,
        names: &[],
        south_north_deg,
        west_east_deg,
        kind: NoMonths,
        months: &[],
        reason: "no published months to divide were found",
        source: "searched for, not found",
        mark: Unknown,
    }
}

/// The bounds are ours, drawn around what the source names.
const ROWS: &[Row] = &[
    Row {
        place: "southern, south-eastern and central-western Brazil",
        bees: ANY,
        names: &[],
        south_north_deg: (-34.0, -14.0),
        west_east_deg: (-61.0, -39.0),
        kind: Divide,
        months: &[10, 11, 12, 1, 2, 3],
        reason: "the hottest and rainiest part of the year; about 150 divisions, 1990 to 1997",
        source: "Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem ferrão, p. 208",
        mark: Publication,
    },
    Row {
        place: "Porto Alegre",
        bees: ANY,
        names: &[],
        south_north_deg: (-31.0, -29.0),
        west_east_deg: (-52.5, -50.0),
        kind: NoMonths,
        months: &[],
        reason: "on 3 October 2024 queens in full laying with warmth, rain and flowers, and divisions to \
                 come soon",
        source: "Emater/RS, Informativo Conjuntural, through the press",
        mark: Publication,
    },
    Row {
        place: "south-eastern Brazil",
        bees: "61 natural swarms of nine species",
        names: &[],
        south_north_deg: (-25.0, -14.0),
        west_east_deg: (-53.0, -39.0),
        kind: Swarms,
        months: &[10, 11, 12],
        reason: "most of the swarms",
        source: "Oliveira et al. 2012, Apidologie, doi 10.1007/s13592-012-0152-y",
        mark: Publication,
    },
    Row {
        place: "the cerrado of São Paulo",
        bees: "Geotrigona mombuca",
        names: &["geotrigona"],
        south_north_deg: (-25.0, -19.8),
        west_east_deg: (-53.0, -44.0),
        kind: Swarms,
        months: &[9, 10, 11],
        reason: "in spring; it depends on the pollen of late winter",
        source: "Iheringia Zool. 103(4), 2013",
        mark: Publication,
    },
    Row {
        place: "southern Brazil",
        bees: "Plebeia",
        names: &["plebeia"],
        south_north_deg: (-34.0, -22.5),
        west_east_deg: (-58.0, -48.0),
        kind: NotThen,
        months: &[4, 5, 6, 7, 8],
        reason: "no laying in autumn and winter, in cold and short days: not before brood is back",
        source: "Santos et al. 2014, Sociobiology 61:369–377",
        mark: Publication,
    },
    Row {
        place: "the semi-arid north-east of Brazil",
        bees: "Melipona subnitida",
        names: &["melipona_subnitida"],
        south_north_deg: (-12.0, -3.0),
        west_east_deg: (-44.0, -35.0),
        kind: NoMonths,
        months: &[],
        reason: "brood and pollen follow the rain and stop in drought; no months to divide were seen",
        source: "Maia-Silva et al. 2015, Apidologie 46:631–643; Hrncir et al. 2019, J. Comp. Physiol. A \
                 205:415–426",
        mark: Publication,
    },
    Row {
        place: "Carajás, Pará",
        bees: "Melipona seminigra",
        names: &["melipona_seminigra"],
        south_north_deg: (-8.0, -4.0),
        west_east_deg: (-53.0, -48.0),
        kind: Divide,
        months: &[7, 8],
        reason: "brood grows from June to October; dearth and feeding from December to May, in the rains",
        source: "Costa & Imperatriz-Fonseca 2019, ITV report, doi 10.29223/PROD.TEC.ITV.DS.2019.03.Costa",
        mark: Publication,
    },
    Row {
        place: "Quintana Roo",
        bees: "Melipona beecheii",
        names: &["melipona_beecheii"],
        south_north_deg: (17.8, 21.7),
        west_east_deg: (-89.5, -86.6),
        kind: NoMonths,
        months: &[],
        reason: "most pollen in February, nectar in April, brood in October at the end of the rains; no \
                 months to divide were seen",
        source: "Di Trani & Villanueva-Gutiérrez 2018, in Pot-Pollen in Stingless Bee Melittology, ch. 10",
        mark: Publication,
    },
    Row {
        place: "Costa Rica",
        bees: "Melipona beecheii and Partamona",
        names: &["melipona_beecheii", "partamona"],
        south_north_deg: (8.0, 11.3),
        west_east_deg: (-86.0, -82.5),
        kind: NoMonths,
        months: &[],
        reason: "M. beecheii mates in November and March; Partamona founded a nest from April to October; no \
                 months to divide were seen",
        source: "van Veen & Sommeijer 2000, Apidologie 31:47–54; Wille & Orozco 1975, Rev. Biol. Trop. \
                 22:253–287",
        mark: Publication,
    },
    Row {
        place: "the Philippines",
        bees: ANY,
        names: &[],
        south_north_deg: (4.5, 21.0),
        west_east_deg: (116.5, 127.0),
        kind: Divide,
        months: &[2, 3],
        reason: "the swarming season",
        source: "Fajardo & Cervancia 2003, Bees for Development J. 67",
        mark: Publication,
    },
    Row {
        place: "southern India",
        bees: "Tetragonula iridipennis",
        names: &["tetragonula_iridipennis"],
        south_north_deg: (8.0, 19.0),
        west_east_deg: (73.0, 85.0),
        kind: NoMonths,
        months: &[],
        reason: "when the colony has queens or queen cells of its own",
        source: "Mamatha et al. 2025, Int. J. Adv. Biochem. Res. 9(11):260–264",
        mark: Publication,
    },
    Row {
        place: "Kerala",
        bees: "Tetragonula iridipennis",
        names: &["tetragonula_iridipennis"],
        south_north_deg: (8.0, 12.9),
        west_east_deg: (74.8, 77.5),
        kind: QueensAndMales,
        months: &[11, 12, 1, 2, 3],
        reason: "most brood and pollen in February, most honey in April",
        source: "Nisha 2001, MSc thesis, Kerala Agricultural University (abstract)",
        mark: Publication,
    },
    Row {
        place: "Java",
        bees: "Tetragonula laeviceps",
        names: &["tetragonula_laeviceps"],
        south_north_deg: (-8.9, -5.8),
        west_east_deg: (105.0, 114.7),
        kind: NoMonths,
        months: &[],
        reason: "in the flowering or the dry season",
        source: "a keeper's page, 2016 (common practice, no source)",
        mark: Practice,
    },
    Row {
        place: "Delhi",
        bees: "Tetragonula ruficornis",
        names: &["tetragonula_ruficornis"],
        south_north_deg: (27.5, 29.5),
        west_east_deg: (76.0, 78.5),
        kind: NotThen,
        months: &[12, 1],
        reason: "no flight; most in April",
        source: "Hadimani et al. 2024, Sociobiology 71(2):e10114",
        mark: Publication,
    },
    Row {
        place: "south-eastern Queensland",
        bees: ANY,
        names: &[],
        south_north_deg: (-29.0, -24.5),
        west_east_deg: (151.0, 154.0),
        kind: NoMonths,
        months: &[],
        reason: "nearly all year, not while nights are below 10 °C",
        source: "a keeper's page (common practice, no source)",
        mark: Practice,
    },
    Row {
        place: "south-eastern Queensland and New South Wales",
        bees: ANY,
        names: &[],
        south_north_deg: (-37.5, -23.0),
        west_east_deg: (148.0, 154.0),
        kind: Divide,
        months: &[10, 11, 12, 1, 2, 3],
        reason: "nearer the tropic from the middle of September",
        source: COMMON_PRACTICE,
        mark: Practice,
    },
    Row {
        place: "eastern Australia",
        bees: "Austroplebeia australis",
        names: &["austroplebeia"],
        south_north_deg: (-35.0, -18.0),
        west_east_deg: (138.0, 154.0),
        kind: NoMonths,
        months: &[],
        reason: "flies all year, its days longest from late September to March, most in September, least \
                 in May",
        source: "Halcroft, thesis, through an encyclopaedia",
        mark: Publication,
    },
    unknown("Malaysia", (1.0, 7.5), (99.5, 119.5)),
    unknown("Thailand", (5.5, 20.5), (97.3, 105.7)),
    unknown("north-eastern India and Bengal", (21.5, 29.0), (86.0, 97.3)),
    unknown("Taiwan", (21.8, 25.4), (119.9, 122.1)),
    unknown("Colombia", (-4.3, 12.6), (-79.1, -66.8)),
    unknown("Mexico", (14.5, 28.0), (-110.0, -86.6)),
    unknown("Africa", (-35.0, 17.0), (-18.0, 52.0)),
    Row {
        place: "Florida",
        reason: "no stingless bees live there",
        ..unknown("", (24.4, 31.0), (-87.7, -80.0))
    },
];

impl Row {
    fn holds(&self, site: &Site) -> bool {
        let (south, north) = self.south_north_deg;
        let (west, east) = self.west_east_deg;
        (south..=north).contains(&site.latitude_deg.get())
            && (west..=east).contains(&site.longitude_deg.get())
    }

    fn tells_of(&self, bee: &Bee) -> bool {
        self.names.is_empty() || self.names.iter().any(|name| bee.name.starts_with(name))
    }

    /// Square degrees: the smaller, the nearer.
    fn area(&self) -> f64 {
        let side = |(low, high): (f64, f64)| high - low;
        side(self.south_north_deg) * side(self.west_east_deg)
    }

    fn said(&self) -> Reason {
        let (place, bees, months) = (self.place, self.bees, month_spans(self.months));
        match self.kind {
            Divide => say::published_divide(place, bees, months, self.reason),
            Swarms => say::published_swarms(place, bees, months, self.reason),
            QueensAndMales => say::published_queens(place, bees, months, self.reason),
            NotThen => say::published_not_then(place, bees, months, self.reason),
            NoMonths => say::published_without_months(place, bees, self.reason),
        }
    }

    /// Where the computed season says otherwise.
    fn against(&self, by_month: &[Option<DateState>; 12]) -> Vec<Reason> {
        let months = |state: DateState, published: bool| -> Vec<u8> {
            let of = |month: &u8| {
                by_month[usize::from(*month) - 1] == Some(state)
                    && self.months.contains(month) == published
            };
            (1..=12).filter(of).collect()
        };
        let mut list = Vec::new();
        let mut add = |months: Vec<u8>, sentence: fn(Vec<Reason>) -> Reason| {
            if !months.is_empty() {
                list.push(sentence(month_spans(&months)));
            }
        };
        match self.kind {
            Divide | Swarms | QueensAndMales => {
                add(months(DateState::Closed, true), say::closed_by_numbers);
                add(months(DateState::AtRisk, true), say::at_risk_by_numbers);
                if self.kind == Divide {
                    add(months(DateState::Good, false), say::good_by_numbers);
                }
            }
            NotThen => {
                add(months(DateState::Good, true), say::good_by_numbers);
                add(months(DateState::AtRisk, true), say::at_risk_by_numbers);
            }
            NoMonths => {}
        }
        list
    }
}

/// The rows of the region of a place, the one that fits best first: of this bee, with months to
/// divide, of the smallest region.
pub(crate) fn published(site: &Site, bee: &Bee, season: &Season) -> Vec<PublishedSeason> {
    let by_month = by_month(season);
    let mut rows: Vec<_> = ROWS.iter().filter(|row| row.holds(site)).collect();
    rows.sort_by(|a, b| {
        let order = |row: &Row| (!row.tells_of(bee), row.kind != Divide, row.kind == NoMonths);
        order(a).cmp(&order(b)).then(a.area().total_cmp(&b.area()))
    });
    rows.into_iter()
        .map(|row| PublishedSeason {
            place: row.place.to_owned(),
            bees: row.bees.to_owned(),
            of_this_bee: row.tells_of(bee),
            kind: row.kind,
            months: row.months.to_vec(),
            reason: row.reason.to_owned(),
            source: row.source.to_owned(),
            mark: row.mark,
            said: row.said(),
            against: row.against(&by_month),
        })
        .collect()
}

/// What most dates of each month are; none for months of which the span has fewer than 15.
fn by_month(season: &Season) -> [Option<DateState>; 12] {
    const FEWEST: usize = 15;
    let mut days = [[0_usize; 3]; 12];
    for stretch in &season.states {
        let dates = stretch.first.iter_days();
        dates
            .take_while(|date: &NaiveDate| *date <= stretch.last)
            .for_each(|date| days[date.month0() as usize][stretch.state as usize] += 1);
    }
    days.map(|days| {
        let states = [DateState::Good, DateState::AtRisk, DateState::Closed];
        let most = states.into_iter().max_by_key(|state| days[*state as usize]);
        most.filter(|_| days.iter().sum::<usize>() >= FEWEST)
    })
}
