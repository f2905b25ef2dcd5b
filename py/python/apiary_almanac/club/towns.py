"""Where hives stand when a list does not say it in full: by the name of a town, and the zone of the towns around."""

from __future__ import annotations

from apiary_almanac import ApiaryError, FoundTowns, Town, towns, towns_near
from apiary_almanac.club.cells import NotUnderstood


class Towns:
    """Asks for each name once: a list has many members of one town."""

    def __init__(self) -> None:
        self._found: dict[str, FoundTowns] = {}

    def one(self, name: str) -> Town:
        """The one town that a cell means. Raises NotUnderstood where there is none or several."""
        if name not in self._found:
            try:
                self._found[name] = towns(name)
            except ApiaryError as error:
                raise NotUnderstood(str(error)) from None
        found = self._found[name]
        if not found.towns:
            raise NotUnderstood(
                "no town of this name is known: those of some 3000 people or more between 40° N and 40° S are; "
                "coordinates are needed"
            )
        first, *others = found.towns
        if others:
            told = [*map(called, found.towns[:5]), *(["others"] if len(found.towns) > 5 or found.more else [])]
            raise NotUnderstood(f"it can be {'; '.join(told)}: add the region or the country behind a comma")
        return first

    def zone(self, latitude_deg: float, longitude_deg: float) -> tuple[str, str]:
        """The zone of the towns around a place, and the nearest of them. Raises NotUnderstood where they
        differ or there are none."""
        try:
            near = towns_near(latitude_deg, longitude_deg)
        except ApiaryError as error:
            raise NotUnderstood(str(error)) from None
        if not near.towns:
            raise NotUnderstood(f"{NEEDED}; no town is known within 50 km, by which it could be told")
        if near.zone is None:
            zones = dict.fromkeys(str(town.site.zone) for town in near.towns)
            raise NotUnderstood(f"{NEEDED}; the towns around have more than one: {', '.join(zones)}")
        return near.zone, called(near.towns[0])


NEEDED = "a time zone is needed, such as Australia/Brisbane"


def called(town: Town) -> str:
    """A town with region and country."""
    return ", ".join(filter(None, (town.name, town.region, town.country)))
