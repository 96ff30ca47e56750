"""Estimates wound cylindrical lithium-ion cells from what a bench reads off them.

>>> import roulade
>>> sheet = roulade.Sheet({
...     "cell": "a 21 mm cell",
...     "can": {"diameter": "21 mm", "height": "70 mm"},
...     "cathode": {"mix": [{"material": "NMC811"}], "loading": "22 ± 0.3 mg/cm²"},
...     "anode": {"mix": [{"material": "graphite"}]},
... })
>>> answer = roulade.estimate(sheet)
>>> density = answer["volumetric"]
>>> 500 < density.value < 900 and density.u > 0 and density.unit == "Wh/L"
True

Quantities are texts with a unit, ``(number, unit)``, ``(number, unit, standard uncertainty)``, or quantities of pint:

>>> thicker = sheet.set({"cathode.loading": (24, "mg/cm²", 0.3)})
>>> roulade.compare(sheet, thicker)["volumetric"].change.value > 0
True

Many cells at once, on all cores:

>>> columns = roulade.batch(sheet, {"cathode.loading (mg/cm²)": [20, 22, 24]}, figures=["volumetric"])
>>> columns.names
['volumetric_energy_density_Wh_per_L']
>>> [bool(row > 0) for row in columns["volumetric_energy_density_Wh_per_L"]]
[True, True, True]
"""

from ._answer import Answer, Change, Figure, Row
from ._ask import (
    attribute,
    batch,
    claim,
    compare,
    estimate,
    figures,
    form_factors,
    materials,
    monte_carlo,
    quantities,
    reconcile,
    remove,
    report,
    sensitivity,
    sweep,
)
from ._problems import Problem, Refused
from ._roulade import __version__
from ._sheet import Sheet
from ._table import Table

__all__ = [
    "Answer",
    "Change",
    "Figure",
    "Problem",
    "Refused",
    "Row",
    "Sheet",
    "Table",
    "__version__",
    "attribute",
    "batch",
    "claim",
    "compare",
    "estimate",
    "figures",
    "form_factors",
    "materials",
    "monte_carlo",
    "quantities",
    "reconcile",
    "remove",
    "report",
    "sensitivity",
    "sweep",
]
