"""Quantities as people write them in Python, to the texts of a sheet."""

from __future__ import annotations

from typing import Any, Union

#: A text with its unit, ``(number, unit)``, ``(number, unit, standard uncertainty)``, or a quantity of pint.
Quantity = Union[str, "tuple[float, str]", "tuple[float, str, float]", Any]


def text(value: Quantity) -> Any:
    """A quantity as it stands in a sheet; what is none (a list, a dict, a word) stays as it is.

    >>> text((24, "mg/cm²", 0.3))
    '24 ± 0.3 mg/cm²'
    >>> text((4.2, "V"))
    '4.2 V'
    >>> text("68 ± 1 µm")
    '68 ± 1 µm'
    """
    if isinstance(value, tuple):
        number, unit, *spread = value
        with_u = f" ± {_number(spread[0])}" if spread else ""
        return f"{_number(number)}{with_u} {unit}".strip()
    if is_pint(value):
        quantity: Any = value
        magnitude, unit = quantity.magnitude, pint_unit(quantity)
        # A measurement of pint, or a number of the library uncertainties, knows how well it is known.
        nominal = getattr(magnitude, "nominal_value", magnitude)
        u = getattr(magnitude, "std_dev", None)
        return text((nominal, unit) if u is None else (nominal, unit, u))
    if isinstance(value, (bool, int, float)) or hasattr(value, "__float__"):
        # A fraction or a count goes without a unit; anything else is refused by its key.
        return _number(value)
    return value


def is_pint(value: Any) -> bool:
    """Whether a value is a quantity of pint, without importing it."""
    return hasattr(value, "magnitude") and hasattr(value, "units") and hasattr(value, "to")


def pint_unit(value: Any) -> str:
    """The unit of a quantity of pint by its symbols: ``mg/cm²``."""
    return "" if value.dimensionless and str(value.units) == "dimensionless" else f"{value.units:~P}"


def _number(value: Any) -> str:
    # Seventeen digits at most, no names of types: numpy's numbers too.
    return repr(float(value)).removesuffix(".0")
