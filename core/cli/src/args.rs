//! Command-line arguments.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use super::sheet::Detail;

/// Working windows of the year, the next mornings for moving a hive, and dated plans for new
/// colonies of stingless bees.
///
/// Without a word before the file: what now and what next, the season, the next mornings and the dates that
/// follow on one short page.
#[derive(Debug, Parser)]
#[command(
    name = "apiary-almanac",
    version,
    max_term_width = 80,
    args_conflicts_with_subcommands = true,
    subcommand_help_heading = "What you can ask for"
)]
pub struct CommandLine {
    #[command(subcommand)]
    pub wanted: Option<Wanted>,
    #[command(flatten)]
    pub page: Page,
}

#[derive(Debug, Subcommand)]
pub enum Wanted {
    /// When colonies can be divided in the coming twelve months, and what opens and closes that time
    Season(SeasonArgs),
    /// The next mornings for moving a hive before the bees fly, the best first
    Mornings(MorningsArgs),
    /// What is to be done today, next and later, over all hives of the file
    Agenda(PlanArgs),
    /// Dated tasks for a new colony
    Plan(PlanArgs),
    /// Where the new colony stands by what was done and seen, and what changes
    Review(PlanArgs),
    /// The tasks as a calendar file for phones and computers
    Calendar(CalendarArgs),
    /// Dated tasks for a hive that is moved: in stages, by way of a far place, or at once
    Move(MoveArgs),
    /// Dated tasks for a new box that comes from its parent's entrance to a place beside it
    Parting(PartingArgs),
    /// The dates of a year at the place of the file, or at its [[places]], without any hive: the season,
    /// last safe days, heat, wet months, dawns
    Dates(DatesArgs),
    /// Write what was done or seen into the keeper's file
    Record(RecordArgs),
}

/// Where, when, which bee, which weather.
#[derive(Debug, Default, Args)]
pub struct Input {
    /// A keeper's file (TOML), such as docs/demo/apiary.toml; what is given below replaces what it
    /// says
    pub file: Option<PathBuf>,
    /// ° north, south negative
    #[arg(long, allow_negative_numbers = true)]
    pub latitude: Option<f64>,
    /// ° east, west negative
    #[arg(long, allow_negative_numbers = true)]
    pub longitude: Option<f64>,
    /// A town of 3000 people or more between 40° N and 40° S, in place of coordinates and zone, such as
    /// Gympie or "Maryborough, Queensland"
    #[arg(long, conflicts_with_all = ["latitude", "longitude", "zone"])]
    pub town: Option<String>,
    /// Metres above sea level
    #[arg(long, allow_negative_numbers = true)]
    pub elevation: Option<f64>,
    /// IANA time zone, such as Australia/Sydney
    #[arg(long)]
    pub zone: Option<String>,
    /// The day to ask for, YYYY-MM-DD; else that of the file, else today in the site's zone
    #[arg(long)]
    pub today: Option<String>,
    /// A built-in bee, such as tetragonula_carbonaria
    #[arg(long)]
    pub bee: Option<String>,
    /// Twelve monthly minima and maxima: CSV with a header, or two lines of twelve numbers (or twelve lines of
    /// two) as they were copied from a weather service's page
    #[arg(long, conflicts_with = "records")]
    pub normals: Option<PathBuf>,
    /// CSV of daily records
    #[arg(long)]
    pub records: Option<PathBuf>,
    /// The forecast of the next days as it was copied: a table, lines, JSON
    #[arg(long)]
    pub forecast: Option<PathBuf>,
}

