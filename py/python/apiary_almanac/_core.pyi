__all__ = ["ask"]

def ask(request: str, /) -> str:
    """Answer a request: JSON text in, JSON text out."""
