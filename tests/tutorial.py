"""Runs docs/tutorial.ipynb from the first cell to the last.

    python tests/tutorial.py          fails when an output is not the stored one
    python tests/tutorial.py write    stores the outputs
"""

from __future__ import annotations

import copy
import difflib
import sys
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient

TUTORIAL = Path(__file__).parents[1] / "docs" / "tutorial.ipynb"


def executed(notebook: Any) -> Any:
    """The notebook with new outputs; an error in a cell is raised."""
    notebook = copy.deepcopy(notebook)
    NotebookClient(
        notebook,
        timeout=300,
        kernel_name="python3",
        record_timing=False,
        resources={"metadata": {"path": str(TUTORIAL.parent)}},
    ).execute()
    return notebook


def outputs(notebook: Any) -> list[str]:
    """Every line that the cells have put out, with the number of its cell."""
    lines = []
    for number, cell in enumerate(notebook.cells):
        found: list[tuple[str, str]] = []
        for output in cell.get("outputs", []):
            if output.output_type != "stream":
                # How a picture is called in words changes from version to version.
                found += [(kind, str(text)) for kind, text in output.data.items() if kind != "text/plain"]
            elif found and found[-1][0] == output.name:
                # A slow kernel sends what is printed in several pieces, which can end within a line.
                found[-1] = (output.name, found[-1][1] + output.text)
            else:
                found.append((output.name, output.text))
        lines += [f"cell {number}, {kind}: {line}" for kind, text in found for line in text.splitlines()]
    return lines


def main(arguments: list[str]) -> int:
    stored = nbformat.read(TUTORIAL, as_version=4)
    new = executed(stored)
    if arguments == ["write"]:
        # The kernel's own version is nobody's concern.
        new.metadata = stored.metadata
        nbformat.write(new, TUTORIAL)
        return 0
    if not outputs(new):
        print("the tutorial puts nothing out")
        return 1
    changes = list(difflib.unified_diff(outputs(stored), outputs(new), "stored", "now", n=0))
    print(*changes[:80], sep="\n")
    if changes:
        print("run: python tests/tutorial.py write, and look at the notebook")
        return 1
    print(f"tutorial: {len(outputs(new))} lines of output as stored")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
