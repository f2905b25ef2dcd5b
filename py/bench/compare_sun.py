"""Sunrise and sunset beside other libraries: time per pair, and how far from JPL DE421.

    pip install './py[arrays]' astral ephem pvlib skyfield skyfield-data
    python py/bench/compare_sun.py

Everything in one process and one thread of computing for each, at the same places and dates, for
the moment at which the sun's centre stands at -50' (34' of refraction and 16' of semidiameter). The
reference is Skyfield's search with DE421 and its own refinement to a millisecond; UT1 is taken for
UTC, as the engine does, by handing Skyfield a delta T with which the two are the same.
"""

from __future__ import annotations

import datetime as dt
import importlib.metadata
import math
import os
import time
import warnings
from collections.abc import Callable
from typing import Any, NamedTuple

os.environ["RAYON_NUM_THREADS"] = "1"

import astral
import astral.sun
import ephem
import numpy as np
import numpy.typing as npt
import pandas as pd
import pvlib
from skyfield import almanac as sky
from skyfield import api
from skyfield_data import get_skyfield_data_path

import apiary_almanac as almanac

ALTITUDE_DEG = -50 / 60
# The others look from the place, the engine from the middle of the Earth: the sun's parallax at
# the horizon, 8.794" (IAU 1976), makes the two the same.
GEOCENTRIC_DEG = ALTITUDE_DEG + 8.794 / 3600
LATITUDES = (-60.0, -45.0, -28.81, -10.0, 1.35, 15.0, 35.0, 50.0, 60.0)
LONGITUDES = (-157.4, -70.0, -3.0, 18.5, 80.0, 103.8, 153.28, 174.0, -120.0)
DATES = np.arange("2026-01-01", "2027-01-01", 5, dtype="M8[D]")
Times = npt.NDArray[np.datetime64]


class Answer(NamedTuple):
    """Rise and set by place and date, and the best time of a run per pair."""

    rise: Times
    set: Times
    seconds: float


def timed(compute: Callable[[], tuple[Any, Any]], pairs: int, least_s: float = 0.5) -> Answer:
    """The best of at least three runs in processor time."""
    best, spent, runs = math.inf, 0.0, 0
    while runs < 3 or (spent < least_s and runs < 50):
        start = time.process_time()
        rise, set_ = compute()
        took = time.process_time() - start
        best, spent, runs = min(best, took), spent + took, runs + 1
        if took > 20:
            break
    return Answer(to_ms(rise), to_ms(set_), best / pairs)


def to_ms(times: Any) -> Times:
    """An array of ms in UTC, whatever the library gave."""
    return np.asarray(times, dtype="M8[us]").astype("M8[ms]")


def utc(moment: dt.datetime) -> dt.datetime:
    """Without the zone, which numpy does not keep."""
    return moment.astimezone(dt.timezone.utc).replace(tzinfo=None)


def noon(longitude: float, date: np.datetime64) -> np.datetime64:
    """12:00 of mean solar time."""
    return date.astype("M8[ms]") + np.timedelta64(int((12 - longitude / 15) * 3_600_000), "ms")


def ours() -> Answer:
    latitude, longitude = np.array(LATITUDES)[:, None], np.array(LONGITUDES)[:, None]
    table = almanac.sun_table(latitude, longitude, DATES, altitude_deg=GEOCENTRIC_DEG)
    # Long enough to be timed: the same places and every day of the year, a hundred times.
    days = np.tile(np.arange("2026-01-01", "2027-01-01", dtype="M8[D]"), 100)

    def compute() -> tuple[Any, Any]:
        many = almanac.sun_table(latitude, longitude, days, altitude_deg=GEOCENTRIC_DEG)
        return many.rise[:, :1], many.set[:, :1]

    return Answer(table.rise, table.set, timed(compute, days.size * len(LATITUDES)).seconds)


def ours_jumping() -> Answer:
    """As `ours`, but every pair at another place."""
    rng = np.random.default_rng(1)
    count = 300_000
    latitude, longitude = rng.uniform(-60, 60, count), rng.uniform(-180, 180, count)
    days = np.datetime64("2026-01-01") + rng.integers(0, 365, count)

    def compute() -> tuple[Any, Any]:
        many = almanac.sun_table(latitude, longitude, days, altitude_deg=GEOCENTRIC_DEG)
        return many.rise, many.set

    return timed(compute, count)


def by_astral() -> Answer:
    """Its own sunrise and sunset, of -50'; each date that of the sun at the place."""
    zones = [dt.timezone(dt.timedelta(hours=round(longitude / 15))) for longitude in LONGITUDES]
    observers = [astral.Observer(a, o) for a, o in zip(LATITUDES, LONGITUDES, strict=True)]
    days = [date.item() for date in DATES]

    def compute() -> tuple[Any, Any]:
        rise, set_ = [], []
        for observer, zone in zip(observers, zones, strict=True):
            rise.append([utc(astral.sun.sunrise(observer, day, zone)) for day in days])
            set_.append([utc(astral.sun.sunset(observer, day, zone)) for day in days])
        return rise, set_

    return timed(compute, DATES.size * len(LATITUDES))


