"""Answers: sentences, figures and tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING, Any

from . import _html
from ._sheet import Sheet
from ._table import Table

if TYPE_CHECKING:
    import pandas
    import polars


@dataclass(frozen=True)
class Figure:
    """A figure with its standard uncertainty and the 95 % interval, as far as there are such."""

    value: float
    unit: str
    u: float | None
    low: float | None
    high: float | None
    text: str

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> Figure:
        """As an answer has it."""
        low, high = data.get("low"), data.get("high")
        if "interval" in data and isinstance(data["interval"], list):
            low, high = data["interval"]
        return cls(data["value"], data.get("unit", ""), data.get("u"), low, high, data["text"])

    def __float__(self) -> float:
        return float(self.value)

    def __str__(self) -> str:
        return self.text

    def pint(self, registry: Any = None) -> Any:
        """As a quantity of pint, of a registry of one's own where there is one."""
        if registry is None:
            import pint

            registry = pint.get_application_registry()
        return registry.Quantity(self.value, _ascii(self.unit))


@dataclass(frozen=True)
class Row(Figure):
    """A figure with its name."""

    id: str = ""
    label: str = ""


@dataclass(frozen=True)
class Change:
    """A figure of two cells, and what lies between them."""

    id: str
    label: str
    first: Figure
    second: Figure
    change: Figure


class Answer:
    """An answer: its sentence (``str``), its figures by id (``answer["volumetric"]``), its tables (``tables``) and all of it as
    plain data (``data``)."""

    def __init__(self, data: dict[str, Any], page: Callable[[], str] | None = None) -> None:
        self.data = data
        #: Its report with drawings, written when a notebook shows it.
        self._page = page

    def __str__(self) -> str:
        answer = self.data.get("answer")
        return str(answer["text"]) if isinstance(answer, dict) else ""

    def __repr__(self) -> str:
        return f"<roulade.{type(self).__name__}: {self}>"

    def __getattr__(self, name: str) -> Any:
        """What the answer holds under a name: ``answer.verdict``."""
        data = self.__dict__.get("data", {})
        if name not in data:
            raise AttributeError(f"{type(self).__name__} has no {name!r}; it has {', '.join(data)}")
        return Sheet(data[name]) if name == "sheet" and data[name] else data[name]

    def _rows(self) -> Iterator[Mapping[str, Any]]:
        yield from self.data.get("headline", [])
        for table in self.data.get("tables", []):
            yield from table["rows"]
        yield from self.data.get("figures", [])

    def __getitem__(self, figure: str) -> Any:
        """A figure by its id: a :class:`Row`, or a :class:`Change` where the answer is about two cells."""
        for row in self._rows():
            if row.get("id") == figure:
                return _figure(row)
        known = ", ".join(dict.fromkeys(str(row["id"]) for row in self._rows() if "id" in row))
        raise KeyError(f"{figure}: no such figure; there are {known}")

    @property
    def tables(self) -> dict[str, Table]:
        """Every list of the answer as a table, by its name."""
        found: dict[str, Table] = {}
        if self.data.get("headline"):
            found["figures"] = Table.of_rows([_flat(row) for row in self._rows()])
        if "axes" in self.data:
            found["figures"] = _grid(self.data)
        _collect("", self.data, found)
        return found

    def table(self, name: str | None = None) -> Table:
        """One of its tables; the one that comes first where nothing is said."""
        tables = self.tables
        if name is None:
            # An answer without figures of its own begins with what comes after its sentence.
            name = next((known for known in tables if known == "figures"), None) or next(
                (known for known in tables if not known.startswith("answer.")), "figures"
            )
        if name not in tables:
            raise KeyError(f"{name}: no such table; there are {', '.join(tables)}")
        return tables[name]

    def to_pandas(self, table: str | None = None) -> pandas.DataFrame:
        """A table as a data frame of pandas."""
        return self.table(table).to_pandas()

    def to_polars(self, table: str | None = None) -> polars.DataFrame:
        """A table as a data frame of polars."""
        return self.table(table).to_polars()

    def _repr_html_(self) -> str:
        parts = [f"<p>{_sentence(self.data)}</p>", self._main_html()]
        for remark in self.data.get("remarks", []):
            parts.append(f"<p><small>{escape(str(remark))}</small></p>")
        if self._page:
            parts.append(_html.framed(self._page(), 640))
        return "".join(parts)

    def _main_html(self) -> str:
        rows = [row for row in self.data.get("headline") or self.data.get("figures") or [] if "label" in row]
        kinds = ("figure", "first", "second", "change", "before", "after", "drawn", "whole")
        shown = [key for key in kinds if any(isinstance(row.get(key), dict) for row in rows)]
        if not shown:
            return ""
        heads = ["", *("" if key == "figure" else key for key in shown)]
        return _html.table(heads, [[row["label"], *(_text(row, key) for key in shown)] for row in rows])


