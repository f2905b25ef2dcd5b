__all__ = ["ask", "command"]

def ask(request: str, /) -> str:
    """Answer a request: JSON text in, JSON text out."""

def command(
    program: str, arguments: list[str], more: str = "", /
) -> tuple[int, str, str]:
    """Run the command: exit code, text for standard output, text for standard error."""
