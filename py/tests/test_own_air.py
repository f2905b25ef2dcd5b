"""Tables with temperatures of one's own: the same answers as one at a time, by months and by days. The numbers are
invented; the units of gridded files are those of CF 1.11 (3.1)."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import apiary_almanac as almanac

LATITUDE = np.array([-28.81, 1.35, -25.4, 19.4])
LONGITUDE = np.array([153.28, 103.8, -49.3, -99.1])
ELEVATION = np.array([12.0, 15.0, 930.0, 2240.0])
DATES = np.array(["2026-01-20", "2026-07-01", "2026-10-02"], dtype="M8[D]")
MONTHS = np.arange(12)
FIRST, LAST = np.datetime64("2019-01-01"), np.datetime64("2026-08-01")
DAYS = np.arange(FIRST, LAST)


def years(at: Any) -> tuple[Any, Any]:
    """Mean minimum and maximum of four places at a part of the year, 0 to 1: the coldest north in January."""
    south = np.where(LATITUDE < 0, 0.0, 0.5)[:, None]
    wave = np.cos(2 * np.pi * (at - south))
    level = np.array([17.0, 24.0, 15.0, 12.0])[:, None]
    return level - 4 + 4 * wave, level + 6 + 4 * wave


MINIMUM, MAXIMUM = years((MONTHS + 0.5) / 12)
RAIN = 60 + 50 * np.cos(2 * np.pi * (MONTHS + 0.5) / 12) * np.array([[1.0], [0.2], [1.0], [-1.0]])
MONTHLY: dict[str, Any] = {"monthly_minimum_c": MINIMUM, "monthly_maximum_c": MAXIMUM, "monthly_rain_mm": RAIN}


def daily() -> dict[str, Any]:
    """Seven years and more of days, with gaps."""
    rng = np.random.default_rng(16)
    low, high = years((DAYS - DAYS.astype("M8[Y]")).astype(float) / 365.25)
    noise = rng.normal(0, 1.5, low.shape)
    rain = np.where(rng.random(low.shape) < 0.3, rng.gamma(1.0, 9.0, low.shape), 0.0)
    for array in (low, high, rain):
        array[rng.random(low.shape) < 0.02] = np.nan
    return {
        "daily_minimum_c": low + noise,
        "daily_maximum_c": high + noise,
        "daily_rain_mm": rain,
        "daily_dates": DAYS,
    }


DAILY = daily()


def site(place: int) -> almanac.Site:
    return almanac.Site(
        latitude_deg=LATITUDE[place],
        longitude_deg=LONGITUDE[place],
        elevation_m=ELEVATION[place],
        zone=f"Etc/GMT{-round(LONGITUDE[place] / 15):+d}",
    )


def climate(kind: str, place: int) -> almanac.ClimateInput:
    """The same numbers as one place's request has them."""
    if kind == "monthly":
        twelve = {name.removeprefix("monthly_"): tuple(array[place]) for name, array in MONTHLY.items()}
        return almanac.ClimateInput(normals=almanac.MonthlyNormals(**twelve, about="invented"))
    columns = [DAILY[f"daily_{name}"][place] for name in ("minimum_c", "maximum_c", "rain_mm")]
    lines = [
        f"{day}," + ",".join("" if np.isnan(value) else repr(float(value)) for value in values)
        for day, *values in zip(DAYS, *columns, strict=True)
    ]
    text = "\n".join(["date,minimum_c,maximum_c,rain_mm", *lines])
    return almanac.ClimateInput(records_csv=almanac.TextFile(file="days.csv", text=text))


def own(kind: str) -> dict[str, Any]:
    """The arrays with an axis for the dates that are asked about."""
    arrays = MONTHLY if kind == "monthly" else DAILY
    return {name: array if name == "daily_dates" else array[:, None, :] for name, array in arrays.items()}


def asked(kind: str) -> dict[str, Any]:
    places = {"latitude_deg": LATITUDE[:, None], "longitude_deg": LONGITUDE[:, None], "dates": DATES}
    return {**places, "elevation_m": ELEVATION[:, None], **own(kind)}


def unix_ms(moment: dt.datetime | None) -> np.datetime64:
    if moment is None:
        return np.datetime64("NaT", "ms")
    return np.datetime64(moment.astimezone(dt.timezone.utc).replace(tzinfo=None), "ms")