/// In which form.
#[derive(Debug, Args)]
pub struct Form {
    /// Print JSON, every field of the answer, instead of text
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct SeasonArgs {
    #[command(flatten)]
    pub input: Input,
    #[command(flatten)]
    pub detail: Detail,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct MorningsArgs {
    #[command(flatten)]
    pub input: Input,
    /// How many mornings to rank
    #[arg(long)]
    pub mornings: Option<u32>,
    /// Write those on which a hive can be moved to this calendar file, such as dawns.ics, instead of printing them
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// With --out: write over a file that the answer was made from, and through links
    #[arg(long, requires = "out")]
    pub force: bool,
    #[command(flatten)]
    pub detail: Detail,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct PlanArgs {
    #[command(flatten)]
    pub input: Input,
    /// How the new colony is made: split, eduction, comb_donation or transfer; else that of the file
    #[arg(long)]
    pub method: Option<String>,
    #[command(flatten)]
    pub detail: Detail,
    /// Also what comes later, what is done only if something is seen, and what has no date yet
    #[arg(long)]
    pub all: bool,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct CalendarArgs {
    #[command(flatten)]
    pub input: Input,
    /// How the new colony is made: split, eduction, comb_donation or transfer; else that of the file
    #[arg(long)]
    pub method: Option<String>,
    /// Write the calendar to this file, such as plan.ics, instead of printing it
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// With --out, the name of a folder: a calendar for each hive, keeper or club
    #[arg(long, requires = "out", value_parser = ["hive", "keeper", "club"])]
    pub per: Option<String>,
    /// With --out: write over a file that the answer was made from, and through links
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Version of the calendar: one more each time it changes, so that calendars update their events;
    /// else minutes since 2020
    #[arg(long)]
    pub sequence: Option<u32>,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct MoveArgs {
    #[command(flatten)]
    pub input: Input,
    /// From here to there, metres
    #[arg(long)]
    pub distance: f64,
    /// staged, far_and_return or at_once; else the one that suits the distance
    #[arg(long)]
    pub way: Option<String>,
    /// The first morning that will do, YYYY-MM-DD; else tomorrow
    #[arg(long)]
    pub first: Option<String>,
    #[command(flatten)]
    pub stages: StageArgs,
    #[command(flatten)]
    pub detail: Detail,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct PartingArgs {
    #[command(flatten)]
    pub input: Input,
    /// When the new box is set before its parent's entrance, YYYY-MM-DD; else today
    #[arg(long)]
    pub set_before: Option<String>,
    #[command(flatten)]
    pub stages: StageArgs,
    #[command(flatten)]
    pub detail: Detail,
    #[command(flatten)]
    pub form: Form,
}

/// The keeper's own stages.
#[derive(Debug, Args)]
pub struct StageArgs {
    /// How many stages
    #[arg(long)]
    pub stages: Option<u32>,
    /// Flying days from one stage to the next
    #[arg(long)]
    pub days_between: Option<f64>,
    /// By how much the entrance is turned in all, degrees, clockwise positive
    #[arg(long, allow_negative_numbers = true)]
    pub turn: Option<f64>,
}

#[derive(Debug, Args)]
pub struct DatesArgs {
    #[command(flatten)]
    pub input: Input,
    /// The first day, YYYY-MM-DD; else the day that is asked for
    #[arg(long)]
    pub first: Option<String>,
    /// Write a calendar (.ics), a table (.csv) or a poster (.svg) to this file instead of printing
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// With --out: write over a file that the answer was made from, and through links
    #[arg(long, requires = "out")]
    pub force: bool,
    #[command(flatten)]
    pub form: Form,
}

#[derive(Debug, Args)]
pub struct RecordArgs {
    /// The keeper's file (TOML); everything else in it stays as it is
    pub file: PathBuf,
    /// The task that was done, by its name in the plan, such as divide; leave it out where something was
    /// only seen
    pub task: Option<String>,
    /// Of a move: its entrance is open again. Without it the opening is asked for until it is recorded
    #[arg(long, requires = "task")]
    pub opened: bool,
    /// Which hive, by its name, where the file lists several
    #[arg(long)]
    pub hive: Option<String>,
    /// The day, YYYY-MM-DD; else the day that is asked for in the file, else today in the site's zone
    #[arg(long)]
    pub on: Option<String>,
    /// What came of it, and at which box where that is not plain: not_possible, eggs_seen@new, gave_brood@old,
    /// joined, box_empty@new; done where it is left out
    #[arg(long, value_name = "OUTCOME[@BOX]")]
    pub outcome: Option<String>,
    /// A sign, and where: eggs@new, pollen_in@old, no_traffic@both, or with the box's own name after the
    /// @; with how many before it: "12 males_turned_out@new"; may be given several times
    #[arg(long, value_name = "[COUNT ]SIGN[@BOX]")]
    pub saw: Vec<String>,
    /// Bees that came home in five minutes: new=40, or with those that carried pollen and resin new=40,5,2;
    /// neighbour=90,30,4 for an undivided colony at the same hour; may be given several times
    #[arg(long, value_name = "BOX=HOME[,POLLEN[,RESIN]]")]
    pub count: Vec<String>,
    /// Net weight of the old box before the division, kg
    #[arg(long)]
    pub weight: Option<f64>,
    /// Anything else
    #[arg(long)]
    pub note: Option<String>,
    /// A name of its own, to speak of it later; else it is named by date and task, such as 2026-10-02-divide
    #[arg(long)]
    pub id: Option<String>,
    /// Take the place of an earlier record, by its name
    #[arg(long, value_name = "NAME")]
    pub corrects: Option<String>,
    /// Strike out an earlier record, by its name; it stays in the file and counts no more
    #[arg(long, value_name = "NAME", conflicts_with_all = ["task", "outcome", "saw", "count", "weight", "corrects"])]
    pub strikes_out: Option<String>,
}

#[derive(Debug, Args)]
pub struct Page {
    #[command(flatten)]
    pub input: Input,
    /// How many mornings to rank
    #[arg(long)]
    pub mornings: Option<u32>,
    /// Also plan a new colony: split, eduction, comb_donation or transfer
    #[arg(long)]
    pub method: Option<String>,
    #[command(flatten)]
    pub detail: Detail,
    /// Also what comes later, what is done only if something is seen, and what has no date yet
    #[arg(long)]
    pub all: bool,
    /// Also write the answers to this folder: JSON, and of a plan a calendar, a table, pictures and a poster
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// With --out: write over a file that the answer was made from, and through links
    #[arg(long, requires = "out")]
    pub force: bool,
}
