"""Tables of many places and dates: the same answers as one at a time, and nothing but ApiaryError."""

from __future__ import annotations

import copy
import datetime as dt
import multiprocessing
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd
import pytest
import xarray as xr
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

import apiary_almanac as almanac
from apiary_almanac import _arrays, _core

CODES = almanac.about().error_codes
LATITUDE = np.array([[-77.85], [-28.81], [1.35], [69.65], [88.0]])
LONGITUDE = np.array([[166.67], [153.28], [103.8], [18.96], [-100.0]])
ZONES = np.array(
    [
        ["Antarctica/McMurdo"],
        ["Australia/Sydney"],
        ["Asia/Singapore"],
        ["Europe/Oslo"],
        ["America/Chicago"],
    ]
)
DATES = np.arange("2026-01-01", "2027-01-01", 9, dtype="M8[D]")
DAY = np.datetime64("2026-06-21", "D")


def moment(value: Any) -> dt.datetime | None:
    """A time of a table as the scalar functions give it."""
    if np.isnat(value):
        return None
    naive: dt.datetime = value.astype("M8[us]").item()
    return naive.replace(tzinfo=dt.timezone.utc)


def sites(**more: Any) -> list[almanac.Site]:
    return [
        almanac.Site(
            latitude_deg=float(latitude),
            longitude_deg=float(longitude),
            elevation_m=20,
            zone=str(zone),
            **more,
        )
        for latitude, longitude, zone in zip(
            LATITUDE.flat, LONGITUDE.flat, ZONES.flat, strict=True
        )
    ]


@pytest.mark.parametrize("event", ["sun", "civil", "nautical", "astronomical", "altitude"])
def test_sun_as_one_at_a_time(event: Any) -> None:
    altitude_deg = 3.0 if event == "altitude" else None
    table = almanac.sun_table(
        LATITUDE,
        LONGITUDE,
        DATES,
        event=event,
        altitude_deg=altitude_deg,
        east_horizon_deg=2.0,
        west_horizon_deg=-1.0,
        zone=ZONES,
    )
    assert table.shape == (5, DATES.size) and table.size == 5 * DATES.size
    seen = set()
    for row, site in enumerate(sites(east_horizon_deg=2, west_horizon_deg=-1)):
        days = {
            day.date: day
            for day in almanac.sun(
                site, DATES[0].item(), DATES[-1].item(), altitude_deg=altitude_deg
            )
        }
        for column, date in enumerate(DATES):
            day = days[date.item()]
            one: Any = day.crossing if event == "altitude" else getattr(day, event)
            state = table.state_names[table.state[row, column]]
            seen.add(state)
            assert one.kind == state
            assert getattr(one, "rise", None) == moment(table.rise[row, column])
            assert getattr(one, "set", None) == moment(table.set[row, column])
    assert len(seen) >= 3


def test_the_day_that_apia_skipped() -> None:
    dates = np.array(["2011-12-29", "2011-12-30", "2011-12-31"], dtype="M8[D]")
    table = almanac.sun_table(-13.83, -171.77, dates, zone="Pacific/Apia")
    assert table.where("no_such_day").tolist() == [False, True, False]
    assert np.isnat(table.rise).tolist() == [False, True, False]
    mornings = almanac.morning_table(-13.83, -171.77, dates, zone="Pacific/Apia")
    assert mornings.where("no_such_day").tolist() == [False, True, False]
    # Without a zone the date is that of the sun: nothing was skipped.
    assert almanac.sun_table(-13.83, -171.77, dates).where("rises_and_sets").all()


