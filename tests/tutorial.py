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
        for output in cell.get("outputs", []):
            if output.output_type == "stream":
                found = {output.name: output.text}
            else:
                # How a picture is called in words changes from version to version.
                found = {kind: text for kind, text in output.data.items() if kind != "text/plain"}
            for kind, text in found.items():
                lines += [f"cell {number}, {kind}: {line}" for line in str(text).splitlines()]
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
