"""Lists of members as people keep them: read as meant, or refused with the question; never misread in silence.

Sixty cases and more; the people are invented, the places are real. What is right is worked out by hand. Files
of OpenDocument are written by odfpy, a library of its own; foot and pound are those of the agreement of 1959
(0.3048 m, 0.45359237 kg).
"""

from __future__ import annotations

import datetime as dt
import io
import tracemalloc
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from apiary_almanac.__main__ import main
from apiary_almanac.club import NotAllRead, club_workbook
from apiary_almanac.club.columns import told
from apiary_almanac.club.members import Member, Members, read_members
from apiary_almanac.club.problems import Refused

DAY = dt.date(2026, 9, 13)
ZONE = "Australia/Sydney"
PLACE = {"Name": "Ines Marrow", "Coordinates": "-28.81, 153.28", "Zone": ZONE, "Elevation": 12}
Rows = Sequence[Sequence[Any]]


def xlsx(path: Path, rows: Rows) -> Path:
    book = openpyxl.Workbook()
    page: Any = book[book.sheetnames[0]]
    for number, row in enumerate(rows, start=1):
        for at, value in enumerate(row, start=1):
            cell = page.cell(number, at, value)
            if isinstance(value, str):
                cell.data_type = "s"
    book.save(path)
    return path


def ods(path: Path, rows: Rows, padding: int = 0) -> Path:
    book: Any = OpenDocumentSpreadsheet()
    table = Table(name="Members")
    for values in rows:
        row = TableRow()
        for value in values:
            if value is None:
                cell = TableCell()
            elif isinstance(value, dt.date):
                cell = TableCell(valuetype="date", datevalue=value.isoformat())
                cell.addElement(P(text=f"{value:%d/%m/%y}"))
            elif isinstance(value, str):
                cell = TableCell(valuetype="string")
                cell.addElement(P(text=value))
            else:
                cell = TableCell(valuetype="float", value=value)
                cell.addElement(P(text=str(value)))
            row.addElement(cell)
        table.addElement(row)
    if padding:
        row = TableRow(numberrowsrepeated=padding)
        row.addElement(TableCell(numbercolumnsrepeated=16_384))
        table.addElement(row)
    book.spreadsheet.addElement(table)
    book.save(path)
    return path


def one(tmp_path: Path, changes: dict[str, Any], without: Sequence[str] = ()) -> Members:
    """A list of one member, with these columns beside or instead of the usual ones."""
    columns = {name: value for name, value in PLACE.items() if name not in without} | changes
    return read_members(xlsx(tmp_path / "members.xlsx", [list(columns), list(columns.values())]), None)


def values(member: Member) -> dict[str, Any]:
    site, colony = member.site, member.colonies[0] if member.colonies else None
    return {
        "name": member.name,
        "latitude": site["latitude_deg"],
        "longitude": site["longitude_deg"],
        "elevation": site.get("elevation_m"),
        "zone": site["zone"],
        "colonies": len(member.colonies),
        "weight": colony and colony.net_weight_kg,
        "divided": colony and colony.last_division,
        "bee": member.bee,
        "hives": [each.name for each in member.colonies],
    }