def test_season_as_one_at_a_time() -> None:
    rng = np.random.default_rng(5)
    latitude, longitude = rng.uniform(-48, 48, 60), rng.uniform(-180, 180, 60)
    elevation = rng.uniform(0, 2500, 60)
    dates = np.datetime64("2020-01-01") + rng.integers(0, 4000, 60)
    table = almanac.season_table(latitude, longitude, dates, elevation_m=elevation)
    for i, state in enumerate(table.state):
        name = table.state_names[state]
        date = dates[i].item()
        site = almanac.Site(
            latitude_deg=latitude[i],
            longitude_deg=longitude[i],
            elevation_m=elevation[i],
            zone="Etc/UTC",
        )
        season = almanac.season(site, date, date + dt.timedelta(364))
        outcome = season.outcome
        assert table.date_state_names[table.date_state[i]] == season.states[0].state
        risk = sum(stretch.days for stretch in season.states if stretch.state == "at_risk")
        assert table.at_risk_days[i] == risk
        if isinstance(season.wider, almanac.SeasonOutcomeWindows):
            wider = season.wider.windows[0]
            assert (wider.opens, wider.closes) == (table.wider_opens[i], table.wider_closes[i])
        else:
            assert np.isnat(table.wider_opens[i])
        if isinstance(outcome, almanac.SeasonOutcomeWindows):
            window = outcome.windows[0]
            assert (window.opens, window.closes) == (table.opens[i], table.closes[i])
            assert name == ("open" if window.opens <= date else "ahead")
            assert 0 < table.open_days[i] <= 365
        else:
            assert name == outcome.kind
            assert np.isnat(table.opens[i]) and np.isnat(table.closes[i])
            assert table.open_days[i] == (365 if name == "all_year" else 0)
    assert len(set(table.state)) == 4


def test_season_with_a_bee_and_settings() -> None:
    asked = (-28.81, 153.28, dt.date(2026, 7, 1))
    site = almanac.Site(
        latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney"
    )
    settings = almanac.SeasonSettings(chance=0.5, bar_wettest_months=2)
    own = almanac.BeeOverrides(heat_shade_c=33.0)
    table = almanac.season_table(*asked, elevation_m=12, bee=own, settings=settings)
    one = almanac.season(site, asked[2], dt.date(2027, 6, 30), bee=own, settings=settings)
    assert isinstance(one.outcome, almanac.SeasonOutcomeWindows)
    assert table.opens == one.outcome.windows[0].opens
    # The open sea: nobody knows its rain.
    assert almanac.season_table(
        -28.81, 160.0, asked[2], settings=settings
    ).where("not_enough_data")


def test_mornings_as_one_at_a_time() -> None:
    table = almanac.morning_table(LATITUDE, LONGITUDE, DATES, elevation_m=20, zone=ZONES)
    for row, site in enumerate(sites()):
        for column, date in enumerate(DATES):
            [ranked] = almanac.mornings(site, date.item(), 1)
            one = ranked.morning
            is_open = isinstance(one.window, almanac.MoveWindowOpen)
            at = (row, column)
            assert table.where("open")[at] == is_open
            assert moment(table.work_light[at]) == one.work_light
            until = one.window.until if isinstance(one.window, almanac.MoveWindowOpen) else None
            assert moment(table.until[at]) == until
            first = one.first_flight.at if one.first_flight else None
            assert moment(table.first_flight[at]) == first
            assert moment(table.close_from[at]) == one.evening_before.from_
            assert table.lamp_needed[at] == one.evening_before.lamp_needed
            assert table.flying_day[at] == one.flying_day
            if one.temperature_c is not None:
                assert table.temperature_c[at] == one.temperature_c


def test_shapes_are_numpys() -> None:
    assert almanac.sun_table(1.0, 2.0, DAY).shape == ()
    assert almanac.sun_table([1.0], 2.0, DAY).shape == (1,)
    cube = almanac.sun_table(np.zeros((2, 1, 1)), np.zeros((3, 1)), DATES)
    assert cube.shape == (2, 3, DATES.size)
    assert almanac.sun_table([], 0.0, DAY).size == 0
    for shape in ((0, 3), (3, 0)):
        assert almanac.sun_table(np.zeros(shape), 0.0, DAY).shape == shape
    assert almanac.sun_table(np.zeros((3, 1)), 0.0, DATES[:0]).shape == (3, 0)
    assert almanac.season_table([], [], DAY).size == 0
    assert almanac.morning_table([], [], DAY, zone="UTC").size == 0


