"""What a packed file may be before anything in it is read: whole, not too large, without a hostile part."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from apiary_almanac.club.problems import Refused

MOST_MB = 256
"""Of a list of members once unpacked: some hundred thousand rows."""
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How files of the older binary format begin, and those that are locked with a password."""


def unpack(path: Path, content: bytes, most_mb: int, otherwise: str) -> zipfile.ZipFile:
    """Check a packed file and open it.

    Raises Refused: with ``otherwise`` where it is no packed file, or is damaged.
    """
    if content.startswith(OLE):
        raise Refused(
            f"{path} {otherwise}: it is in the older .xls format, or locked with a password; save it "
            "as .xlsx without a password"
        )
    try:
        parts = zipfile.ZipFile(io.BytesIO(content))
        size = sum(part.file_size for part in parts.infolist())
        if size > most_mb * 1_000_000:
            raise Refused(
                f"{path} would be {size / 1e6:,.0f} MB when unpacked; at most {most_mb} MB are read"
            )
        for part in parts.infolist():
            # zipfile never unpacks more than the size that the part states.
            with parts.open(part) as stream:
                _no_declarations(path, stream.read() if _is_xml(part.filename) else b"")
    except Refused:
        raise
    except Exception as error:
        # A damaged file raises errors of every kind: of zip, of zlib, of the names in it.
        raise Refused(f"{path} {otherwise}") from error
    return parts


def _is_xml(name: str) -> bool:
    return name.lower().endswith((".xml", ".rels", ".vml"))


def _no_declarations(path: Path, xml: bytes) -> None:
    """Entities can make gigabytes out of a line, and read other files. No program that writes workbooks
    declares any; ECMA-376 part 2, 6.2.5, forbids them."""
    if xml.startswith((b"\xff\xfe", b"\xfe\xff")):
        xml = xml.decode("utf-16", "replace").encode()
    if b"<!DOCTYPE" in xml or b"<!ENTITY" in xml:
        raise Refused(f"{path} declares entities of its own, as no workbook does; it is not read")