NO_PLACE, NO_NAME, NO_HEIGHT, NO_ZONE = ("Coordinates",), ("Name",), ("Elevation",), ("Zone",)
SOUTH = {"latitude": -28.81, "longitude": 153.28}
READ: dict[str, tuple[dict[str, Any], Sequence[str], dict[str, Any]]] = {
    # Names of columns.
    "timezone in a word": ({"Timezone": ZONE}, NO_ZONE, {"zone": ZONE}),
    "number of hives, short": ({"No. of hives": 3}, (), {"colonies": 3}),
    "number of hives, as a sign": ({"# hives": 2}, (), {"colonies": 2}),
    "hives that are counted": ({"Hives": 2}, (), {"colonies": 2}),
    "elevation, short": ({"Elev": 12}, NO_HEIGHT, {"elevation": 12}),
    "last split": ({"Last split": dt.date(2025, 3, 4)}, (), {"divided": dt.date(2025, 3, 4)}),
    "a slip in a name": ({"Elevaton": 12}, NO_HEIGHT, {"elevation": 12}),
    "two letters that changed places": ({"Lattiude": -28.81, "Longitdue": 153.28}, NO_PLACE, SOUTH),
    "first and last name": ({"First name": "Odile", "Surname": "Sparrow"}, NO_NAME, {"name": "Odile Sparrow"}),
    "name and surname": ({"Name": "Odile", "Last name": "Sparrow"}, (), {"name": "Odile Sparrow"}),
    "capitals and underlines": ({"ELEVATION_M": 12}, NO_HEIGHT, {"elevation": 12}),
    "longitude first, said so": ({"Lon/Lat": "153.28, -28.81"}, NO_PLACE, SOUTH),
    # Units.
    "feet in the header": ({"Elevation (ft)": 1000}, NO_HEIGHT, {"elevation": 304.8}),
    "feet behind the name": ({"Altitude feet": 1000}, NO_HEIGHT, {"elevation": 304.8}),
    "feet in the cell": ({"Elevation": "1000ft"}, (), {"elevation": 304.8}),
    "metres in a column of feet": ({"Elevation (ft)": "300 m"}, NO_HEIGHT, {"elevation": 300}),
    "metres above sea level": ({"Elevation": "12 m a.s.l."}, (), {"elevation": 12}),
    "metres above sea level, in short": ({"Elevation": "12 m asl"}, (), {"elevation": 12}),
    "kilograms in the cell": ({"Net weight": "3.6 kg"}, (), {"weight": 3.6}),
    "grams in the header": ({"Net weight (g)": 3600}, (), {"weight": 3.6}),
    "pounds in the header": ({"Weight in lb": 8}, (), {"weight": 8 * 0.45359237}),
    "pounds and ounces": ({"Net weight": "7 lb 8 oz"}, (), {"weight": 7.5 * 0.45359237}),
    # Numbers.
    "a decimal comma": ({"Net weight": "3,6"}, (), {"weight": 3.6}),
    "thousands by a space": ({"Elevation": "1 795"}, (), {"elevation": 1795}),
    "thousands and decimals": ({"Elevation": "1,795.0 ft"}, (), {"elevation": 1795 * 0.3048}),
    "a number as text": ({"Elevation": " 12 "}, (), {"elevation": 12}),
    # Places.
    "south in the header": ({"Latitude (S)": 28.81, "Longitude (E)": 153.28}, NO_PLACE, SOUTH),
    "south as a word in the header": ({"Lat South": 28.81, "Long East": 153.28}, NO_PLACE, SOUTH),
    "west by O": (
        {"Latitude": "20.97 N", "Longitude": "89.62 O", "Zone": "America/Merida"},
        NO_PLACE,
        {"latitude": 20.97, "longitude": -89.62},
    ),
    "west in the header by O": (
        {"Latitude": 20.97, "Longitude (O)": 89.62, "Zone": "America/Merida"},
        NO_PLACE,
        {"latitude": 20.97, "longitude": -89.62},
    ),
    "the ordinal sign for degrees": ({"Coordinates": "28º48'36''S, 153º16'48''E"}, (), SOUTH),
    "a ring for degrees": ({"Coordinates": "28˚48’36”S 153˚16’48”E"}, (), SOUTH),
    "degrees as a word": ({"Coordinates": "28.81 deg S, 153.28 deg E"}, (), SOUTH),
    "degrees and minutes by spaces": ({"Coordinates": "28 48 36 S, 153 16 48 E"}, (), SOUTH),
    "minutes with decimals": ({"Coordinates": "28° 48.6' S, 153° 16.8' E"}, (), SOUTH),
    "words for sides": ({"Coordinates": "28.81 South, 153.28 East"}, (), SOUTH),
    "names before the numbers": ({"Coordinates": "Lat: -28.81, Long: 153.28"}, (), SOUTH),
    "in brackets": ({"Coordinates": "(-28.81, 153.28)"}, (), SOUTH),
    "as a geo address": ({"Coordinates": "geo:-28.81,153.28"}, (), SOUTH),
    "as the address of a map": ({"Coordinates": "https://maps.example/@-28.81,153.28,15z"}, (), SOUTH),
    "letters under a header of longitude first": ({"Lon/Lat": "28.81 S, 153.28 E"}, NO_PLACE, SOUTH),
    "decimal commas in two columns": ({"Latitude": "-28,81", "Longitude": "153,28 E"}, NO_PLACE, SOUTH),
    "its own side under the header of another": ({"Latitude (N)": "28.81 S", "Longitude (E)": 153.28}, NO_PLACE, SOUTH),
    "degrees and minutes under a header of south": ({"Lat (S)": "28 48.6", "Long (E)": "153 16.8"}, NO_PLACE, SOUTH),
    "longitude first, by its letters": ({"Coordinates": "153.28 E, 28.81 S"}, (), SOUTH),
    "each in the other's column, by letters": ({"Latitude": "153.28 E", "Longitude": "28.81 S"}, NO_PLACE, SOUTH),
    "another minus": ({"Coordinates": "\N{MINUS SIGN}28.81, 153.28"}, (), SOUTH),
    "a town": (
        {"Town": "Gympie"},
        (*NO_PLACE, *NO_ZONE),
        {"latitude": -26.19, "longitude": 152.66, "zone": "Australia/Brisbane"},
    ),
    "a town with its region": (
        {"Suburb": "maryborough, victoria"}, (*NO_PLACE, *NO_ZONE), {"zone": "Australia/Melbourne", "latitude": -37.05},
    ),
    "a town beside coordinates": ({"Town": "nowhere at all"}, (), SOUTH),
    "the zone of the towns around": ({}, NO_ZONE, {"zone": "Australia/Sydney", **SOUTH}),
    "the same place twice": ({"Latitude": -28.81, "Longitude": 153.28}, (), SOUTH),
    "no height": ({}, NO_HEIGHT, {"elevation": None}),
    # Dates.
    "a date cell": ({"Last division": dt.date(2025, 3, 4)}, (), {"divided": dt.date(2025, 3, 4)}),
    "a date as ISO 8601 writes it": ({"Last division": "2025-03-04"}, (), {"divided": dt.date(2025, 3, 4)}),
    "a month as a word": ({"Last division": "4 Mar 2025"}, (), {"divided": dt.date(2025, 3, 4)}),
    "month, day, year": ({"Last division": "March 4th, 2025"}, (), {"divided": dt.date(2025, 3, 4)}),
    "another language": ({"Last division": "4 de março de 2025"}, (), {"divided": dt.date(2025, 3, 4)}),
    "a day after the 12th": ({"Last division": "25/3/2025"}, (), {"divided": dt.date(2025, 3, 25)}),
    "a day after the 12th, month first": ({"Last division": "3/25/2025"}, (), {"divided": dt.date(2025, 3, 25)}),
    # 45720 days after 30 December 1899, by the calendar.
    "a serial number": ({"Last division": 45720}, (), {"divided": dt.date(2025, 3, 4)}),
    "the same day and month": ({"Last division": "3/3/2025"}, (), {"divided": dt.date(2025, 3, 3)}),
    "a clock that says midnight": ({"Last division": "2025-03-04 00:00:00"}, (), {"divided": dt.date(2025, 3, 4)}),
    "two colonies": ({"Hives": "Lantern; Candle", "Weights": "3.6; ?"}, (), {"hives": ["Lantern", "Candle"]}),
}  # fmt: skip


