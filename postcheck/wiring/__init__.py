"""What is joined to what: the parts of a build looked up, and one graph of all that carries current."""

from postcheck.wiring.resolved import Wiring, resolve

__all__ = ["Wiring", "resolve"]
