"""What the arrays of a dataset say of themselves: CF metadata conventions 1.11 (cfconventions.org)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from apiary_almanac._convert import ask
from apiary_almanac._tables import Table

LONG_NAMES = {
    "state": "what happened",
    "rise": "rise, UTC",
    "set": "set, UTC",
    "opens": "first date of the window that is open, or of the next",
    "closes": "last date of that window",
    "open_days": "days in a window, of the 365 from the date on",
    "date_state": "what the date itself is",
    "place": "where the place lies: land, sea, beyond the grid of temperatures",
    "wider_opens": "first date of the window of dates that are good or at risk",
    "wider_closes": "last date of that window",
    "at_risk_days": "days at risk, of the 365 from the date on",
    "early_first": "early first flight: by then the first bees are out on one morning in ten, UTC",
    "first": "usual first flight, UTC",
    "last": "usual last flight, UTC",
    "late_last": "late last flight: after it bees still fly on one evening in ten, UTC",
    "flying_hours": "hours from usual first to usual last flight",
    "work_light": "light enough to work, UTC",
    "until": "end of the window for a move, UTC",
    "first_flight": "usual first flight, UTC",
    "close_from": "on the evening before, from when the foragers are in, UTC",
    "lamp_needed": "whether closing needs a lamp",
    "temperature_c": "air temperature at work light",
    "flying_day": "whether bees can fly long enough to learn the new place",
}
MORE: dict[str, dict[str, Any]] = {
    "temperature_c": {"units": "degree_Celsius", "standard_name": "air_temperature"},
    "flying_hours": {"units": "hour"},
    "open_days": {"units": "day"},
    "at_risk_days": {"units": "day"},
}
# What xarray would choose by itself depends on the values, and NaT has no number then.
NO_MOMENT = np.int64(np.iinfo(np.int64).min)
DATES = ("opens", "closes", "wider_opens", "wider_closes")
"""Of the answers in time those without a time of day."""
COORDINATES = (
    {"standard_name": "latitude", "units": "degrees_north"},
    {"standard_name": "longitude", "units": "degrees_east"},
)


def describe(found: Any, kind: type[Table], asked: Sequence[Any]) -> None:
    """Put names, units and flags into a dataset. ``asked`` are the arguments as given, latitude and longitude
    first: coordinates keep what they say of themselves, and those two get name and unit where they say
    nothing."""
    for name, array in found.data_vars.items():
        array.attrs = {"long_name": LONG_NAMES[name], **MORE.get(name, {})}
        if array.dtype.kind == "M":
            units = "days" if name in DATES else "milliseconds"
            array.encoding = {
                "units": f"{units} since 1970-01-01",
                "dtype": "int64",
                "_FillValue": NO_MOMENT,
            }
    for name, meanings in kind.names().items():
        found[name].attrs |= {
            "flag_values": np.arange(len(meanings), dtype=np.uint8),
            "flag_meanings": " ".join(meanings),
        }
    for given in asked:
        for label, coordinate in getattr(given, "coords", {}).items():
            if label in found.coords:
                found[label].attrs = dict(coordinate.attrs)
    for given, usual in zip(asked, COORDINATES, strict=False):
        label = getattr(given, "name", None)
        if label in found.coords:
            found[label].attrs = usual | found[label].attrs | given.attrs
    engine = ask({"ask": "about"})
    found.attrs = {"Conventions": "CF-1.11", "source": f"{engine['name']} {engine['version']}"}
