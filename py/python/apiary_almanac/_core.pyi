from typing import Any, Protocol, TypeAlias

__all__ = ["ask", "check_arrays", "check_zone", "command", "morning_rows", "season_rows", "sun_rows"]

# Whatever has the buffer protocol; before Python 3.12 there is no type of it.
_Buffer: TypeAlias = Any

class _Places(Protocol):
    """Columns of numbers; ``zones`` by name, and ``zone_index`` where there are several."""

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