def by_ephem() -> Answer:
    """Centre at -50' without air, so that nothing is refracted twice."""

    def compute() -> tuple[Any, Any]:
        rise, set_ = [], []
        for latitude, longitude in zip(LATITUDES, LONGITUDES, strict=True):
            place, sun = ephem.Observer(), ephem.Sun()
            place.lat, place.lon = math.radians(latitude), math.radians(longitude)
            place.pressure, place.horizon = 0, math.radians(ALTITUDE_DEG)
            for date in DATES:
                place.date = noon(longitude, date).item()
                rise.append(place.previous_rising(sun, use_center=True).datetime())
                set_.append(place.next_setting(sun, use_center=True).datetime())
        shape = (len(LATITUDES), DATES.size)
        return np.reshape(rise, shape), np.reshape(set_, shape)

    return timed(compute, DATES.size * len(LATITUDES))


def by_pvlib() -> Answer:
    """Its numpy form of NREL's SPA, all dates of a place at once; -50' is its own limit."""
    days = [
        pd.DatetimeIndex(DATES).tz_localize(f"Etc/GMT{-round(o / 15):+d}") for o in LONGITUDES
    ]

    def compute() -> tuple[Any, Any]:
        rise, set_ = [], []
        for latitude, longitude, dates in zip(LATITUDES, LONGITUDES, days, strict=True):
            found = pvlib.solarposition.sun_rise_set_transit_spa(dates, latitude, longitude)
            rise.append(found["sunrise"].dt.tz_convert("UTC").dt.tz_localize(None).to_numpy())
            set_.append(found["sunset"].dt.tz_convert("UTC").dt.tz_localize(None).to_numpy())
        return np.stack(rise), np.stack(set_)

    return timed(compute, DATES.size * len(LATITUDES))


def by_skyfield() -> Answer:
    """DE421: its vectorised search for risings and settings."""
    folder = api.Loader(get_skyfield_data_path(), verbose=False)
    bodies = folder("de421.bsp")
    plain = folder.timescale(builtin=True)
    # Where UT1 is UTC, delta T is TT less UTC.
    middle = plain.utc(2026, 7, 1)
    times = api.load.timescale(delta_t=float((middle.tt - plain_utc_jd(middle)) * 86_400))

    def compute() -> tuple[Any, Any]:
        rise, set_ = [], []
        for latitude, longitude in zip(LATITUDES, LONGITUDES, strict=True):
            place = bodies["earth"] + api.wgs84.latlon(latitude, longitude)
            noons = [noon(longitude, date).item() for date in DATES]
            first = times.from_datetime(aware(noons[0] - dt.timedelta(hours=13)))
            last = times.from_datetime(aware(noons[-1] + dt.timedelta(hours=13)))
            for find, into, side in (
                (sky.find_risings, rise, -1),
                (sky.find_settings, set_, 1),
            ):
                at, crossed = find(place, bodies["sun"], first, last, ALTITUDE_DEG)
                found = np.array([utc(moment) for moment in at[crossed].utc_datetime()], "M8[us]")
                wanted = np.array(noons, "M8[us]") + side * np.timedelta64(6, "h")
                nearest = np.abs(found[None, :] - wanted[:, None]).argmin(axis=1)
                into.append(found[nearest])
        return np.stack(rise), np.stack(set_)

    # It searches every day of the year, so that is what its time is for.
    days = int((DATES[-1] - DATES[0]).astype(int)) + 1
    return timed(compute, days * len(LATITUDES))


def plain_utc_jd(moment: Any) -> float:
    """The Julian date of the UTC reading of a moment."""
    reading: dt.datetime = moment.utc_datetime()
    epoch = dt.datetime(2000, 1, 1, 12, tzinfo=dt.timezone.utc)
    return 2_451_545.0 + (reading - epoch) / dt.timedelta(days=1)


def aware(moment: dt.datetime) -> dt.datetime:
    return moment.replace(tzinfo=dt.timezone.utc)


def main() -> None:
    warnings.simplefilter("ignore")
    reference = by_skyfield()
    answers = {
        "skyfield": reference,
        "astral": by_astral(),
        "ephem": by_ephem(),
        "pvlib": by_pvlib(),
        "apiary-almanac": ours(),
    }
    own = answers["apiary-almanac"].seconds
    pairs = DATES.size * len(LATITUDES)
    print(f"{pairs} pairs at {len(LATITUDES)} places within 60 degrees of the equator, 2026\n")
    print("| library | time per pair | times ours | rms error | largest error |")
    print("|---|---|---|---|---|")
    for name, answer in answers.items():
        off = [
            (mine - theirs) / np.timedelta64(1, "s")
            for mine, theirs in ((answer.rise, reference.rise), (answer.set, reference.set))
        ]
        error = np.abs(np.concatenate([one.ravel() for one in off]))
        label = f"{name} {importlib.metadata.version(name)}"
        shown = (
            "| reference | |"
            if name == "skyfield"
            else f"| {np.sqrt((error**2).mean()):.3f} s | {error.max():.3f} s |"
        )
        print(f"| {label} | {answer.seconds * 1e6:.3f} µs | {answer.seconds / own:.0f} {shown}")
    jumping = ours_jumping().seconds
    print(f"\nEvery pair at another place: {jumping * 1e9:.0f} ns; millions of pairs a second and")
    print(f"core: {1e-6 / own:.1f} by place, {1e-6 / jumping:.1f} jumping.")


if __name__ == "__main__":
    main()
