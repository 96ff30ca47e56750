"""What one asks of cells."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from . import _roulade
from ._answer import Answer
from ._problems import unwrapped
from ._quantity import Quantity, text
from ._sheet import Sheet, SheetLike, sheet
from ._table import Table, columns


def _asked(what: str, question: Mapping[str, Any]) -> Any:
    given = {key: value for key, value in question.items() if value is not None}
    return unwrapped(_roulade.ask(what, json.dumps(given, ensure_ascii=False)))


def _csv(given: str | os.PathLike[str] | None) -> str | None:
    """Text as it is, a file by its path."""
    if given is None or (isinstance(given, str) and "\n" in given):
        return given
    return Path(given).read_text(encoding="utf-8-sig")


def estimate(cell: SheetLike) -> Answer:
    """What one cell is predicted to give.

    >>> import roulade
    >>> str(roulade.estimate("demo/marram-a.json")["energy"])
    '70 ± 5 Wh'
    """
    asked = sheet(cell)
    data = unwrapped(_roulade.ask("estimate", asked.json))
    return Answer(data, lambda: report(asked))


def compare(first: SheetLike, second: SheetLike) -> Answer:
    """Two cells side by side, what lies between their hardware, and what that contributes."""
    one, two = sheet(first), sheet(second)
    data = unwrapped(_roulade.compare(one.json, two.json))
    return Answer(data, lambda: report(one, two))


def remove(cell: SheetLike, *parts: str, reclaim: Quantity = None, instead: Mapping[str, Any] | None = None) -> Answer:
    """The cell without some parts, compared with the cell as it was; ``answer.sheet`` is the new sheet.

    All of the freed height becomes coated width, or the share ``reclaim`` of it.
    """
    share = text(reclaim) if reclaim is not None else None
    question = {"sheet": sheet(cell).data, "parts": list(parts), "reclaim": share, "instead": instead}
    return Answer(_asked("without", question))


def attribute(
    first: SheetLike,
    second: SheetLike,
    *,
    changes: Mapping[str, Any] | None = None,
    prices: Mapping[str, Any] | None = None,
    trials: int | None = None,
    seed: int | None = None,
) -> Answer:
    """The contribution of each change between two cells (Shapley value: mean over all orders)."""
    question = {"first": sheet(first).data, "second": sheet(second).data, "changes": changes, "prices": prices}
    return Answer(_asked("attribute", {**question, "draws": trials, "seed": seed}))


def claim(
    claims: str | Sequence[str],
    cell: SheetLike,
    *,
    other: SheetLike | None = None,
    trials: int | None = None,
    seed: int | None = None,
) -> Answer:
    """Whether declared figures can be true: ``"at least 640 Wh/L"``, or several of one cell."""
    said: dict[str, Any] = {"claim": claims} if isinstance(claims, str) else {"claims": list(claims)}
    against = sheet(other).data if other is not None else None
    return Answer(_asked("claim", {**said, "sheet": sheet(cell).data, "other": against, "draws": trials, "seed": seed}))


def reconcile(
    cell: SheetLike,
    readings: str | os.PathLike[str],
    *,
    instruments: str | os.PathLike[str] | None = None,
    loss: str | None = None,
) -> Answer:
    """A bench sheet held against a design sheet, both as CSV text with more than one line or as the path of a file."""
    question = {"sheet": sheet(cell).data, "readings": _csv(readings), "instruments": _csv(instruments), "loss": loss}
    return Answer(_asked("reconcile", question))


def _span(span: tuple[Quantity, Quantity, int]) -> dict[str, Any]:
    start, end, steps = span
    return {"from": text(start), "to": text(end), "steps": steps}


def form_factors(
    cell: SheetLike,
    diameter: tuple[Quantity, Quantity, int],
    height: tuple[Quantity, Quantity, int],
    *,
    figures: Sequence[str] | None = None,
    hold: Mapping[str, Any] | None = None,
) -> Answer:
    """The same electrodes in cans of other sizes: ``diameter=("18 mm", "46 mm", 28)``, from, to, steps."""
    wanted = list(figures) if figures is not None else None
    question = {"sheet": sheet(cell).data, "diameter": _span(diameter), "height": _span(height)}
    return Answer(_asked("map", {**question, "hold": hold, "figures": wanted}))


def sweep(
    cell: SheetLike,
    along: Mapping[str, tuple[Quantity, Quantity, int]],
    *,
    figures: Sequence[str] | None = None,
) -> Answer:
    """A cell along one input or over two: ``{"cathode.loading": ("18 mg/cm²", "24 mg/cm²", 30)}``."""
    stretches = [{"key": key, **_span(span)} for key, span in along.items()]
    wanted = list(figures) if figures is not None else None
    return Answer(_asked("sweep", {"sheet": sheet(cell).data, "along": stretches, "figures": wanted}))


def monte_carlo(
    cell: SheetLike,
    second: SheetLike | None = None,
    *,
    figures: Sequence[str] | None = None,
    trials: int | None = None,
    seed: int | None = None,
) -> Answer:
    """Uncertainty of the figures by Monte Carlo trials; of two cells, and of what lies between them."""
    other = sheet(second).data if second is not None else None
    wanted = list(figures) if figures is not None else None
    question = {"sheet": sheet(cell).data, "second": other, "figures": wanted, "draws": trials, "seed": seed}
    return Answer(_asked("sampled", question))


def sensitivity(
    cell: SheetLike,
    figure: str = "volumetric",
    *,
    second: SheetLike | None = None,
    trials: int | None = None,
    seed: int | None = None,
) -> Answer:
    """Contributions of the inputs to the variance of a figure: first order, and Sobol's indices where trials are asked for."""
    other = sheet(second).data if second is not None else None
    question = {"sheet": sheet(cell).data, "second": other, "figure": figure, "draws": trials, "seed": seed}
    return Answer(_asked("sensitivity", question))


