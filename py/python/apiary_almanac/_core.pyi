from typing import Protocol

from typing_extensions import Buffer

__all__ = ["ask", "check_arrays", "check_zone", "morning_rows", "season_rows", "sun_rows"]

class _Places(Protocol):
    """Columns of numbers; ``zones`` by name, and ``zone_index`` where there are several."""

    @property
    def latitude_deg(self) -> Buffer: ...
    @property
    def longitude_deg(self) -> Buffer: ...
    @property
    def elevation_m(self) -> Buffer: ...
    @property
    def east_horizon_deg(self) -> Buffer: ...
    @property
    def west_horizon_deg(self) -> Buffer: ...
    @property
    def zone_index(self) -> Buffer: ...
    @property
    def zones(self) -> tuple[str, ...]: ...

def ask(request: str, /) -> str:
    """Answer a request: JSON text in, JSON text out."""

def check_arrays(
    places: _Places, days: Buffer, shapes: dict[str, tuple[int, ...]], /
) -> None:
    """Refuse the first value outside its range, with its place in an array of the shape it came in."""

def check_zone(zone: str, /) -> None:
    """Refuse a name that is not an IANA time zone."""

def sun_rows(
    places: _Places,
    days: Buffer,
    span: tuple[int, int],
    event: str,
    altitude_deg: float | None,
    state: Buffer,
    rise: Buffer,
    set: Buffer,
    /,
) -> None:
    """Fill ``state``, ``rise`` and ``set`` (ms since 1970) of the rows of a block."""

def season_rows(
    places: _Places,
    days: Buffer,
    options: str,
    state: Buffer,
    opens: Buffer,
    closes: Buffer,
    open_days: Buffer,
    on_grid: Buffer,
    /,
) -> None:
    """Fill the columns of seasons of a block; dates are days since 1970."""

def morning_rows(
    places: _Places,
    days: Buffer,
    options: str,
    state: Buffer,
    work_light: Buffer,
    until: Buffer,
    first_flight: Buffer,
    close_from: Buffer,
    lamp_needed: Buffer,
    temperature_c: Buffer,
    flying_day: Buffer,
    /,
) -> None:
    """Fill the columns of mornings of a block; moments are ms since 1970."""
