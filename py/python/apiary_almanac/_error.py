"""The one exception of the package."""

from __future__ import annotations


class ApiaryError(ValueError):
    """A value that the engine does not accept.

    ``str(error)`` says what was given and what is allowed.
    """

    code: str
    """The stable name of the kind of error, such as ``out_of_range``; the same in every language."""
    field: str
    """The value at fault, by its name in the JSON form, such as ``latitude_deg``."""

    def __init__(self, message: str, code: str, field: str) -> None:
        super().__init__(message, code, field)
        self.code = code
        self.field = field

    def __str__(self) -> str:
        return str(self.args[0])
