"""Design sheets."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Union

from . import _roulade
from ._problems import unwrapped
from ._quantity import Quantity, text

#: What a design sheet may be given as.
SheetLike = Union["Sheet", Mapping[str, Any], str, "os.PathLike[str]"]


class Sheet:
    """What is known of one cell: a JSON object in which every quantity is a text with its unit.

    Sheets do not change: what changes one gives another.

    >>> sheet = Sheet({"can": {"diameter": "21 mm", "height": "70 mm"}})
    >>> sheet.set({"can.wall": "0.2 mm"}).data["can"]["wall"]
    '0.2 mm'
    """

    __slots__ = ("_json",)

    def __init__(self, data: Mapping[str, Any] | str) -> None:
        """From an object, or from its JSON text."""
        self._json = data if isinstance(data, str) else json.dumps(_plain(data), ensure_ascii=False)
        json.loads(self._json)

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Sheet:
        """From a file."""
        return cls(Path(path).read_text(encoding="utf-8-sig"))

    def write(self, path: str | os.PathLike[str]) -> None:
        """Into a file."""
        Path(path).write_text(json.dumps(self.data, ensure_ascii=False, indent=2) + "\n", encoding="utf-8")

    @property
    def data(self) -> dict[str, Any]:
        """The object, a copy."""
        data: dict[str, Any] = json.loads(self._json)
        return data

    @property
    def json(self) -> str:
        """Its JSON text."""
        return self._json

    @property
    def cell(self) -> str:
        """Name of the cell; empty where it has none."""
        return str(self.data.get("cell", ""))

    def set(self, entries: Mapping[str, Quantity]) -> Sheet:
        """With other entries, each under its key: ``cathode.loading``, ``parts[lid].mass``."""
        return self.edit([{"set": key, "to": text(value)} for key, value in entries.items()])

    def clear(self, *keys: str) -> Sheet:
        """Without some entries: what stands in for them is a stated assumption."""
        return self.edit([{"clear": key} for key in keys])

    def edit(self, edits: list[dict[str, Any]]) -> Sheet:
        """With changes made in turn, each with its verb: set, clear, remove, add, reorder, replace, rename, fix, scale, resize."""
        question = json.dumps({"sheet": self.data, "edits": edits}, ensure_ascii=False)
        return Sheet(unwrapped(_roulade.ask("edit", question))["sheet"])

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sheet) and self.data == other.data

    def __hash__(self) -> int:
        return hash(json.dumps(self.data, sort_keys=True))

    def __repr__(self) -> str:
        return f"<roulade.Sheet of {self.cell or 'a cell'}>"


def sheet(given: SheetLike) -> Sheet:
    """A sheet of whatever stands for one: an object, JSON text, or the path of a file."""
    if isinstance(given, Sheet):
        return given
    if isinstance(given, Mapping):
        return Sheet(given)
    if isinstance(given, str) and given.lstrip().startswith("{"):
        return Sheet(given)
    return Sheet.read(given)


def _plain(value: Any) -> Any:
    """Quantities in their places as texts."""
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return text(value) if not isinstance(value, (bool, int, float)) else value