def test_layout_and_kind_of_numbers_do_not_matter() -> None:
    latitude = np.linspace(-60, 60, 24).reshape(4, 6)
    plain = almanac.sun_table(latitude, 10, DAY)
    for other in (
        np.asfortranarray(latitude),
        latitude.astype(">f8"),
        latitude.tolist(),
        np.repeat(latitude, 2, axis=1)[:, ::2],
    ):
        assert almanac.sun_table(other, np.int16(10), DAY) == plain
    assert almanac.sun_table(latitude.T, 10, DAY).rise.T.tolist() == plain.rise.tolist()
    dates = [DAY.item(), (DAY + 1).item()]
    days = np.array(dates, dtype="M8[ns]")
    assert almanac.sun_table(0, 0, dates) == almanac.sun_table(0, 0, days)
    assert almanac.sun_table(0, 0, pd.Series(days)).rise.shape == (2,)
    assert almanac.sun_table(0, 0, pd.DatetimeIndex(days)).rise.shape == (2,)


def test_blocks_fit_together(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = almanac.sun_table(LATITUDE, LONGITUDE, DATES, zone=ZONES)
    year = almanac.season_table(LATITUDE[1:3], LONGITUDE[1:3], DATES)
    for rows in (1, 7, 64):
        monkeypatch.setattr(_arrays, "_SUN_BLOCK", rows)
        monkeypatch.setattr(_arrays, "_SEASON_BLOCK", rows)
        assert almanac.sun_table(LATITUDE, LONGITUDE, DATES, zone=ZONES) == whole
        assert almanac.season_table(LATITUDE[1:3], LONGITUDE[1:3], DATES) == year


NAN = float("nan")
REFUSED: list[tuple[str, dict[str, Any], str, str]] = [
    ("90.5", {"latitude_deg": [[0.0, 1.0], [90.5, 99.0]]}, "out_of_range", "latitude_deg[1, 0]"),
    ("NaN", {"longitude_deg": [0.0, NAN]}, "out_of_range", "longitude_deg[1]"),
    ("NaN", {"latitude_deg": NAN}, "out_of_range", "latitude_deg"),
    ("NaN", {"latitude_deg": np.ma.masked_greater([1.0, 2.0], 1.5)}, "out_of_range", "latitude_deg[1]"),
    ("no date", {"dates": np.array(["NaT"], dtype="M8[D]")}, "out_of_range", "dates[0]"),
    ("1899-12-31", {"dates": dt.date(1899, 12, 31)}, "out_of_range", "dates"),
    ("2101-01-01", {"dates": [DAY.item(), dt.date(2101, 1, 1)]}, "out_of_range", "dates[1]"),
    ("without a time", {"dates": np.datetime64("2026-06-21T04:00")}, "out_of_range", "dates"),
    ("without a time", {"dates": dt.datetime(2026, 6, 21, 4)}, "out_of_range", "dates"),
    ("without a time", {"dates": "midsummer"}, "unreadable", "dates"),
    ("without a time", {"dates": 20_000}, "unreadable", "dates"),
    ("numbers", {"latitude_deg": "north"}, "unreadable", "latitude_deg"),
    ("NaN", {"latitude_deg": [1, None]}, "out_of_range", "latitude_deg[1]"),
    ("numbers", {"latitude_deg": [10**400]}, "unreadable", "latitude_deg"),
    ("numbers", {"latitude_deg": [1j]}, "unreadable", "latitude_deg"),
    ("numbers", {"latitude_deg": [[1.0], [1.0, 2.0]]}, "unreadable", "latitude_deg"),
    ("broadcast", {"latitude_deg": [0.0] * 2, "dates": DATES[:3]}, "inconsistent", "latitude_deg, longitude_deg, dates"),
    ("+10:00", {"zone": "+10:00"}, "unknown_zone", "zone"),
    ("Mars", {"zone": ["UTC", "Mars/Base", "Atlantis"]}, "unknown_zone", "zone[1]"),
    ("names such as", {"zone": 10}, "unreadable", "zone"),
    ("names such as", {"zone": ["UTC", None]}, "unreadable", "zone"),
    ("noon", {"event": "noon"}, "unknown_name", "event"),
    ("91", {"altitude_deg": 91.0}, "out_of_range", "altitude_deg"),
    ("NaN", {"altitude_deg": NAN}, "out_of_range", "altitude_deg"),
    ("needed", {"event": "altitude"}, "inconsistent", "altitude_deg"),
    ("own altitude", {"event": "civil", "altitude_deg": 1.0}, "inconsistent", "event, altitude_deg"),
    ("46", {"east_horizon_deg": [0.0, 46.0]}, "out_of_range", "east_horizon_deg[1]"),
]


@pytest.mark.parametrize(
    ("words", "asked", "code", "field"), REFUSED, ids=[f"{r[3]}-{r[0]}" for r in REFUSED]
)
def test_refusals_name_the_place_and_the_value(
    words: str, asked: dict[str, Any], code: str, field: str
) -> None:
    whole: dict[str, Any] = {"latitude_deg": 0.0, "longitude_deg": 0.0, "dates": DAY} | asked
    with pytest.raises(almanac.ApiaryError) as caught:
        almanac.sun_table(**whole)
    assert (caught.value.code, caught.value.field) == (code, field)
    assert words in str(caught.value)


def test_refusals_of_seasons_and_mornings() -> None:
    settings = almanac.SeasonSettings
    wrong: Any = {"x": 1}
    calls: list[tuple[str, Callable[[], object]]] = [
        ("out_of_range", lambda: almanac.season_table(0, 0, DAY, elevation_m=[0, 9001])),
        ("out_of_range", lambda: almanac.season_table(0, 0, DAY, settings=settings(chance=2))),
        ("out_of_range", lambda: almanac.season_table([], [], DAY, settings=settings(chance=2))),
        ("out_of_range", lambda: almanac.season_table(0, 0, DAY, settings=settings(rules=()))),
        ("unknown_name", lambda: almanac.season_table(0, 0, DAY, bee="wasp")),
        ("unreadable", lambda: almanac.season_table(0, 0, DAY, bee=wrong["x"])),
        ("unreadable", lambda: almanac.morning_table(0, 0, DAY, settings=wrong)),
        ("out_of_range", lambda: almanac.morning_table(0, 0, dt.date(1900, 1, 1))),
        ("out_of_range", lambda: almanac.morning_table(0, 0, dt.date(2100, 12, 31))),
    ]
    for code, call in calls:
        with pytest.raises(almanac.ApiaryError) as caught:
            call()
        assert caught.value.code == code


def test_labelled_arrays_are_not_broadcast_by_position() -> None:
    for name in ("latitude_deg", "dates", "zone"):
        asked: dict[str, Any] = {"latitude_deg": 0.0, "longitude_deg": 0.0, "dates": DAY}
        with pytest.raises(TypeError, match="dataset"):
            almanac.sun_table(**{**asked, name: xr.DataArray([0.0])})
    with pytest.raises(TypeError, match="sun_table"):
        almanac.dataset(max, 0.0, 0.0, DAY)


def test_tables_are_values() -> None:
    asked = (LATITUDE, LONGITUDE, DATES)
    table = almanac.sun_table(*asked)
    assert table == almanac.sun_table(*asked) == copy.deepcopy(table)
    assert table != almanac.sun_table(*asked, event="civil")
    assert table != "a table"
    back = pickle.loads(pickle.dumps(table))
    assert back == table
    for one in (table, back):
        for array in one.to_dict().values():
            with pytest.raises(ValueError, match="read-only"):
                array[...] = array.flat[0]
    with pytest.raises(AttributeError):
        table.rise = table.set  # type: ignore[misc]
    with pytest.raises(TypeError, match="unhashable"):
        hash(table)
    with pytest.raises(ValueError, match="always_above"):
        table.where("midnight")
    # What was given stays the caller's.
    latitude = np.array([1.0, 2.0])
    other = almanac.sun_table(latitude, 0.0, DAY)
    latitude[0] = 50.0
    assert other.latitude_deg[0] == 1.0


def test_how_tables_look() -> None:
    table = almanac.sun_table(LATITUDE, LONGITUDE, DAY)
    assert repr(table) == "<SunTable of shape (5, 1): 2 rises_and_sets, 2 always_above, 1 always_below>"
    shown = almanac.sun_table(0.0, np.zeros(9), DAY)._repr_html_()
    assert shown.count("<tr>") == 6 and "and 4 more" in shown and "rises_and_sets" in shown
    assert "NaT" in table._repr_html_()
    assert repr(almanac.sun_table([], [], DAY)) == "<SunTable of shape (0,): empty>"


def test_frames_in_and_out() -> None:
    frame = pd.DataFrame(
        {"lat": LATITUDE[:, 0], "lon": LONGITUDE[:, 0], "day": pd.Timestamp("2026-06-21")},
        index=["Hive A", "Hive B", "Hive C", "Hive D", "Hive E"],
    )
    table = almanac.sun_table(frame["lat"], frame["lon"], frame["day"], zone=pd.Series(ZONES[:, 0], index=frame.index))
    found = frame.join(table.to_frame()[["state", "rise"]])
    assert found.loc["Hive B", "state"] == "rises_and_sets"
    assert found.loc["Hive B", "rise"] == pd.Timestamp(table.rise[1], tz="UTC")
    assert found["rise"].isna().tolist() == np.isnat(table.rise).tolist()
    years = almanac.season_table(LATITUDE[1:3], LONGITUDE[1:3], DATES).to_frame()
    assert len(years) == 2 * DATES.size
    assert years["date"].iloc[1] == pd.Timestamp(DATES[1])
    with pytest.raises(almanac.ApiaryError, match="different indices") as caught:
        almanac.sun_table(frame["lat"], frame["lon"].reset_index(drop=True), DAY)
    assert caught.value.code == "inconsistent"


def test_pieces_of_a_table() -> None:
    table = almanac.sun_table(LATITUDE, LONGITUDE, DATES)
    assert table.result_names() == ("state", "rise", "set")
    state, rise, set_ = table.results()
    assert state is table.state and rise is table.rise and set_ is table.set
    assert [a.shape for a in table.to_dict().values()] == [table.shape] * 6


def test_datasets() -> None:
    latitude = xr.DataArray(LATITUDE[:, 0], dims="site")
    longitude = xr.DataArray(LONGITUDE[:, 0], dims="site")
    dates = xr.DataArray(DATES.astype("M8[s]"), dims="time")
    found = almanac.dataset(almanac.sun_table, latitude, longitude, dates, event="civil")
    plain = almanac.sun_table(LATITUDE, LONGITUDE, DATES, event="civil")
    assert found["rise"].dims == ("site", "time")
    assert found["rise"].values.tolist() == plain.rise.tolist()
    assert found["state"].attrs["flag_meanings"].split() == list(plain.state_names)
    zones = xr.DataArray(ZONES[:, 0], dims="site")
    found = almanac.dataset(almanac.morning_table, latitude, longitude, dates, zone=zones)
    wanted = almanac.morning_table(LATITUDE, LONGITUDE, DATES, zone=ZONES)
    assert np.array_equal(found["temperature_c"], wanted.temperature_c, equal_nan=True)
    assert found["temperature_c"].attrs["units"] == "degree_Celsius"


def test_other_threads_run_meanwhile() -> None:
    done = threading.Event()

    def compute() -> None:
        almanac.sun_table(np.zeros((300, 1)), 0.0, np.arange(20_000, 21_000).astype("M8[D]"))
        done.set()

    thread = threading.Thread(target=compute)
    counted = 0
    thread.start()
    while not done.is_set():
        counted += 1
        done.wait(0)
    thread.join()
    assert counted > 10


def in_a_fork(queue: Any) -> None:
    queue.put(almanac.sun_table(LATITUDE, LONGITUDE, DATES).rise.tolist())


@pytest.mark.skipif("fork" not in multiprocessing.get_all_start_methods(), reason="no fork here")
@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")
def test_a_forked_process_has_threads_of_its_own() -> None:
    wanted = almanac.sun_table(LATITUDE, LONGITUDE, DATES).rise.tolist()
    fork = multiprocessing.get_context("fork")
    queue = fork.Queue()
    child = fork.Process(target=in_a_fork, args=(queue,))
    child.start()
    assert queue.get(timeout=60) == wanted
    child.join(60)
    assert child.exitcode == 0


def test_numpy_is_loaded_when_it_is_needed() -> None:
    code = """
import sys, apiary_almanac as almanac
assert "numpy" not in sys.modules
assert "sun_table" in dir(almanac)
sys.modules["numpy"] = None
try:
    almanac.sun_table
except ImportError as error:
    assert "apiary-almanac[arrays]" in str(error), error
else:
    raise SystemExit("no error")
try:
    almanac.moon_table
except AttributeError:
    pass
"""
    subprocess.run([sys.executable, "-c", code], check=True)


# Hostile values: an answer or an ApiaryError, never anything else.

settings.register_profile("arrays", max_examples=150, deadline=None, derandomize=True)
shapes = hnp.array_shapes(min_dims=0, max_dims=3, min_side=0, max_side=4)
numbers = shapes.flatmap(lambda shape: hnp.arrays(np.float64, shape)) | st.floats()
coordinates = shapes.flatmap(
    lambda shape: hnp.arrays(np.float64, shape, elements=st.floats(-90, 90))
)
days = shapes.flatmap(
    lambda shape: hnp.arrays(np.int64, shape, elements=st.integers(-25_567, 47_846))
).map(lambda array: array.astype("M8[D]"))
odd_dates = st.one_of(
    hnp.arrays(hnp.datetime64_dtypes(), shapes), st.dates(), st.datetimes(), st.none(), st.text()
)
odd_values = st.one_of(
    st.none(), st.booleans(), st.text(), st.binary(), st.complex_numbers(), st.lists(st.text())
)
odd_zones = st.one_of(
    st.none(), st.text(), st.sampled_from(["Pacific/Apia", "+10:00"]), st.lists(st.text()), odd_values
)
TABLES = st.sampled_from(
    [almanac.sun_table, almanac.season_table, almanac.flight_table, almanac.morning_table]
)


def survives(function: Any, *args: Any, **options: Any) -> None:
    try:
        table = function(*args, **options)
    except almanac.ApiaryError as error:
        assert error.code in CODES and error.field and str(error)
        assert pickle.loads(pickle.dumps(error)).args == error.args
    else:
        assert int(table.state.max(initial=0)) < len(table.state_names)
        assert repr(table) and table._repr_html_()


@settings(settings.get_profile("arrays"))
@given(TABLES, numbers | coordinates | odd_values, numbers | coordinates, days | odd_dates)
def test_hostile_columns(function: Any, latitude: Any, longitude: Any, dates: Any) -> None:
    survives(function, latitude, longitude, dates)


@settings(settings.get_profile("arrays"))
@given(coordinates, coordinates, days, numbers | odd_values, odd_zones, st.text() | st.none(), st.none() | st.floats() | st.text())
def test_hostile_options(
    latitude: Any, longitude: Any, dates: Any, horizon: Any, zone: Any, event: Any, altitude: Any
) -> None:
    options = {"east_horizon_deg": horizon, "zone": zone}
    survives(
        almanac.sun_table, latitude, longitude, dates, event=event, altitude_deg=altitude, **options
    )
    survives(almanac.morning_table, latitude, longitude, dates, elevation_m=horizon, **options)
    survives(almanac.season_table, latitude, longitude, dates, elevation_m=horizon)


@settings(settings.get_profile("arrays"))
@given(coordinates, coordinates, days)
def test_good_columns_are_answered(latitude: Any, longitude: Any, dates: Any) -> None:
    try:
        shape = np.broadcast_shapes(latitude.shape, longitude.shape, dates.shape)
    except ValueError:
        return
    table = almanac.sun_table(latitude, longitude, dates)
    assert table.shape == shape
    both = table.where("rises_and_sets")
    assert (np.isnat(table.rise) | both | table.where("only_rises")).all()
    assert (table.rise[both] < table.set[both]).all() or np.abs(latitude).max() > 66


def test_the_compiled_functions_refuse_what_does_not_fit() -> None:
    """They stand behind the checks of the package, but must not do harm without them either."""
    good = _arrays._Places(latitude_deg=np.zeros(2), longitude_deg=np.zeros(2))
    days = np.full(2, 20_000)
    out = (np.empty(2, "u1"), np.empty(2, "i8"), np.empty(2, "i8"))
    call = _core.sun_rows
    call(good, days, (20_000, 20_000), "sun", None, *out)
    with pytest.raises(almanac.ApiaryError):
        call(good, np.full(3, 20_000), (20_000, 20_000), "sun", None, *out)
    with pytest.raises(almanac.ApiaryError):
        call(good, days, (0, 0), "sun", None, *out)
    with pytest.raises(BufferError):
        call(good, days, (20_000, 20_000), "sun", None, out[0][:1], *out[1:])
    with pytest.raises(BufferError):
        call(good, days.astype("f8"), (20_000, 20_000), "sun", None, *out)
    with pytest.raises(AttributeError):
        call("places", days, (20_000, 20_000), "sun", None, *out)  # type: ignore[arg-type]