@pytest.mark.parametrize("case", READ)
def test_read_as_meant(tmp_path: Path, case: str) -> None:
    changes, without, wanted = READ[case]
    read = one(tmp_path, changes, without)
    assert read.problems == []
    (member,) = read.members
    for key, value in wanted.items():
        found = values(member)[key]
        assert found == (pytest.approx(value) if isinstance(value, float) else value), key


ASKED: dict[str, tuple[dict[str, Any], Sequence[str], str, str]] = {
    "a thousand or one": ({"Elevation": "1,795"}, (), "Elevation", "1795 or 1.795"),
    "an unknown unit": ({"Elevation": "9 yards"}, (), "Elevation", "'yards' is not a unit"),
    "an unknown unit in the header": ({"Elevation (miles)": 1}, NO_HEIGHT, "Elevation (miles)", "'miles'"),
    "grams as kilograms": ({"Net weight": "3,600"}, (), "Net weight", "3600 or 3.600"),
    "longitude first": ({"Coordinates": "153.28, -28.81"}, (), "Coordinates", "does the longitude stand first? -28.81, 153.28;"),
    "a sign that was lost": ({"Coordinates": "28.81, 153.28"}, (), "Coordinates", "28.81, 153.28 or -28.81, 153.28;"),
    "each in the other's column": (
        {"Latitude": 153.28, "Longitude": -28.81}, NO_PLACE, "Latitude", "each other's column",
    ),
    "two places": ({"Latitude": -27.5, "Longitude": 153.28}, (), "Latitude", "another place"),
    "a sign and a letter": ({"Coordinates": "-28.81 S, 153.28 E"}, (), "Coordinates", "are needed"),
    "minutes over sixty": ({"Latitude": "28° 61′ S", "Longitude": 153.28}, NO_PLACE, "Latitude", "below 60"),
    "the name of a town": ({"Coordinates": "behind the hall"}, (), "Coordinates", "28°48'36\"S 153°16'48\"E"),
    "map metres": ({"Coordinates": "56J 527400 6813000"}, (), "Coordinates", "are needed"),
    "March or April": ({"Last division": "3/4/2025"}, (), "Last division", "3 April 2025 or 4 March 2025"),
    "a year of two digits": ({"Last division": "25/12/24"}, (), "Last division", "four digits"),
    "a year alone": ({"Last division": 2025}, (), "Last division", "a date is needed"),
    "a season": ({"Last division": "last spring"}, (), "Last division", "2026-09-28"),
    "the 31st of June": ({"Last division": "31 June 2025"}, (), "Last division", "no such day"),
    "a year that was mistyped": ({"Last division": dt.date(2205, 3, 4)}, (), "Last division", "1990 to 2099"),
    "no zone near a border": (
        {"Coordinates": "-28.18, 153.5"}, NO_ZONE, "zone", "have more than one: Australia/",
    ),
    "no zone far from towns": ({"Coordinates": "-25.5, 130.0"}, NO_ZONE, "zone", "no town is known within 50 km"),
    "no zone and no place": ({"Zone": None, "Coordinates": None}, (), "Coordinates", "are needed"),
    "several towns": ({"Town": "Maryborough"}, (*NO_PLACE, *NO_ZONE), "Town", "Maryborough, Victoria, Australia"),
    "no such town": ({"Town": "Quoll Creek Flat"}, (*NO_PLACE, *NO_ZONE), "Town", "no town of this name is known"),
    "no name": ({"Name": None}, (), "Name", "a name is needed"),
    "a word for a number": ({"No. of hives": "two"}, (), "No. of hives", "number"),
    "half a hive": ({"No. of hives": 2.5}, (), "No. of hives", "whole number"),
    "more weights than hives": ({"No. of hives": 1, "Weights": "3; 4"}, (), "Weights", "2 values for 1 colony"),
}  # fmt: skip


