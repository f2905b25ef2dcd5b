"""Tables inside xarray and dask: chunk by chunk on other processes, the same to the last bit."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr
from distributed import Client, LocalCluster

import apiary_almanac as almanac

pytestmark = pytest.mark.filterwarnings("ignore")

LATITUDE = xr.DataArray(np.linspace(-40.0, 40.0, 33), dims="latitude", name="latitude")
LONGITUDE = xr.DataArray(np.linspace(-180.0, 180.0, 41), dims="longitude", name="longitude")
DATES = xr.DataArray(
    np.arange("2026-01-01", "2027-01-01", 30, dtype="M8[D]").astype("M8[s]"), dims="time"
)
CHUNKS = {"latitude": 10, "longitude": 17, "time": 5}


@pytest.fixture(scope="module")
def client() -> Iterator[Any]:
    with (
        LocalCluster(  # type: ignore[no-untyped-call]
            n_workers=2, threads_per_worker=2, host="127.0.0.1", dashboard_address="127.0.0.1:0"
        ) as cluster,
        Client(cluster) as client,  # type: ignore[no-untyped-call]
    ):
        yield client


def same_bits(a: xr.DataArray, b: xr.DataArray) -> bool:
    return (
        a.dims == b.dims and a.dtype == b.dtype and a.values.tobytes() == b.values.tobytes()
    )


@pytest.mark.parametrize(
    ("function", "dates", "options"),
    [
        (almanac.sun_table, DATES, {"event": "civil"}),
        (almanac.sun_table, DATES, {"zone": "Australia/Sydney"}),
        (almanac.season_table, DATES[8], {"settings": almanac.SeasonSettings(chance=0.5)}),
        (almanac.morning_table, DATES[:3], {"bee": "generic_large"}),
    ],
    ids=["sun", "sun in a zone", "season", "morning"],
)
def test_a_grid_on_a_cluster(
    client: Any, function: Any, dates: xr.DataArray, options: dict[str, Any]
) -> None:
    single = almanac.dataset(function, LATITUDE, LONGITUDE, dates, **options)
    lazy = almanac.dataset(
        function,
        LATITUDE.chunk(latitude=CHUNKS["latitude"]),
        LONGITUDE.chunk(longitude=CHUNKS["longitude"]),
        dates.chunk({dim: CHUNKS["time"] for dim in dates.dims}),
        **options,
    )
    assert all(array.chunks and len(array.data.dask) > 8 for array in lazy.values())
    shared = lazy.compute()
    assert set(shared) == set(single)
    for name in single:
        assert same_bits(shared[name], single[name]), name
    assert shared["state"].attrs["flag_meanings"] == single["state"].attrs["flag_meanings"]


def test_a_kernel_of_ones_own(client: Any) -> None:
    """What the guide shows for more than `dataset` does."""

    def hours(latitude_deg: Any, longitude_deg: Any, dates: Any) -> Any:
        table = almanac.sun_table(latitude_deg, longitude_deg, dates)
        return (table.set - table.rise) / np.timedelta64(1, "h")

    def apply(*arrays: xr.DataArray) -> Any:
        return xr.apply_ufunc(hours, *arrays, dask="parallelized", output_dtypes=["f8"])

    single = apply(LATITUDE, LONGITUDE, DATES)
    shared = apply(LATITUDE.chunk(latitude=10), LONGITUDE, DATES).compute()
    assert same_bits(shared, single)
    # The longest day at 40 degrees: 15 h and a minute (from memory).
    assert 15 < float(single.max()) < 15.05


def small_grids(folder: Path) -> list[Path]:
    """Invented normals of a coarse grid as climate files have them: K and mm, one date a month, the sea NaN."""
    latitude, longitude = np.arange(-40.0, -9, 2), np.arange(112.0, 155, 3)
    months = np.arange("2020-01", "2021-01", dtype="M8[M]").astype("M8[s]")
    wave = np.cos(2 * np.pi * (np.arange(12) + 0.5) / 12)[:, None, None]
    level = (27 + 0.35 * latitude)[:, None] + 0 * longitude
    sea = (np.add.outer(latitude, longitude) % 7 < 1.5)[None]
    fields = {
        "tasmin": (np.where(sea, np.nan, level + 5 * wave - 6 + 273.15), "K"),
        "tasmax": (np.where(sea, np.nan, level + 5 * wave + 6 + 273.15), "K"),
        "pr": (np.where(sea, np.nan, 60 + 50 * wave + 0 * level), "mm"),
    }
    files = []
    for name, (values, units) in fields.items():
        grid = xr.Dataset(
            {name: (("time", "lat", "lon"), values, {"units": units})},
            coords={"time": months, "lat": latitude, "lon": longitude},
        )
        grid["time"].encoding["units"] = "days since 2020-01-01"
        files.append(folder / f"{name}.nc")
        grid.to_netcdf(files[-1], engine="h5netcdf")
    return files


def test_the_map_of_a_continent(client: Any, tmp_path: Path) -> None:
    """docs/python/continent.py on small grids: each cell is what the tables give for it alone."""
    script = Path(__file__).parents[2] / "docs" / "python" / "continent.py"
    spec = importlib.util.spec_from_file_location("continent", script)
    assert spec is not None and spec.loader is not None
    continent = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(continent)
    files = small_grids(tmp_path)
    continent.continent(*files, tmp_path / "map.nc", rows=5)
    with xr.open_dataset(tmp_path / "map.nc", engine="h5netcdf") as found:
        own = [xr.open_dataset(file, engine="h5netcdf").load() for file in files]
        minimum, maximum, rain = (next(iter(one.values())).transpose("lat", "lon", "time").values for one in own)
        table = almanac.season_table(
            own[0]["lat"].values[:, None],
            own[0]["lon"].values,
            np.datetime64("2026-09-01"),
            monthly_minimum_c=minimum - 273.15,
            monthly_maximum_c=maximum - 273.15,
            monthly_rain_mm=rain,
        )
        assert np.array_equal(found["state"].values, table.state)
        assert np.array_equal(found["opens"].values.astype("M8[D]"), table.opens, equal_nan=True)
        sea = table.where("not_enough_data")
        assert 0 < sea.sum() < sea.size and np.isnat(found["first_flight"].values[sea]).all()
        assert found["first_flight"].dims == ("lat", "lon", "date") and len(set(table.state.flat)) >= 3
        assert found["lat"].attrs["units"] == "degrees_north" and found.attrs["Conventions"] == "CF-1.11"


def test_an_error_comes_back_whole(client: Any) -> None:
    bad = LATITUDE.copy(data=np.where(LATITUDE > 39, np.nan, LATITUDE))
    lazy = almanac.dataset(almanac.sun_table, bad.chunk(latitude=10), LONGITUDE, DATES)
    with pytest.raises(almanac.ApiaryError) as caught:
        lazy.compute()
    assert caught.value.code == "out_of_range"
    assert caught.value.field.startswith("latitude_deg[")
