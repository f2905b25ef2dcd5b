//! A hive that is moved, and a new box that is parted from its parent, asked for on the command line.

use apiary_almanac::Error;
use apiary_almanac::civil::parse_date;
use apiary_almanac::method::{HiveMove, Moved};
use apiary_almanac::plan::{Colony, PlanRequest};
use apiary_almanac::relocation::{PartingOverrides, RelocationOverrides, Way};
use apiary_almanac::wait::{Wait, WaitUnit};
use apiary_almanac::wire::from_json;

use super::Problem;
use super::args::{MoveArgs, PartingArgs, StageArgs};
use super::keeper::Asked;

/// The plan of a move.
pub fn of_move(args: &MoveArgs, asked: &Asked<'_>) -> Result<PlanRequest, Problem> {
    let mut settings = RelocationOverrides::default();
    settings.stages = args.stages.stages;
    settings.between = between(&args.stages)?;
    let mut moved = HiveMove::new(args.distance).with_settings(settings);
    moved.total_turn_deg = args.stages.turn;
    if let Some(way) = &args.way {
        moved.way = Some(from_json::<Way>("--way", &format!("{way:?}"))?);
    }
    plan(asked, Moved::Move(moved), "--first", args.first.as_deref())
}

/// The plan of a parting.
pub fn of_parting(args: &PartingArgs, asked: &Asked<'_>) -> Result<PlanRequest, Problem> {
    let mut own = PartingOverrides::default();
    own.stages = args.stages.stages;
    own.total_turn_deg = args.stages.turn;
    own.between_stages = between(&args.stages)?;
    let on = args.set_before.as_deref();
    plan(asked, Moved::Parting(own), "--set-before", on)
}

fn between(args: &StageArgs) -> Result<Option<Wait>, Error> {
    let days = args.days_between;
    days.map(|days| Wait::new(WaitUnit::FlyingDays, [days; 3], "set by the user"))
        .transpose()
}

fn plan(
    asked: &Asked<'_>,
    moved: Moved,
    field: &str,
    date: Option<&str>,
) -> Result<PlanRequest, Problem> {
    let of_file = &asked.outlook;
    let colony = Colony::new(asked.hive.as_deref().unwrap_or("Hive"));
    let mut plan = PlanRequest::new(of_file.site, of_file.today, moved, colony)
        .with_bee(of_file.bee.clone())
        .with_climate(of_file.climate.clone())
        .with_mornings(of_file.settings)
        .with_free_weekdays(of_file.free_weekdays.clone())
        .with_hive_weight_kg(of_file.hive_weight_kg);
    if let Some(date) = date {
        plan.wanted = Some(parse_date(field, date)?);
    }
    Ok(plan)
}