def same(moment: dt.datetime | None, value: Any) -> bool:
    wanted = unix_ms(moment)
    return bool(np.isnat(wanted) and np.isnat(value)) or bool(wanted == value)


KINDS = pytest.mark.parametrize("kind", ["monthly", "daily"])


@KINDS
def test_seasons_are_those_of_single_calls(kind: str) -> None:
    settings = almanac.SeasonSettings(chance=0.6, bar_wettest_months=2)
    table = almanac.season_table(**asked(kind), settings=settings)
    plain = almanac.season_table(
        LATITUDE[:, None], LONGITUDE[:, None], DATES, elevation_m=ELEVATION[:, None], settings=settings
    )
    assert table != plain
    for place in range(4):
        for column, date in enumerate(DATES):
            first = date.item()
            one = almanac.season(
                site(place), first, first + dt.timedelta(364), climate=climate(kind, place), settings=settings
            )
            at = (place, column)
            if isinstance(one.outcome, almanac.SeasonOutcomeWindows):
                window = one.outcome.windows[0]
                assert (window.opens, window.closes) == (table.opens[at], table.closes[at])
            else:
                assert table.state_names[table.state[at]] == one.outcome.kind
            risk = sum(stretch.days for stretch in one.states if stretch.state == "at_risk")
            assert table.at_risk_days[at] == risk
    assert len(set(table.state.flat)) >= 2


@KINDS
def test_flight_is_that_of_single_calls(kind: str) -> None:
    table = almanac.flight_table(**asked(kind))
    for place in range(4):
        for column, date in enumerate(DATES):
            (one,) = almanac.flight(site(place), date.item(), date.item(), climate=climate(kind, place))
            at = (place, column)
            assert table.state_names[table.state[at]] == one.flight.kind
            assert table.flying_day[at] == one.flying_day
            assert table.flying_hours[at] == one.flying_hours
            for name in ("early_first", "first", "last", "late_last"):
                edge = getattr(one.flight, name, None)
                assert same(None if edge is None else edge.at, getattr(table, name)[at]), (name, at)


@KINDS
def test_mornings_are_those_of_single_calls(kind: str) -> None:
    table = almanac.morning_table(**asked(kind))
    for place in range(4):
        for column, date in enumerate(DATES):
            (one,) = almanac.mornings(site(place), date.item(), 1, climate=climate(kind, place))
            morning, at = one.morning, (place, column)
            assert same(morning.work_light, table.work_light[at])
            first = morning.first_flight
            assert same(None if first is None else first.at, table.first_flight[at])
            assert table.temperature_c[at] == morning.temperature_c
            assert table.flying_day[at] == morning.flying_day
            assert table.where("open")[at] == isinstance(morning.window, almanac.MoveWindowOpen)


def test_months_broadcast_as_places_do() -> None:
    """One set of months for all places, and blocks that hold only some of many."""
    twelve: dict[str, Any] = {name: array[0] for name, array in MONTHLY.items()}
    one = almanac.season_table(LATITUDE, LONGITUDE, DATES[1], **twelve)
    tiled: dict[str, Any] = {name: np.tile(array, (4, 1)) for name, array in twelve.items()}
    each = almanac.season_table(LATITUDE, LONGITUDE, DATES[1], **tiled)
    assert one == each and one.shape == (4,)
    with_rain: dict[str, Any] = {**twelve, "monthly_rain_mm": RAIN}
    mixed = almanac.season_table(LATITUDE, LONGITUDE, DATES[1], **with_rain)
    assert mixed.shape == (4,)


def test_blocks_with_own_air_fit_together(monkeypatch: pytest.MonkeyPatch) -> None:
    from apiary_almanac import _arrays

    whole = almanac.flight_table(**asked("monthly"))
    for rows in (1, 5):
        monkeypatch.setattr(_arrays, "_FLIGHT_BLOCK", rows)
        assert almanac.flight_table(**asked("monthly")) == whole


