"""A map of a continent from gridded climate files, computed over a cluster of dask.

    python docs/python/continent.py MINIMUM.nc MAXIMUM.nc RAIN.nc OUT.nc

The files are monthly normals as weather services give them: a variable of two dimensions of place and twelve
months (``month`` 1 to 12, or ``time`` with one date a month), temperatures in K or degC, rain as totals of
the months in mm or kg m-2. Whatever its name is, each file holds one variable that has such dimensions.
The land is where the files have numbers; the sea comes out as ``not_enough_data``.

OUT.nc holds, for each cell, what of the year from 1 September on is good for dividing the bees, and the usual
first flight of the first day of each month, with the names and units of the CF conventions.
"""

from __future__ import annotations

import argparse
import datetime as dt
from pathlib import Path
from typing import Any

import xarray as xr
from dask.distributed import Client, LocalCluster

import apiary_almanac as almanac

YEAR = 2026


def monthly(path: Path, rows: int) -> Any:
    """The one variable of a file that has months and places, with the dimension ``month``, in chunks of rows."""
    with_places = [
        array
        for array in xr.open_dataset(path, chunks={}, engine="h5netcdf").data_vars.values()
        if {"month", "time"} & set(array.dims) and len(array.dims) == 3
    ]
    (array,) = with_places
    if "time" in array.dims:
        # One date a month: their months are what counts.
        array = array.assign_coords(time=array["time"].dt.month).rename(time="month").sortby("month")
    short = {"latitude": "lat", "longitude": "lon"}
    array = array.rename({name: new for name, new in short.items() if name in array.dims})
    return array.chunk(lat=rows)


def continent(minimum: Path, maximum: Path, rain: Path, out: Path, *, rows: int = 50) -> None:
    """Write the map; a cluster works on ``rows`` rows of the grid at a time."""
    own = {
        "monthly_minimum_c": monthly(minimum, rows),
        "monthly_maximum_c": monthly(maximum, rows),
        "monthly_rain_mm": monthly(rain, rows),
    }
    grid = own["monthly_minimum_c"]
    latitude, longitude = grid["lat"].chunk(lat=rows), grid["lon"]
    season = almanac.dataset(almanac.season_table, latitude, longitude, dt.date(YEAR, 9, 1), **own)
    firsts = [dt.datetime(YEAR, month, 1) for month in range(1, 13)]
    dates = xr.DataArray(firsts, dims="date", coords={"date": firsts}).astype("M8[s]")
    flight = almanac.dataset(almanac.flight_table, latitude, longitude, dates, **own)
    found = season[["state", "opens", "closes", "open_days", "at_risk_days"]]
    found = found.assign(first_flight=flight["first"])
    # Nothing has been computed so far. The cluster computes, and this process writes: HDF5 locks a file against
    # all others.
    found.compute().to_netcdf(out, engine="h5netcdf")


def main() -> None:
    """Read the arguments, start a cluster on this machine."""
    parser = argparse.ArgumentParser(description="A map of a continent from gridded climate files.")
    for name in ("minimum", "maximum", "rain", "out"):
        parser.add_argument(name, type=Path)
    given = parser.parse_args()
    # Each process is one thread, and the engine uses one core in it: they do not compete.
    with LocalCluster(threads_per_worker=1, env={"RAYON_NUM_THREADS": "1"}) as cluster, Client(cluster):
        continent(given.minimum, given.maximum, given.rain, given.out)


if __name__ == "__main__":
    main()
