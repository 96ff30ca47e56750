"""
Behind the package `roulade`: texts and columns in, texts and columns out.
"""

from collections.abc import Sequence
from typing import Any, Final, final

__all__ = ["__version__", "Columns", "ask", "batch", "compare", "figures"]

__version__: Final[str]

@final
class Columns:
    """
    Columns of one length: doubles and texts. Any library that takes the Arrow C interface takes them without a copy.
    """
    def __arrow_c_stream__(self, /, requested_schema: "object | None" = None) -> "object":
        """
        The Arrow C interface: <https://arrow.apache.org/docs/format/CDataInterface/PyCapsuleInterface.html>.
        """
    def __len__(self, /) -> int: ...
    def __new__(cls, /, columns: Sequence[tuple[str, Any]]) -> Columns:
        """
        Columns by name: the bytes of doubles, or a list of texts and None.
        """
    def doubles(self, /, name: str) -> bytes:
        """
        The doubles of a column as bytes, NaN where there is none.
        """
    @property
    def names(self, /) -> list[str]:
        """
        What the columns are called, in their order.
        """
    @property
    def plausibility(self, /) -> list[tuple[int | None, str]]:
        """
        What looks wrong with the entries, each in a sentence or two: the first row that it is so with, counted from 0, or None
        where it is the base sheet.
        """
    @property
    def refused(self, /) -> list[tuple[int, str]]:
        """
        Number, counted from 0, and reason of every row without figures.
        """
    def texts(self, /, name: str) -> "list[str | None]":
        """
        The texts of a column, None where there is none.
        """

def ask(what: str, question: str) -> str:
    """
    The answer to a question, both JSON texts: {"ok": …} or {"problems": […]}.
    """

def batch(sheet: str, rows: Any, figures: Sequence[str], uncertainties: bool) -> tuple[Columns | None, str]:
    """
    Figures of a base sheet for every row of what varies; `answer` is empty, or the problems as JSON text where there are no
    figures at all.
    """

def compare(first: str, second: str) -> str:
    """
    Two sheets compared, all of it JSON text.
    """

def figures() -> list[tuple[str, str, str, str, str]]:
    """
    What the columns of figures are called, and what is known of each: name, id, label, unit, note.
    """