def test_a_place_without_any_temperature_has_no_answer() -> None:
    holed = {name: array.copy() for name, array in MONTHLY.items()}
    for array in holed.values():
        array[1] = np.nan
    for function in (almanac.season_table, almanac.flight_table, almanac.morning_table):
        table: Any = function(LATITUDE, LONGITUDE, DATES[1], **holed)
        assert table.where("not_enough_data").tolist() == [False, True, False, False]
        assert table.place.tolist() == [0, 0, 0, 0]
    seasons = almanac.season_table(LATITUDE, LONGITUDE, DATES[1], **holed)
    assert np.isnat(seasons.opens[1]) and seasons.open_days[1] == 0


def changed(name: str, place: tuple[int, ...], value: float) -> dict[str, Any]:
    kind = MONTHLY if name.startswith("monthly") else DAILY
    array = kind[name].copy()
    array[place] = value
    return {**kind, name: array}


REFUSED: list[tuple[dict[str, Any], str, str]] = [
    (changed("monthly_minimum_c", (2, 3), 290.0), "out_of_range", "monthly_minimum_c[2, 3]"),
    (changed("monthly_maximum_c", (2, 3), np.nan), "out_of_range", "monthly_maximum_c[2, 3]"),
    (changed("monthly_minimum_c", (1, 0), 45.0), "inconsistent", "monthly_minimum_c[1, 0]"),
    (changed("monthly_rain_mm", (0, 11), -1.0), "out_of_range", "monthly_rain_mm[0, 11]"),
    (changed("monthly_rain_mm", (0, 11), np.nan), "out_of_range", "monthly_rain_mm[0, 11]"),
    (changed("daily_maximum_c", (3, 700), np.inf), "out_of_range", "daily_maximum_c[3, 700]"),
    (changed("daily_rain_mm", (3, 700), 2001.0), "out_of_range", "daily_rain_mm[3, 700]"),
    ({**DAILY, "daily_dates": DAYS[::-1]}, "inconsistent", "daily_dates[1]"),
    ({**DAILY, "daily_dates": DAYS[1:]}, "inconsistent", "daily_minimum_c"),
    ({**DAILY, "daily_dates": DAYS[0]}, "inconsistent", "daily_dates"),
    ({**DAILY, "daily_dates": "yesterday"}, "unreadable", "daily_dates"),
    ({**MONTHLY, "monthly_minimum_c": MINIMUM[:, :11]}, "inconsistent", "monthly_minimum_c"),
    ({**MONTHLY, "monthly_minimum_c": 9.0}, "inconsistent", "monthly_minimum_c"),
    ({**MONTHLY, "monthly_minimum_c": MINIMUM[:3]}, "inconsistent", "monthly_minimum_c, monthly_maximum_c, monthly_rain_mm"),
    ({**MONTHLY, "monthly_minimum_c": "cold"}, "unreadable", "monthly_minimum_c"),
    ({"monthly_minimum_c": MINIMUM}, "inconsistent", "monthly_maximum_c"),
    ({"monthly_rain_mm": RAIN}, "inconsistent", "monthly_minimum_c"),
    ({**DAILY, **MONTHLY}, "inconsistent", ", ".join({**DAILY, **MONTHLY})),
    ({name: array[:3] for name, array in MONTHLY.items()}, "inconsistent", "latitude_deg, longitude_deg, dates, monthly_minimum_c"),
    ({"daily_minimum_c": np.empty((4, 0)), "daily_maximum_c": np.empty((4, 0)), "daily_dates": DAYS[:0]}, "inconsistent", "daily_dates"),
]  # fmt: skip


@pytest.mark.parametrize(("given", "code", "field"), REFUSED, ids=[f"{row[2]}-{row[1]}" for row in REFUSED])
def test_refusals_name_the_array_and_the_place(given: dict[str, Any], code: str, field: str) -> None:
    for function in (almanac.season_table, almanac.flight_table, almanac.morning_table):
        with pytest.raises(almanac.ApiaryError) as caught:
            function(LATITUDE, LONGITUDE, DATES[1], **given)
        assert (caught.value.code, caught.value.field) == (code, field)


def test_other_names_are_no_arguments() -> None:
    with pytest.raises(TypeError, match="monthly_minimum_c"):
        almanac.season_table(0.0, 0.0, DATES[0], weekly_minimum_c=[1.0])  # type: ignore[call-arg]


# Labelled arrays.