@pytest.mark.parametrize("case", ASKED)
def test_refused_with_the_question(tmp_path: Path, case: str) -> None:
    changes, without, column, reason = ASKED[case]
    read = one(tmp_path, changes, without)
    assert read.members == []
    (problem,) = read.problems
    assert (problem.row, problem.column) == (2, column)
    assert reason in problem.reason


def divided(tmp_path: Path, *given: Any) -> tuple[list[dt.date | None], list[str]]:
    rows = [[f"M{n}", "-28.81, 153.28", ZONE, 12, value] for n, value in enumerate(given)]
    read = read_members(xlsx(tmp_path / "m.xlsx", [[*PLACE, "Last split"], *rows]), None)
    return [each.colonies[0].last_division for each in read.members], [p.reason for p in read.problems]


def test_dates_in_the_style_of_their_column(tmp_path: Path) -> None:
    day = dt.date
    assert divided(tmp_path, "25/3/2025", "3/4/2025", "5/6/24") == (
        [day(2025, 3, 25), day(2025, 4, 3), day(2024, 6, 5)],
        [],
    )
    assert divided(tmp_path, "3/25/2025", "3/4/2025")[0] == [day(2025, 3, 25), day(2025, 3, 4)]
    # Where the column shows both ways, neither is taken.
    found, asked = divided(tmp_path, "25/3/2025", "3/25/2025", "3/4/2025")
    assert found == [day(2025, 3, 25), day(2025, 3, 25)] and "it can be" in asked[0]


