"""A progress bar for people: on a terminal only."""

from __future__ import annotations

import sys
import time
from typing import TextIO

WIDTH = 30


class Progress:
    """Counts steps on standard error; silent where that is a file or a pipe."""

    def __init__(self, label: str, total: int, stream: TextIO | None = None) -> None:
        """``total`` is the number of steps."""
        self._stream = sys.stderr if stream is None else stream
        self._label, self._total, self._done = label, total, 0
        self._shown = bool(total) and self._stream.isatty()
        self._last = 0.0
        self._draw()

    def step(self) -> None:
        """One more is done."""
        self._done += 1
        # Ten times a second is often enough.
        if self._done == self._total or time.monotonic() - self._last > 0.1:
            self._draw()

    def _draw(self) -> None:
        if not self._shown:
            return
        self._last = time.monotonic()
        filled = WIDTH * self._done // self._total
        bar = "#" * filled + "." * (WIDTH - filled)
        self._stream.write(f"\r{self._label} [{bar}] {self._done}/{self._total}")
        if self._done == self._total:
            self._stream.write("\n")
        self._stream.flush()
