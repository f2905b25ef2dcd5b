"""Datasets on disk and back. Written by xarray with h5netcdf and zarr; the metadata are held to the CF conventions
1.11 (3.1 units, 3.5 flags, 4.1 and 4.2 latitude and longitude, 4.4 time)."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
import xarray as xr

import apiary_almanac as almanac
from apiary_almanac._arrays import _KINDS
from apiary_almanac._cf import LONG_NAMES

LATITUDE = xr.DataArray([-28.81, 1.35, 69.65], dims="latitude", name="latitude")
LONGITUDE = xr.DataArray([153.28, 103.8], dims="longitude", name="longitude")
GRID = xr.Dataset(coords={"latitude": LATITUDE.values, "longitude": LONGITUDE.values})
DATES = xr.DataArray(pd.date_range("2026-06-20", periods=2, unit="s"), dims="time", name="time")
FUNCTIONS: Any = (almanac.sun_table, almanac.season_table, almanac.flight_table, almanac.morning_table)


def made(function: Any) -> Any:
    grid = GRID.assign_coords(time=DATES.values)
    return almanac.dataset(function, grid["latitude"], grid["longitude"], grid["time"])


@pytest.mark.parametrize("function", FUNCTIONS)
@pytest.mark.parametrize("file", ["map.nc", "map.zarr"])
def test_on_disk_and_back(tmp_path: Path, function: Any, file: str) -> None:
    found = made(function)
    assert {array.dtype.kind for array in found.data_vars.values()} >= {"u", "M"}
    path = tmp_path / file
    if file == "map.nc":
        found.to_netcdf(path, engine="h5netcdf")
        again = xr.open_dataset(path, engine="h5netcdf")
    else:
        found.to_zarr(path, zarr_format=2)
        again = xr.open_zarr(path)
    with again:
        for name, array in found.data_vars.items():
            loaded = again[name].load()
            assert loaded.dims == array.dims
            # Times may come back in another unit; NaT stays NaT.
            np.testing.assert_array_equal(loaded.values.astype(array.dtype), array.values, err_msg=str(name))
            kept = {key: value for key, value in loaded.attrs.items() if key not in ("units", "_FillValue")}
            wanted = {key: value for key, value in array.attrs.items() if key != "units"}
            assert kept.keys() == wanted.keys()
            assert loaded.attrs.get("units") == array.attrs.get("units"), name
        assert again.attrs == found.attrs
        assert again["latitude"].attrs["units"] == "degrees_north"


@pytest.mark.parametrize("function", FUNCTIONS)
def test_what_the_arrays_say_of_themselves(function: Any) -> None:
    found = made(function)
    assert found.attrs["Conventions"] == "CF-1.11"
    assert set(found.data_vars) <= set(LONG_NAMES)
    for name, array in found.data_vars.items():
        assert array.attrs["long_name"]
        units = array.attrs.get("units")
        assert units in (None, "degree_Celsius", "day", "hour"), name
        if "flag_values" in array.attrs:
            assert array.attrs["flag_values"].dtype == array.dtype
            assert len(array.attrs["flag_meanings"].split()) == len(array.attrs["flag_values"])
    assert (found["latitude"].attrs["standard_name"], found["longitude"].attrs["units"]) == ("latitude", "degrees_east")


def test_every_column_has_a_long_name() -> None:
    assert {name for kind in _KINDS.values() for name in kind.result_names()} == set(LONG_NAMES)


def test_names_of_ones_own_stay() -> None:
    latitude = GRID["latitude"].assign_attrs(units="degree_north", comment="of the club")
    found = almanac.dataset(almanac.sun_table, latitude, GRID["longitude"], dt.date(2026, 6, 21))
    assert found["latitude"].attrs == {
        "standard_name": "latitude",
        "units": "degree_north",
        "comment": "of the club",
    }
    assert "comment" not in found["rise"].attrs


def test_where_nothing_happens_at_all(tmp_path: Path) -> None:
    """Arrays of NaT alone: at 69.65° N in June the sun does not set."""
    day = dt.date(2026, 6, 21)
    found = almanac.dataset(almanac.sun_table, GRID["latitude"][2:], GRID["longitude"], day)
    found.to_netcdf(tmp_path / "m.nc", engine="h5netcdf")
    with xr.open_dataset(tmp_path / "m.nc", engine="h5netcdf") as again:
        assert np.isnat(again["rise"].values).all() and again["rise"].dtype.kind == "M"


def test_frames_have_moments_in_utc() -> None:
    table = almanac.morning_table([-28.81, 69.65], [153.28, 18.96], dt.date(2026, 6, 21), elevation_m=12)
    frame = table.to_frame()
    assert str(frame["work_light"].dt.tz) == "UTC"
    light = frame["work_light"].dt.tz_convert("Australia/Sydney")[0]
    (one,) = almanac.mornings(
        almanac.Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney"),
        dt.date(2026, 6, 21),
        1,
    )
    assert one.morning.work_light is not None
    assert abs(light.to_pydatetime() - one.morning.work_light) < dt.timedelta(milliseconds=1)
    assert frame["work_light"].isna()[1] and frame["date"].dt.tz is None
    seasons = almanac.season_table(-28.81, 153.28, dt.date(2026, 6, 21), elevation_m=12).to_frame()
    assert seasons["opens"].dt.tz is None
    assert set(seasons.select_dtypes("category")) == {"state", "place", "date_state"}