def test_dates_that_a_program_may_have_turned_round(tmp_path: Path) -> None:
    """Typed day first into a program that reads month first: 3/4 became 4 March, 25/3 stayed a text."""
    found, asked = divided(tmp_path, "25/3/2025", dt.date(2025, 3, 4), dt.date(2025, 5, 5))
    assert found == [dt.date(2025, 3, 25), dt.date(2025, 5, 5)]
    assert "4 March 2025 or 3 April 2025" in asked[0]
    # A date after the 12th shows that the program reads them as they are meant.
    assert divided(tmp_path, "25/3/2025", dt.date(2025, 3, 4), dt.date(2025, 3, 14))[1] == []


TITLED: Rows = [
    ["Quoll Creek Little Bee Circle"],
    [],
    ["Members", None, None, "as of", dt.date(2026, 8, 1)],
    ["Name", "Position", "Time zone", "Elev. (m)", "Phone", "Strenght", "Date joined"],
    ["Ines Marrow", "-28.81, 153.28", ZONE, 12, "ext. 11", "strong", None],
    [],
    ["Name", "Position", "Time zone", "Elev. (m)", "Phone", "Strenght", "Date joined"],
    ["Odile Sparrow", "-27.56, 151.95", "Australia/Brisbane", 690, "ext. 13", None, None],
    ["Total", None, None, 702],
]


