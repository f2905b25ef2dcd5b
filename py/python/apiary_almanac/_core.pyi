from typing import Any, Protocol, TypeAlias

__all__ = [
    "ask",
    "check_arrays",
    "check_zone",
    "command",
    "flight_rows",
    "morning_rows",
    "season_rows",
    "sun_rows",
]

# Whatever has the buffer protocol; before Python 3.12 there is no type of it.
_Buffer: TypeAlias = Any

class _Places(Protocol):
    """Columns of numbers; ``zones`` by name, and ``zone_index`` where there are several; own air by places,
    ``air_dates`` None for months, ``air_index`` empty where there is none."""

    @property
    def latitude_deg(self) -> _Buffer: ...
    @property
    def longitude_deg(self) -> _Buffer: ...
    @property
    def elevation_m(self) -> _Buffer: ...
    @property
    def east_horizon_deg(self) -> _Buffer: ...
    @property
    def west_horizon_deg(self) -> _Buffer: ...
    @property
    def zone_index(self) -> _Buffer: ...
    @property
    def zones(self) -> tuple[str, ...]: ...
    @property
    def air_minimum_c(self) -> _Buffer: ...
    @property
    def air_maximum_c(self) -> _Buffer: ...
    @property
    def air_rain_mm(self) -> _Buffer: ...
    @property
    def air_dates(self) -> _Buffer | None: ...
    @property
    def air_index(self) -> _Buffer: ...

def ask(request: str, /) -> str:
    """Answer a request: JSON text in, JSON text out."""

def check_arrays(
    places: _Places, days: _Buffer, shapes: dict[str, tuple[int, ...]], /
) -> None:
    """Refuse the first value outside its range, with its place in an array of the shape it came in."""

def check_zone(zone: str, /) -> None:
    """Refuse a name that is not an IANA time zone."""

def sun_rows(
    places: _Places,
    days: _Buffer,
    span: tuple[int, int],
    event: str,
    altitude_deg: float | None,
    state: _Buffer,
    rise: _Buffer,
    set: _Buffer,
    /,
) -> None:
    """Fill ``state``, ``rise`` and ``set`` (ms since 1970) of the rows of a block."""

def season_rows(
    places: _Places,
    days: _Buffer,
    options: str,
    state: _Buffer,
    opens: _Buffer,
    closes: _Buffer,
    open_days: _Buffer,
    place: _Buffer,
    date_state: _Buffer,
    wider_opens: _Buffer,
    wider_closes: _Buffer,
    at_risk_days: _Buffer,
    /,
) -> None:
    """Fill the columns of seasons of a block; dates are days since 1970."""

def flight_rows(
    places: _Places,
    days: _Buffer,
    options: str,
    state: _Buffer,
    early_first: _Buffer,
    first: _Buffer,
    last: _Buffer,
    late_last: _Buffer,
    flying_hours: _Buffer,
    flying_day: _Buffer,
    place: _Buffer,
    /,
) -> None:
    """Fill the columns of flight of a block; moments are ms since 1970."""

def morning_rows(
    places: _Places,
    days: _Buffer,
    options: str,
    state: _Buffer,
    work_light: _Buffer,
    until: _Buffer,
    first_flight: _Buffer,
    close_from: _Buffer,
    lamp_needed: _Buffer,
    temperature_c: _Buffer,
    flying_day: _Buffer,
    place: _Buffer,
    /,
) -> None:
    """Fill the columns of mornings of a block; moments are ms since 1970."""

def command(
    program: str, arguments: list[str], more: str = "", /
) -> tuple[int, str, str]:
    """Run the command: exit code, text for standard output, text for standard error."""
