"""Forecasts of many places: each hive takes the nearest."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from apiary_almanac.club import cells
from apiary_almanac.club.cells import NotUnderstood
from apiary_almanac.club.columns import read_header
from apiary_almanac.club.coordinates import angle
from apiary_almanac.club.distance import apart_km
from apiary_almanac.club.members import Member
from apiary_almanac.club.opening import Rows, content_of, read_separated
from apiary_almanac.club.problems import Refused


@dataclass(frozen=True, kw_only=True)
class Forecast:
    """Of one place, as a table that the engine reads."""

    file: str
    latitude_deg: float
    longitude_deg: float
    text: str


def read_forecasts(path: Path) -> list[Forecast]:
    """Forecast tables with two more columns, latitude and longitude, from one file or all .csv files of a folder.

    Raises Refused for what cannot be read.
    """
    if path.is_dir():
        files = sorted(path.glob("*.csv"))
        if not files:
            raise Refused(f"{path}: there is no .csv file in it")
        return [each for file in files for each in _of_file(file)]
    return _of_file(path)


def _of_file(path: Path) -> list[Forecast]:
    for rows in read_separated(path, content_of(path)):
        columns = read_header(rows[0], 0).columns if rows else {}
        if "latitude" in columns and "longitude" in columns:
            return _of_rows(path, rows, columns["latitude"].at, columns["longitude"].at)
    raise Refused(
        f"{path}: the first row needs the columns Latitude and Longitude beside those of a forecast"
    )


def _of_rows(path: Path, rows: Rows, latitude: int, longitude: int) -> list[Forecast]:
    places: dict[tuple[float, float], list[list[str]]] = {}
    for number, row in enumerate(rows[1:], start=2):
        if not any(map(cells.text, row)):
            continue
        try:
            place = angle(row[latitude], "NS"), angle(row[longitude], "EW")
        except (NotUnderstood, IndexError) as problem:
            raise Refused(f"{path}, line {number}: latitude and longitude: {problem}") from None
        places.setdefault(place, []).append(_without(row, latitude, longitude))
    header = _without(rows[0], latitude, longitude)
    found = []
    for (north, east), days in places.items():
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows([header, *days])
        found.append(
            Forecast(file=path.name, latitude_deg=north, longitude_deg=east, text=text.getvalue())
        )
    return found


def _without(row: Sequence[object], *columns: int) -> list[str]:
    return [cells.text(cell) for at, cell in enumerate(row) if at not in columns]


def with_forecast(member: Member, forecasts: Sequence[Forecast], within_km: float) -> Member:
    """The member with the nearest forecast, where it has none of its own and one is near enough. Its
    remarks say which it is and how far off."""
    if "forecast_csv" in member.climate or not forecasts:
        return member
    here = member.site["latitude_deg"], member.site["longitude_deg"]
    far, nearest = min(
        ((apart_km(here, (one.latitude_deg, one.longitude_deg)), one) for one in forecasts),
        key=lambda found: found[0],
    )
    if far > within_km:
        return member
    place = f"{nearest.latitude_deg:g}, {nearest.longitude_deg:g}"
    name = f"{nearest.file}, of {place}, {far:.0f} km away"
    return replace(
        member,
        climate={**member.climate, "forecast_csv": {"file": name, "text": nearest.text}},
        remarks=(*member.remarks, f"Forecast: {name}."),
    )