@pytest.mark.parametrize("ending", ["xlsx", "ods", "csv", "semicolon.csv", "tab.tsv", "old.csv"])
def test_a_title_a_total_and_the_header_again_in_every_format(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"members.{ending}"
    if ending == "xlsx":
        xlsx(path, TITLED)
    elif ending == "ods":
        # As programs save them: with a million empty rows below.
        ods(path, TITLED, padding=1_048_000)
    else:
        sign = {"csv": ",", "old.csv": ","}.get(ending, ";" if "semi" in ending else "\t")
        quoted = [[f'"{value}"' if value and sign in str(value) else str(value or "") for value in row] for row in TITLED]
        text = "\r\n".join(sign.join(row) for row in quoted)
        path.write_bytes(text.replace("Odile", "Odilé").encode("cp1252" if "old" in ending else "utf-8-sig"))
    read = read_members(path, None)
    assert [each.name.replace("é", "e") for each in read.members] == ["Ines Marrow", "Odile Sparrow"]
    assert read.members[1].row == 8 and read.problems == []
    assert [each.site["elevation_m"] for each in read.members] == [12, 690]
    assert len(read.passed) == 2 and "row 9" in read.passed[1]
    assert read.ignored == {"Phone": None, "Date joined": None}
    columns = told(read.columns.values())
    assert columns[0] == "'Strenght' read as strength"
    assert "'Elev. (m)' read as elevation, in m" in columns


def test_values_of_an_ods_are_those_of_an_xlsx(tmp_path: Path) -> None:
    rows: Rows = [[*PLACE, "Weights", "Last split"], ["Ines", "-28.81, 153.28", ZONE, 12, 3.6, dt.date(2025, 3, 4)]]
    one, other = (read_members(make(tmp_path / f"m.{make.__name__}", rows), None) for make in (xlsx, ods))
    assert one.members == other.members and one.members[0].colonies[0].last_division == dt.date(2025, 3, 4)


@pytest.mark.parametrize(
    ("header", "told_"),
    [
        (["Name", "Where it is", "Zone"], "no column 'Coordinates' or 'Latitude' or 'Town' among"),
        (["Name", "Cordinats", "Zone"], "'Cordinats' (is it 'Coordinates'?)"),
        (["Name", "Member", "Zone", "Coordinates"], "mean the same"),
    ],
)
def test_columns_that_lack(tmp_path: Path, header: list[str], told_: str) -> None:
    with pytest.raises(Refused) as refused:
        read_members(xlsx(tmp_path / "m.xlsx", [header, ["a", "b", "c", "d"]]), None)
    assert told_ in str(refused.value)


def test_height_is_not_a_slip_of_weight(tmp_path: Path) -> None:
    """They differ by one letter; and a weight with the box is none without it."""
    read = one(tmp_path, {"Wheight": 12, "Gross weight": 9}, NO_HEIGHT)
    assert list(read.ignored) == ["Wheight", "Gross weight"] and read.ignored["Gross weight"] is None
    assert read.members[0].colonies[0].net_weight_kg is None
    assert read.members[0].site.get("elevation_m") is None


# Hostile files.


def packed(path: Path, parts: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as whole:
        for name, content in parts.items():
            whole.writestr(name, content)
    return path


LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE a [<!ENTITY a "ha">%s]><a>&j;</a>""" % b"".join(
    b'<!ENTITY %c "%s">' % (98 + n, (b"&%c;" % (97 + n)) * 10) for n in range(9)
)
SHEET = b"""<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">
<office:body><office:spreadsheet><table:table table:name="M"><table:table-row table:number-rows-repeated="1048576">
<table:table-cell office:value-type="string" table:number-columns-repeated="16384"><text:p>x</text:p></table:table-cell>
</table:table-row></table:table></office:spreadsheet></office:body></office:document-content>"""


def test_files_that_would_fill_the_memory(tmp_path: Path) -> None:
    tracemalloc.start()
    for name, parts, why in (
        ("zeros.xlsx", {"xl/workbook.xml": b"\0" * 300_000_000}, "would be 300 MB when unpacked"),
        ("laughs.xlsx", {"xl/workbook.xml": LAUGHS}, "declares entities"),
        ("wide.xlsx", {"xl/workbook.xml": LAUGHS.decode().encode("utf-16")}, "declares entities"),
        ("laughs.ods", {"content.xml": LAUGHS}, "declares entities"),
        ("full.ods", {"content.xml": SHEET}, "is not a workbook"),
    ):
        path = packed(tmp_path / name, parts)
        tracemalloc.reset_peak()
        before = tracemalloc.get_traced_memory()[0]
        with pytest.raises(Refused, match=why):
            read_members(path, None)
        if name != "zeros.xlsx":
            assert tracemalloc.get_traced_memory()[1] - before < 20_000_000, name
        path.unlink()
    tracemalloc.stop()


def test_a_sheet_with_cells_far_out(tmp_path: Path) -> None:
    """One row that ends in the last column there is, many times: small packed, large when it is laid out."""
    path = xlsx(tmp_path / "m.xlsx", [["Name"]])
    with zipfile.ZipFile(path) as whole:
        parts = {name: whole.read(name) for name in whole.namelist()}
    row = b'<row><c r="XFD%d"><v>1</v></c></row>'
    sheet = b"".join(row % n for n in range(1, 4000))
    parts["xl/worksheets/sheet1.xml"] = parts["xl/worksheets/sheet1.xml"].replace(
        b"</sheetData>", sheet + b"</sheetData>"
    )
    with pytest.raises(Refused, match="too large"):
        read_members(packed(path, parts), None)


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("m.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "older .xls format, or locked with a password"),
        ("m.xlsx", b"a letter", "is not a workbook"),
        ("m.xlsx", b"PK\x03\x04" + b"\0" * 40, "is not a workbook"),
        ("m.ods", b"", "is not a workbook"),
        ("m.csv", b"", "is empty"),
        ("m.csv", b"Name\0Zone", "signs that no text has"),
        ("m.csv", b'Name,Zone\n"' + b"x" * 200_000, "cannot be read as separated values"),
        ("m.pdf", b"%PDF-1.7", "is not a workbook"),
    ],
)  # fmt: skip
def test_files_of_another_kind(tmp_path: Path, name: str, content: bytes, why: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(Refused, match=why):
        read_members(path, None)


def test_exit_codes_and_strict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    good = ["Ines", "-28.81, 153.28", ZONE, 12]
    path = xlsx(tmp_path / "m.xlsx", [list(PLACE), good, ["Odile", "here", ZONE, 12]])
    arguments = ["workbook", str(path), "--today=2026-09-13", f"--out={tmp_path / 'club.xlsx'}"]
    assert main([*arguments, "--strict"]) == 3
    assert "Nothing is written" in capsys.readouterr().err and not (tmp_path / "club.xlsx").exists()
    with pytest.raises(NotAllRead) as refused:
        club_workbook(path, tmp_path / "club.xlsx", today=DAY, strict=True)
    assert [each.row for each in refused.value.problems] == [3]
    assert main(arguments) == 3
    first = capsys.readouterr().out
    assert "'Coordinates' read as coordinates" in first
    xlsx(path, [list(PLACE), good])
    assert main(arguments) == 0
    # It has been told, and nothing about the columns is new.
    assert "read as" not in capsys.readouterr().out
    about = {row[0]: row[1] for row in openpyxl.load_workbook(tmp_path / "club.xlsx")["About"].values}
    assert "'Elevation' read as elevation" in str(about["How columns were read"])


def test_a_height_that_is_missing_is_that_of_the_land_and_marked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Toowoomba stands at 690 m; Brisbane's plain, a degree to the east, is part of the land around."""
    path = xlsx(tmp_path / "m.xlsx", [list(PLACE), ["Odile", "-27.56, 151.95", "Australia/Brisbane", None]])
    assert main(["workbook", str(path), "--today=2026-09-13", f"--out={tmp_path / 'club.xlsx'}"]) == 0
    assert "row 2, Odile: No height was given" in capsys.readouterr().err
    (row,) = list(openpyxl.load_workbook(tmp_path / "club.xlsx")["Season"].iter_rows(min_row=2, values_only=True))
    header = [cell.value for cell in openpyxl.load_workbook(tmp_path / "club.xlsx")["Season"][1]]
    season: dict[Any, Any] = dict(zip(header, row, strict=True))
    assert "No height was given" in str(season["Remarks"])
    assert 200 < season["Height, m"] < 690


def test_a_town_and_a_zone_that_are_taken_are_marked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: Rows = [["Name", "Town", "Coordinates"], ["Odile", "Gympie", None], ["Ines", None, "-28.81, 153.28"]]
    path = xlsx(tmp_path / "m.xlsx", rows)
    assert main(["workbook", str(path), "--today=2026-09-13", f"--out={tmp_path / 'club.xlsx'}"]) == 0
    told_ = capsys.readouterr().err
    assert "row 2, Odile: The place is the middle of Gympie, Queensland, Australia" in told_
    assert "row 3, Ines: No zone was given: Australia/Sydney" in told_
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    remarks = [row[13].value for row in book["Season"].iter_rows(min_row=2)]
    assert any("Gympie" in str(each) for each in remarks) and any("No zone" in str(each) for each in remarks)
    about = {row[0]: row[1] for row in book["About"].values}
    assert "Odile: The place is the middle of Gympie" in str(about["Doubtful places"])
