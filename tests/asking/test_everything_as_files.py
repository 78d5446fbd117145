"""All tables, ranking and plan as files: they read back value for value, and are harmless."""

import json

import pandas as pd
import pytest
from click.testing import CliRunner
from demo_frames import DAY
from kept_plants import SMALL_QUARRY as PLANT
from openpyxl import load_workbook

import scoring
from scoring.cli.main import cli
from scoring.contract import FLEET_TABLES
from scoring.contract.windows import PLAN

WAYS = (
    ("folder", "csv"),
    ("folder", "parquet"),
    ("folder", "xlsx"),
    ("fleet.xlsx", "csv"),
)


def run(*words):
    return CliRunner().invoke(cli, [*map(str, words)], catch_exceptions=False)


@pytest.mark.parametrize(("name", "kind"), WAYS)
def test_an_export_reads_back_value_for_value(name, kind, tmp_path):
    out = tmp_path / name
    done = run(
        *("export", PLANT, "--as-of", DAY, "--crew-hours", 40, "--out", out, "--format", kind)
    )
    assert done.exit_code == 0, done.output
    place = out / "fleet.xlsx" if kind == "xlsx" else out
    checked = run("check", place)
    assert checked.exit_code == 0
    assert "no faults: 60 units" in checked.output
    before, after = scoring.read(PLANT), scoring.read(place)
    for table in FLEET_TABLES:
        one, other = before.tables[table.name], after.tables[table.name]
        pd.testing.assert_frame_equal(other, one, check_exact=True)
    ranked = scoring.rank(after, as_of=DAY)
    pd.testing.assert_frame_equal(ranked, scoring.rank(before, as_of=DAY), check_exact=True)


def beside(out, kind, name):
    if kind == "xlsx" or out.suffix == ".xlsx":
        place = out if out.suffix == ".xlsx" else out / "fleet.xlsx"
        return pd.read_excel(place, sheet_name=name)
    read = pd.read_csv if kind == "csv" else pd.read_parquet
    return read(out / f"{name}.{kind}")


@pytest.mark.parametrize(("name", "kind"), WAYS)
def test_ranking_plan_and_dictionary_lie_beside_the_records(name, kind, tmp_path):
    stands = scoring.assess(scoring.read(PLANT), as_of=DAY, handbook_only=True)
    plan, out = stands.plan(40), tmp_path / name
    stands.export(out, kind=kind, plan=plan)
    ranking = beside(out, kind, "ranking")
    assert ranking["unit_id"].tolist() == stands.ranking["unit_id"].tolist()
    assert beside(out, kind, "plan").columns.tolist() == [one.name for one in PLAN.columns]
    told = beside(out, kind, "data_dictionary").fillna("")
    for table in [*(one.name for one in FLEET_TABLES), "ranking", "plan"]:
        written = beside(out, kind, table).columns.tolist()
        assert told.loc[told["table"] == table, "column"].tolist() == written
    assert set(told["table"]) == {*(one.name for one in FLEET_TABLES), "ranking", "plan"}


def test_own_headings_and_units_come_out_in_ours(tmp_path):
    own = pd.DataFrame(
        {
            "Getriebe": ["0012", "=1+1"],
            "site": ["quarry", "@port"],
            "installed_on": ["2026-01-31T06:30", "2026-02-28"],
            "mounting": "keyed_bore",
            "shaft_diameter_in": ["2 15/16", "3"],
        }
    )
    records = scoring.take(own, headings={"units": {"Getriebe": "unit_id"}})
    scoring.assess(records, as_of=DAY).export(tmp_path / "out")
    assert scoring.read(tmp_path / "out").tables["units"]["unit_id"].tolist() == ["0012", "=1+1"]
    for one, other in zip(
        records.tables.values(), scoring.read(tmp_path / "out").tables.values(), strict=True
    ):
        pd.testing.assert_frame_equal(other, one, check_exact=True)
    text = (tmp_path / "out" / "units.csv").read_text("utf-8")
    assert "74.6125" in text
    assert "2026-01-31T06:30:00" in text


def test_no_cell_runs_as_a_formula(tmp_path):
    units = pd.DataFrame(
        {
            "unit_id": ["=1+1", "+A1", "-A2", "@x"],
            "site": "=HYPERLINK(A1)",
            "installed_on": "2026-01-31",
            "mounting": "keyed_bore",
            "shaft_diameter_mm": 80,
        }
    )
    stands = scoring.assess(scoring.take(units), as_of=DAY)
    stands.export(tmp_path / "out")
    for path in (tmp_path / "out").glob("*.csv"):
        for cells in pd.read_csv(path, dtype=str, keep_default_na=False).to_numpy():
            assert not [cell for cell in cells if cell.startswith(("=", "+", "@", "-A"))]
    stands.export(tmp_path / "fleet.xlsx")
    book = load_workbook(tmp_path / "fleet.xlsx")
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    assert json.loads((tmp_path / "out" / "exported.json").read_text())["written_by"]


def test_a_store_comes_out_as_its_files_do(tmp_path):
    store = f"sqlite:///{tmp_path / 'plant.db'}"
    assert run("load", PLANT, "--store", store, "--by", "Ann Bell").exit_code == 0
    for where, out in ((store, tmp_path / "of_store"), (PLANT, tmp_path / "of_files")):
        assert run("export", where, "--as-of", DAY, "--out", out).exit_code == 0
    of_store, of_files = (scoring.read(tmp_path / place) for place in ("of_store", "of_files"))
    for table in FLEET_TABLES:
        one, other = (
            of.tables[table.name].sort_values(table.key, ignore_index=True)
            for of in (of_files, of_store)
        )
        pd.testing.assert_frame_equal(other, one, check_exact=True)
    ours, theirs = (tmp_path / place / "ranking.csv" for place in ("of_store", "of_files"))
    pd.testing.assert_frame_equal(pd.read_csv(ours), pd.read_csv(theirs), rtol=1e-7)


def test_nothing_is_written_over(tmp_path):
    (tmp_path / "notes.txt").write_text("mine")
    stands = scoring.assess(
        scoring.take(
            pd.DataFrame(
                {
                    "unit_id": ["A-1"],
                    "site": "s",
                    "installed_on": "2026-01-31",
                    "mounting": "keyed_bore",
                    "shaft_diameter_mm": 80,
                }
            )
        ),
        as_of=DAY,
    )
    with pytest.raises(scoring.FixableError, match="is not empty; give a new folder"):
        stands.export(tmp_path)
    assert (tmp_path / "notes.txt").read_text() == "mine"


def test_a_fleet_with_faults_is_not_written(tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "units.csv").write_text("unit_id,site\nA-1,\n")
    (tmp_path / "in" / "walkdowns.csv").write_text("walkdown_id,unit_id,inspected_on,kind\n")
    done = CliRunner().invoke(cli, ["export", str(tmp_path / "in"), "--out", str(tmp_path / "o")])
    assert "the table units cannot be used; nothing was done" in str(done.exception)
    assert not (tmp_path / "o").exists()


def test_crew_hours_want_a_fleet(tmp_path):
    done = run("export", "--crew-hours", 8, "--out", tmp_path / "o")
    assert "--crew-hours goes with a FLEET" in done.output
