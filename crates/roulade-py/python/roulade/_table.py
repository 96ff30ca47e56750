"""Columns that data frames take by the Arrow C interface."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ._quantity import is_pint, pint_unit
from ._roulade import Columns

if TYPE_CHECKING:
    import pandas
    import polars


class Table:
    """Columns of one length. pyarrow, polars, DuckDB and others take it as it is, by the Arrow C interface.

    >>> table = Table.of_rows([{"a": 1.5, "b": "x"}, {"a": None, "b": "y"}])
    >>> len(table), table.names, table["b"]
    (2, ['a', 'b'], ['x', 'y'])
    """

    def __init__(self, columns: Columns) -> None:
        self._columns = columns

    @classmethod
    def of_rows(cls, rows: Sequence[Mapping[str, Any]]) -> Table:
        """Of rows, each a mapping from column to number or text."""
        names = list(dict.fromkeys(name for row in rows for name in row))
        return cls(Columns([(name, _packed([row.get(name) for row in rows])) for name in names]))

    @property
    def names(self) -> list[str]:
        """What the columns are called."""
        return self._columns.names

    @property
    def refused(self) -> list[tuple[int, str]]:
        """Rows without figures, counted from 0, and why."""
        return self._columns.refused

    @property
    def plausibility(self) -> list[tuple[int | None, str]]:
        """What looks wrong with the entries: the first row that it is so with, counted from 0 (None for the base sheet), and a
        sentence or two."""
        return self._columns.plausibility

    def __len__(self) -> int:
        return len(self._columns)

    def __getitem__(self, name: str) -> Any:
        """A column: a NumPy array of doubles (an ``array`` where there is no NumPy), or a list of texts."""
        try:
            raw = self._columns.doubles(name)
        except TypeError:
            return self._columns.texts(name)
        try:
            import numpy
        except ImportError:
            numbers = array("d")
            numbers.frombytes(raw)
            return numbers
        return numpy.frombuffer(raw, dtype=numpy.float64)

    def __arrow_c_stream__(self, requested_schema: object | None = None) -> object:
        return self._columns.__arrow_c_stream__(requested_schema)

    def to_arrow(self) -> Any:
        """As a table of pyarrow."""
        import pyarrow

        return pyarrow.table(self)

    def to_pandas(self) -> pandas.DataFrame:
        """As a data frame of pandas."""
        import pandas

        return pandas.DataFrame({name: self[name] for name in self.names})

    def to_polars(self) -> polars.DataFrame:
        """As a data frame of polars."""
        import polars

        return polars.DataFrame(self)

    def _repr_html_(self) -> str:
        from ._html import table

        shown = min(len(self), 20)
        rows = [[_brief(self[name][i]) for name in self.names] for i in range(shown)]
        more = f"<p>{len(self)} rows</p>" if len(self) > shown else ""
        return table(self.names, rows) + more

    def __repr__(self) -> str:
        return f"<roulade.Table of {len(self)} rows: {', '.join(self.names)}>"


def columns(given: Mapping[str, Any]) -> Columns:
    """Columns by their heads: arrays of numbers or texts, one for all rows where there is one; with a unit in the head, as
    ``(array, unit)``, or as an array of pint."""
    named: list[tuple[str, Any]] = []
    for head, values in given.items():
        if isinstance(values, tuple) and len(values) == 2 and isinstance(values[1], str):
            values, head = values[0], f"{head} ({values[1]})"
        elif is_pint(values):
            values, head = values.magnitude, f"{head} ({pint_unit(values) or '1'})"
        named.append((head, values))
    lengths = [len(values) for _, values in named if _is_column(values)]
    rows = lengths[0] if lengths else 1
    for head, values in named:
        if _is_column(values) and len(values) != rows:
            raise ValueError(f"{head}: found {len(values)} values; expected {rows}, as in the first column")
    whole = [(head, values if _is_column(values) else [values] * rows) for head, values in named]
    return Columns([(head, _packed(values)) for head, values in whole])


def _is_column(values: Any) -> bool:
    return not isinstance(values, str) and hasattr(values, "__len__")


def _packed(values: Any) -> bytes | list[str | None]:
    """Numbers as the bytes of doubles, texts as they are."""
    kind = getattr(getattr(values, "dtype", None), "kind", None)
    if kind is not None and kind in "fiu":
        import numpy

        plain = numpy.ascontiguousarray(values, dtype=numpy.float64)
        if plain.ndim != 1:
            raise ValueError(f"found an array of {plain.ndim} dimensions; expected one")
        packed: bytes = plain.tobytes()
        return packed
    if not isinstance(values, Iterable):
        raise TypeError(f"found {type(values).__name__}; expected numbers or texts")
    listed = list(values)
    if any(isinstance(value, str) for value in listed):
        return [None if value is None else str(value) for value in listed]
    return array("d", [float("nan") if value is None else float(value) for value in listed]).tobytes()


def _brief(value: Any) -> str:
    if isinstance(value, str):
        return value
    return "" if value is None or value != value else f"{value:.6g}"
