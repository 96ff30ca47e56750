"""The installed wheel, from outside: quantities in and out, answers, columns, engines that read what it writes."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import numpy
import pytest
import roulade

TOP = Path(__file__).parents[3]
A, B = TOP / "demo/marram-a.json", TOP / "demo/marram-b.json"
DENSITY = "volumetric_energy_density_Wh_per_L"


def test_the_notices_of_what_is_compiled_in_go_with_the_wheel() -> None:
    from importlib.metadata import files
    from importlib.resources import files as resources

    notices = resources("roulade").joinpath("notices.txt").read_text("utf-8")
    assert "arrow-array" in notices and "Apache License" in notices
    # And where installers look for licences.
    assert any("licenses" in str(file) and file.name == "notices.txt" for file in files("roulade") or [])


def test_quantities_go_in_as_text_tuple_and_pint() -> None:
    import pint

    unit = pint.UnitRegistry()
    base = roulade.Sheet.read(A)
    sheets = [base.set({"can.wall": value}) for value in ("0.4 mm", (0.4, "mm"), 0.4 * unit.mm, 400 * unit.um)]
    masses = [roulade.estimate(sheet)["mass"].value for sheet in sheets]
    assert masses == pytest.approx([masses[0]] * 4, rel=1e-12)
    with_u = base.set({"cathode.loading": (21, "mg/cm²", 0.2)}).data["cathode"]["loading"]
    assert "21 ± 0.2 mg/cm²" in str(with_u)
    figure = roulade.estimate(base)["volumetric"]
    assert figure.pint(unit).to("J/m**3").magnitude == pytest.approx(figure.value * 3.6e6, rel=1e-12)
    assert figure.low < float(figure) < figure.high and figure.u > 0 and "±" in str(figure)


def test_what_is_wrong_is_an_exception_with_every_problem() -> None:
    with pytest.raises(roulade.Refused) as refused:
        roulade.estimate({"can": {"diameter": "21 mg", "height": "tall"}})
    places = [problem.place for problem in refused.value.problems]
    assert "can.diameter" in places and "can.height" in places
    with pytest.raises(roulade.Refused, match="expected a unit of length"):
        roulade.batch(A, {"can.wall (mg)": [1.0]})
    with pytest.raises(ValueError, match="expected 2, as in the first column"):
        roulade.batch(A, {"can.wall (mm)": [1.0, 2.0], "cathode.loading": [1.0, 2.0, 3.0]})
    with pytest.raises(KeyError, match="there are capacity"):
        roulade.estimate(A)["no such figure"]


def test_every_question_has_an_answer_that_notebooks_show() -> None:
    answers = [
        roulade.estimate(A),
        roulade.compare(A, B),
        roulade.remove(A, "lower collector plate"),
        roulade.attribute(A, B, trials=50),
        roulade.claim("at least 640 Wh/L", B),
        roulade.reconcile(A, TOP / "demo/bench.csv"),
        roulade.form_factors(A, ("18 mm", "46 mm", 4), ("65 mm", "95 mm", 3), figures=["volumetric"]),
        roulade.sweep(A, {"cathode.loading": ("20 mg/cm²", "22 mg/cm²", 4)}, figures=["mass"]),
        roulade.monte_carlo(A, trials=1000),
        roulade.sensitivity(A),
    ]
    for answer in answers:
        assert len(answer.to_pandas()) > 0 and answer.to_polars().height > 0
        assert "<" in answer._repr_html_()
    assert "<svg" in answers[0]._repr_html_().replace("&lt;", "<")
    assert isinstance(answers[2].sheet, roulade.Sheet)
    assert answers[4].verdict in ("open", "supported", "contradicted")
    assert len(answers[6].to_pandas()) == 20


def test_rows_give_what_their_sheets_give() -> None:
    base = roulade.Sheet.read(A)
    loadings = numpy.array([20.0, 21.3, 22.7])
    columns = roulade.batch(base, {"cathode.loading": loadings, "can.wall (mm)": 0.45}, uncertainties=True)
    for i, loading in enumerate(loadings):
        alone = roulade.estimate(base.set({"cathode.loading": (loading, "mg/cm²"), "can.wall": "0.45 mm"}))
        figure = alone["volumetric"]
        assert (columns[DENSITY][i], columns[f"u_{DENSITY}"][i]) == (figure.value, figure.u)


def test_columns_of_any_library() -> None:
    import pandas
    import pint
    import polars
    import pyarrow

    loadings = [20.0, 21.0, None]
    head = "cathode.loading (mg/cm²)"
    tables = [
        {head: loadings},
        pyarrow.table({head: loadings}),
        polars.DataFrame({head: loadings}),
        {"cathode.loading": numpy.array([20.0, 21.0, numpy.nan]) * pint.UnitRegistry()("mg/cm**2")},
        {"cathode.loading": (pandas.Series([20.0, 21.0, numpy.nan]), "mg/cm²")},
        {"cathode.loading": ["20 mg/cm²", "0.21 kg/m²".replace("0.21 kg", "210 g"), None]},
    ]
    found = [roulade.batch(A, table, figures=["volumetric"]) for table in tables]
    for columns in found:
        assert numpy.isnan(columns[DENSITY][2]) and columns.refused[0][0] == 2
        assert columns[DENSITY][:2] == pytest.approx(found[0][DENSITY][:2], rel=1e-14)
    assert found[0].to_arrow().column(DENSITY).null_count == 1
    assert found[0].to_polars()[DENSITY].null_count() == 1
    assert list(found[0].to_pandas().columns) == [DENSITY]


def test_entries_that_look_wrong_are_told_with_their_rows() -> None:
    import pyarrow

    # Micrometres, written as if they were millimetres; in two batches of one table.
    walls = [0.4, 0.5, 0.25 / 1000, 0.3 / 1000]
    batches = [pyarrow.record_batch({"can.wall (mm)": part}) for part in (walls[:2], walls[2:])]
    told = roulade.batch(A, pyarrow.Table.from_batches(batches), figures=["mass"]).plausibility
    assert [row for row, _ in told] == [2]
    assert "can.wall" in told[0][1] and told[0][1].endswith("So it is with one more row of this column.")
    base = roulade.Sheet.read(A).set({"winding.core_diameter": "12 mm"})
    assert [row for row, _ in roulade.batch(base, {"can.wall (mm)": walls[:2]}).plausibility] == [None]
    assert roulade.batch(A, {"can.wall (mm)": walls[:2]}).plausibility == []


def test_other_threads_run_while_it_works() -> None:
    ticks, done = [0], threading.Event()

    def count() -> None:
        while not done.is_set():
            ticks[0] += 1
            time.sleep(0.001)

    thread = threading.Thread(target=count)
    thread.start()
    roulade.batch(A, {"cathode.loading": numpy.linspace(20, 22, 200_000)})
    done.set()
    thread.join()
    assert ticks[0] > 20


def test_a_database_reads_the_columns_and_the_files(tmp_path: Path) -> None:
    """A partition is a file or a row group for DuckDB; each batch is worked out by itself, and the order is kept."""
    import duckdb

    rows = roulade.batch(A, {"cathode.loading": numpy.linspace(20, 22, 1000)}, figures=["volumetric", "mass"]).to_arrow()
    best = duckdb.sql(f"select max({DENSITY}), count(*) from rows").fetchall()[0]
    assert best == (max(rows.column(DENSITY).to_pylist()), 1000)
    # What the command line writes, as a file.
    program = os.environ.get("ROULADE")
    if program:
        asked = [program, "batch", "--base", str(A), "--vary", str(TOP / "demo/loadings.csv"), "--keep", "remark"]
        file = tmp_path / "figures.csv"
        done = subprocess.run(asked, capture_output=True)
        # One row of the table cannot be answered.
        assert done.returncode == 1
        file.write_bytes(done.stdout)
        query = f"select count(*), count({DENSITY}), max({DENSITY}) > 0, typeof(any_value({DENSITY})) from '{file}'"
        assert duckdb.sql(query).fetchall()[0] == (6, 5, True, "DOUBLE")


def recipe(engine: str) -> dict[str, Any]:
    """What the book's recipe for an engine leaves behind, run as it stands."""
    text = (TOP / "crates/roulade-cli/book/src/batch.md").read_text("utf-8")
    [code] = re.findall(f"```python {engine}\n(.*?)```", text, re.DOTALL)
    space: dict[str, Any] = {}
    exec(code, space)
    return space