def labelled(**attributes: str) -> dict[str, Any]:
    months = {"month": MONTHS + 1}
    return {
        name: xr.DataArray(array, dims=("site", "month"), coords=months, attrs=attributes if "_c" in name else {})
        for name, array in MONTHLY.items()
    }


LABELLED_LATITUDE = xr.DataArray(LATITUDE, dims="site", name="latitude")
LABELLED_LONGITUDE = xr.DataArray(LONGITUDE, dims="site", name="longitude")
ASKED = xr.DataArray(DATES.astype("M8[s]"), dims="time", coords={"time": DATES.astype("M8[s]")})


@pytest.mark.parametrize("function", [almanac.season_table, almanac.flight_table, almanac.morning_table])
@pytest.mark.parametrize("file", ["map.nc", "map.zarr"])
@pytest.mark.parametrize("kind", ["monthly", "daily"])
def test_datasets_with_own_air_on_disk_and_back(tmp_path: Path, function: Any, file: str, kind: str) -> None:
    if kind == "monthly":
        given = labelled()
        given = {name: array.transpose("month", "site") for name, array in given.items()}
    else:
        # Their dimension has the name of another one that is asked about.
        days = xr.DataArray(DAYS.astype("M8[s]"), dims="time", coords={"time": DAYS.astype("M8[s]")})
        given = {
            name: days if name == "daily_dates" else xr.DataArray(array.T, dims=("time", "site"), coords={"time": days})
            for name, array in DAILY.items()
        }
    found = almanac.dataset(function, LABELLED_LATITUDE, LABELLED_LONGITUDE, ASKED, **given)
    assert found["state"].dims == ("site", "time") and "month" not in found.dims
    table = function(LATITUDE[:, None], LONGITUDE[:, None], DATES, **own(kind))
    path = tmp_path / file
    if file == "map.nc":
        found.to_netcdf(path, engine="h5netcdf")
        again = xr.open_dataset(path, engine="h5netcdf")
    else:
        found.to_zarr(path, zarr_format=2)
        again = xr.open_zarr(path)
    with again:
        for name in table.result_names():
            values = again[name].values
            wanted = getattr(table, name)
            np.testing.assert_array_equal(values.astype(wanted.dtype), wanted, err_msg=name)
        assert again.attrs["Conventions"] == "CF-1.11"
        assert again["state"].attrs["flag_meanings"].split() == list(table.state_names)


def test_units_of_the_files_are_honoured() -> None:
    plain = almanac.dataset(almanac.season_table, LABELLED_LATITUDE, LABELLED_LONGITUDE, ASKED, **labelled())
    kelvin = {
        name: (array + 273.15).assign_attrs(units="K") if name.endswith("_c") else array.assign_attrs(units="kg m-2")
        for name, array in labelled().items()
    }
    again = almanac.dataset(almanac.season_table, LABELLED_LATITUDE, LABELLED_LONGITUDE, ASKED, **kelvin)
    # 273.15 is not exact in binary: dates may not move by more than a day for it.
    assert abs((plain["opens"] - again["opens"]).values.astype("m8[D]").astype(float)[~np.isnat(plain["opens"])]).max() <= 1
    for name, units in (("monthly_minimum_c", "degF"), ("monthly_rain_mm", "mm day-1")):
        wrong = labelled()
        wrong[name] = wrong[name].assign_attrs(units=units)
        with pytest.raises(almanac.ApiaryError, match=units) as caught:
            almanac.dataset(almanac.season_table, LABELLED_LATITUDE, LABELLED_LONGITUDE, ASKED, **wrong)
        assert (caught.value.code, caught.value.field) == ("unreadable", name)


def test_labelled_months_must_be_months() -> None:
    for wrong, words in (
        (labelled()["monthly_minimum_c"].rename(month="band"), "month"),
        (labelled()["monthly_minimum_c"].isel(month=[11, *range(11)]), "1 to 12 in order"),
    ):
        given = {**labelled(), "monthly_minimum_c": wrong}
        with pytest.raises(almanac.ApiaryError, match=words) as caught:
            almanac.dataset(almanac.season_table, LABELLED_LATITUDE, LABELLED_LONGITUDE, ASKED, **given)
        assert (caught.value.code, caught.value.field) == ("inconsistent", "monthly_minimum_c")