def report(
    first: SheetLike,
    second: SheetLike | None = None,
    *,
    claim: str | None = None,
    readings: str | os.PathLike[str] | None = None,
    date: str | None = None,
) -> str:
    """Question, answer and all that the answer rests on, as one HTML page that stands by itself."""
    other = sheet(second).data if second is not None else None
    question = {"first": sheet(first).data, "second": other, "claim": claim, "readings": _csv(readings), "date": date}
    return str(_asked("report", question)["html"])


def batch(
    base: SheetLike,
    columns_: Any,
    *,
    figures: Sequence[str] = (),
    uncertainties: bool = False,
) -> Table:
    """Figures of a base sheet for every row of some columns: each row is the base sheet with its entries in it.

    Columns are a mapping from key to array, the unit in the head (``"cathode.loading (mg/cm²)"``), beside the array
    (``(array, "mg/cm²")``), the array's own (pint), or that of the trade (:func:`quantities` lists it) where none is said; or
    anything with the Arrow C interface: a table of pyarrow, a data frame of polars or pandas. Order is kept; a row that has no
    figures is NaN and told in ``refused``; what looks wrong with entries is told in ``plausibility``. Works on all cores without
    the interpreter's lock.

    >>> import roulade
    >>> walls = roulade.batch("demo/marram-a.json", {"can.wall": ([0.4, 0.5, -1], "mm")}, figures=["mass"])
    >>> walls.refused
    [(2, 'can.wall: found -1; expected a value that is greater than zero for wall thickness')]
    >>> masses = walls["mass_of_the_cell_g"]
    >>> bool(masses[0] < masses[1]), bool(masses[2] == masses[2])
    (True, False)
    """
    rows = columns(columns_) if isinstance(columns_, Mapping) else columns_
    if not hasattr(rows, "__arrow_c_stream__"):
        raise TypeError(f"found {type(rows).__name__}; expected a mapping from key to array, or the Arrow C interface")
    done, problems = _roulade.batch(sheet(base).json, rows, list(figures), uncertainties)
    if done is None:
        unwrapped(problems)
        raise AssertionError(problems)
    return Table(done)


def figures() -> Table:
    """Every figure of a cell: what its column is called, its id, its name in words, its unit, and what to know of it."""
    heads = ("name", "id", "label", "unit", "note")
    return Table.of_rows([dict(zip(heads, row)) for row in _roulade.figures()])


def quantities() -> list[dict[str, Any]]:
    """Every quantity of a design sheet: path, label, unit, default and its source."""
    return list(_asked("quantities", {}))


def materials() -> list[dict[str, Any]]:
    """The table of materials, with their sources."""
    return list(_asked("materials", {}))