def test_the_recipe_for_a_database(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(TOP)
    done = recipe("duckdb")
    light = [row[DENSITY] for row in done["figures"].to_pylist() if row["mass_of_the_cell_g"] < 320]
    assert done["figures"].num_rows == 2000 and 0 < len(light) < 2000
    assert done["best"] == [(max(light),)]


def test_the_recipe_for_an_engine_of_partitions(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(TOP)
    # Two workers on this machine, which listen to nobody else.
    arguments = "--master local[2] --conf spark.ui.enabled=false --conf spark.driver.bindAddress=127.0.0.1 pyspark-shell"
    monkeypatch.setenv("PYSPARK_SUBMIT_ARGS", arguments)
    monkeypatch.setenv("SPARK_LOCAL_IP", "127.0.0.1")
    monkeypatch.setenv("PYSPARK_PYTHON", sys.executable)
    monkeypatch.setenv("RAYON_NUM_THREADS", "1")
    done = recipe("spark")
    try:
        rows = done["answers"].collect()
        assert done["answers"].rdd.getNumPartitions() == 4
    finally:
        done["spark"].stop()
    whole = roulade.batch(A, {"cathode.loading": 20 + numpy.arange(1000) / 500}, figures=["volumetric", "mass"])
    assert [row[DENSITY] for row in rows] == list(whole[DENSITY])
    light = [row[DENSITY] for row in rows if row["mass_of_the_cell_g"] < 320]
    assert 0 < len(light) < len(rows) and done["best"][0][0] == max(light)


def test_the_notebook_runs() -> None:
    import nbformat
    from nbclient import NotebookClient

    notebook = nbformat.read(TOP / "demo/three-questions.ipynb", as_version=4)
    NotebookClient(notebook, timeout=300, resources={"metadata": {"path": str(TOP / "demo")}}).execute()
    shown = [output for cell in notebook.cells for output in cell.get("outputs", []) if "data" in output]
    assert sum("image/png" in output["data"] for output in shown) >= 3


@pytest.mark.parametrize("check", [["mypy.stubtest", "roulade._roulade"], ["mypy", "-p", "roulade", "--config-file", str(TOP / "crates/roulade-py/pyproject.toml")]])
def test_types_are_current(check: list[str]) -> None:
    done = subprocess.run([sys.executable, "-m", *check], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