def _sentence(data: Mapping[str, Any]) -> str:
    runs = data.get("answer", {}).get("runs", [])
    return "".join(f"<b>{escape(run['text'])}</b>" if run.get("strong") else escape(run["text"]) for run in runs)


def _text(row: Mapping[str, Any], key: str) -> str:
    return str(row[key].get("text", "")) if isinstance(row.get(key), dict) else ""


def _figure(row: Mapping[str, Any]) -> Any:
    if "change" in row and isinstance(row.get("first"), dict):
        of = Figure.of
        return Change(row["id"], row["label"], of(row["first"]), of(row["second"]), of(row["change"]))
    inner = next((row[key] for key in ("figure", "drawn", "after", "whole") if isinstance(row.get(key), dict)), None)
    if inner is None:
        return row
    figure = Figure.of(inner)
    return Row(figure.value, figure.unit, figure.u, figure.low, figure.high, figure.text, row["id"], row["label"])


def _is_figure(value: Any) -> bool:
    return isinstance(value, dict) and "value" in value and "text" in value


def _flat(row: Mapping[str, Any]) -> dict[str, Any]:
    """A row of texts and numbers; a figure takes a column for its value, u, ends and unit each."""
    flat: dict[str, Any] = {}
    for key, value in row.items():
        if _is_figure(value):
            figure = Figure.of(value)
            name = "" if key == "figure" else f"{key}_"
            flat[name.rstrip("_") or "value"] = figure.value
            for part in ("u", "low", "high", "unit"):
                flat[f"{name}{part}"] = getattr(figure, part)
        elif isinstance(value, bool):
            flat[key] = str(value).lower()
        elif isinstance(value, (int, float)):
            flat[key] = float(value)
        elif isinstance(value, str) or value is None:
            flat[key] = value
    return flat


def _collect(prefix: str, data: Mapping[str, Any], found: dict[str, Table]) -> None:
    for key, value in data.items():
        name = f"{prefix}{key}"
        if isinstance(value, dict) and not _is_figure(value):
            _collect(f"{name}.", value, found)
        elif isinstance(value, list) and value and all(isinstance(row, dict) for row in value):
            inner = [row for row in value if isinstance(row.get("rows"), list)]
            if inner:
                for row in inner:
                    title = row.get("id") or row.get("title") or row.get("label")
                    nested = [_flat(part) for part in row["rows"] if isinstance(part, dict)]
                    if nested:
                        found.setdefault(f"{name}.{title}", Table.of_rows(nested))
            flat = [_flat(row) for row in value]
            if any(flat):
                found.setdefault(name, Table.of_rows(flat))


def _grid(data: Mapping[str, Any]) -> Table:
    """Figures over axes, the first of which runs fastest, a row for each cell."""
    from . import _roulade

    axes = data["axes"]
    along: list[list[float]] = [[]]
    for axis in axes:
        along = [[*before, value] for value in axis["values"] for before in along]
    names = {figure_id: name for name, figure_id, *_ in _roulade.figures()}
    rows = []
    for i, place in enumerate(along):
        row: dict[str, Any] = {f"{axis['key']} ({axis['unit']})": value for axis, value in zip(axes, place)}
        row.update({names.get(figure["id"], figure["id"]): figure["values"][i] for figure in data["figures"]})
        rows.append(row)
    return Table.of_rows(rows)


def _ascii(unit: str) -> str:
    if unit in ("turns", "C", "°C"):
        return {"turns": "", "C": "1/h", "°C": "degC"}[unit]
    spelled = ("µ", "u"), ("Ω", "ohm"), ("²", "**2"), ("³", "**3"), ("·", "*"), ("%", "percent"), ("Ah", "A*h"), ("Wh", "W*h")
    for sign, word in spelled:
        unit = unit.replace(sign, word)
    return unit
