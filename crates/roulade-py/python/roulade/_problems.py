"""What is wrong with an input."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Problem:
    """One thing wrong: where, what was found, and what would be right."""

    place: str
    found: str
    expected: str
    text: str

    def __str__(self) -> str:
        return self.text


class Refused(ValueError):
    """A question without an answer, with everything that is wrong with it.

    >>> import roulade
    >>> try:
    ...     roulade.estimate({"can": {"diameter": "21 mg"}})
    ... except roulade.Refused as refused:
    ...     print(refused.problems[0].place)
    can.diameter
    """

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("\n".join(problem.text for problem in problems))
        self.problems = problems


def unwrapped(answer: str) -> Any:
    """What an answer holds, or its problems as an exception."""
    data = json.loads(answer)
    if "problems" in data:
        known = ("place", "found", "expected", "text")
        raise Refused([Problem(*(str(problem.get(key, "")) for key in known)) for problem in data["problems"]])
    return data["ok"]
