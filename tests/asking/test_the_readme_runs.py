"""The Python in README runs as it stands there, and its table names what is offered."""

import re
from importlib import resources
from pathlib import Path

import pandas as pd

import scoring

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
FIVE_LINES, NOTEBOOK = re.findall(r"```python\n(.*?)```", README, flags=re.DOTALL)


def run(lines):
    there = {}
    exec(lines, there)  # noqa: S102 - what a user would run
    return there


def test_five_lines_rank_a_dataframe(tmp_path, monkeypatch):
    for name in ("units", "walkdowns"):
        text = resources.files("demo_data") / "small_quarry" / f"{name}.csv"
        (tmp_path / f"{name}.csv").write_bytes(text.read_bytes())
    monkeypatch.chdir(tmp_path)
    assert len([line for line in FIVE_LINES.splitlines() if line]) == 5
    ranking = run(FIVE_LINES)["ranking"]
    expected = scoring.rank(scoring.read(tmp_path), as_of="2026-06-30")
    pd.testing.assert_frame_equal(ranking, expected, check_exact=True)


def test_the_notebook_runs_cell_by_cell(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    there = run(NOTEBOOK)
    assert len(re.findall(r"^# %% ", NOTEBOOK, flags=re.MULTILINE)) == 6
    shown = capsys.readouterr().out
    for unit_id in there["plan"].jobs["unit_id"]:
        assert unit_id in shown
    pd.testing.assert_frame_equal(there["again"].ranking, there["stands"].ranking, rtol=1e-9)
    assert scoring.read("july.xlsx").faults.empty


def test_the_table_names_all_that_is_offered():
    section = README.partition("## In a notebook or a pipeline")[2].partition("\n## ")[0]
    named = set(re.findall(r"`scoring\.(\w+)", section))
    types = {"Assessed", "Learned", "Records", "FaultyRecordsError", "UnreadableFleetError"}
    assert named == set(scoring.__all__) - types
    methods = {name for name in vars(scoring.Assessed) if not name.startswith("_")}
    assert methods - {"stands", "notes"} <= set(re.findall(r"`\.(\w+)", section))
