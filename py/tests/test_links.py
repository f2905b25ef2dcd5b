"""The links between the documents: each leads to a file that is there, and to a heading in it. Headings
become fragments as GitHub makes them: small letters, hyphens for spaces, other signs left out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from vectors import PROJECT

PAGES = [
    *PROJECT.glob("*.md"),
    *(PROJECT / "docs").rglob("*.md"),
    PROJECT / "py" / "README.md",
    PROJECT / "wasm" / "npm" / "README.md",
]


def fragments(page: Path) -> set[str]:
    text = re.sub(r"^```.*?^```", "", page.read_text("utf-8"), flags=re.DOTALL | re.MULTILINE)
    return {
        re.sub(r"[^\w\- ]", "", heading.strip().lower()).replace(" ", "-")
        for heading in re.findall(r"^#+ (.*)$", text, re.MULTILINE)
    }


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(PROJECT)))
def test_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^()\s]+)\)", page.read_text("utf-8"))
    lost = []
    for link in links:
        if re.match(r"[a-z]+:", link):
            continue
        file, _, fragment = link.partition("#")
        target = page if not file else (page.parent / file).resolve()
        if not target.exists() or (fragment and fragment not in fragments(target)):
            lost.append(link)
    assert lost == []


def test_the_documents_are_linked() -> None:
    """A reader who starts at the first page finds all of them."""
    found, ahead = set[Path](), [PROJECT / "README.md"]
    while ahead:
        page = ahead.pop()
        if page in found or page.suffix != ".md" or not page.exists():
            continue
        found.add(page)
        links = re.findall(r"\]\(([^()\s#:]+)(?:#[^()\s]*)?\)", page.read_text("utf-8"))
        ahead += [(page.parent / link).resolve() for link in links]
    assert {page for page in (PROJECT / "docs").glob("*.md")} <= found
