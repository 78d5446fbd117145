"""A check more, or less, moves nothing else of what is generated."""

import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest

from demo_data.write import RECORDS, TRUTHS

PLANTED = "paint_mm"
KEYS = {"walkdowns": "walkdown_id", "events": "event_id", "rework": "rework_id"}


class Plants:
    """Fleets with something planted, each generated once, in a process of its own."""

    def __init__(self, place: Path) -> None:
        self.place = place

    def folder(self, *what: str) -> Path:
        """Return where a fleet with this planted lies."""
        folder = self.place / "_".join(what)
        if not folder.exists():
            script = Path(__file__).parent / "planted.py"
            subprocess.run([sys.executable, str(script), str(folder), *what], check=True)
        return folder

    def table(self, name: str, *what: str) -> pd.DataFrame:
        """Return one of its tables, as text."""
        return pd.read_csv(self.folder(*what) / f"{name}.csv", dtype=str, keep_default_na=False)

    def of_units(self, *what: str, leaving_out: list[str]) -> pd.Series:
        """Return all that is recorded of each unit, but for running numbers and some checks."""
        reported = []
        for name in ("units", "walkdowns", "events", "rework"):
            rows = self.table(name, *what).drop(columns=leaving_out, errors="ignore")
            rows = rows.drop(columns=[KEYS.get(name, ""), "event_id"], errors="ignore")
            joined = rows.agg("|".join, axis=1)
            reported.append(joined.groupby(rows["unit_id"], sort=False).agg("\n".join))
        return pd.concat(reported, axis=1).fillna("").agg("\n".join, axis=1)


@pytest.fixture(scope="module")
def fleets(tmp_path_factory: pytest.TempPathFactory) -> Plants:
    return Plants(tmp_path_factory.mktemp("planted"))


def test_a_check_and_an_action_unknown_to_it_are_never_seen_nor_done(fleets: Plants) -> None:
    for name in RECORDS:
        with_it, without = fleets.table(name, "unknown"), fleets.table(name, "as_it_is")
        if name == "walkdowns":
            assert (with_it.pop(PLANTED) == "").all()
        pd.testing.assert_frame_equal(with_it, without)
    for name in TRUTHS:
        path = f"truth/{name}.parquet"
        one, two = fleets.folder("unknown") / path, fleets.folder("as_it_is") / path
        assert one.read_bytes() == two.read_bytes(), name


def test_a_fault_more_that_nobody_cures_moves_no_other_column(fleets: Plants) -> None:
    walkdowns = fleets.table("walkdowns", "known")
    planted = pd.to_numeric(walkdowns[PLANTED])
    assert planted.notna().mean() > 0.5
    assert 0.05 < (planted > 1.5).sum() / planted.notna().sum() < 0.3
    for name in ("units", "walkdowns", "events", "rework"):
        with_it = fleets.table(name, "known").drop(columns=PLANTED, errors="ignore")
        pd.testing.assert_frame_equal(with_it, fleets.table(name, "as_it_is"))
    for name in ("units", "actions", "effects"):
        path = f"truth/{name}.parquet"
        one = pd.read_parquet(fleets.folder("known") / path)
        two = pd.read_parquet(fleets.folder("as_it_is") / path)
        if name == "effects":
            one = one[one["effect"] != PLANTED].reset_index(drop=True)
        pd.testing.assert_frame_equal(one, two)


def moved(fleets: Plants, *what: str, but_for: list[str]) -> set[str]:
    """Return the units of which anything but some checks is recorded otherwise."""
    here = fleets.of_units(*what, leaving_out=but_for)
    there = fleets.of_units("as_it_is", leaving_out=but_for)
    assert list(here.index) == list(there.index)
    return set(here.index[here != there])


def of_one_reducer(fleets: Plants, units: set[str]) -> set[str]:
    """Return units and those on whose shaft the same reducer served."""
    assets = fleets.table("units", "as_it_is").set_index("unit_id")["asset_id"]
    assets = assets[assets != ""]
    return units | set(assets.index[assets.isin(assets[assets.index.isin(units)])])


def failed(fleets: Plants, *what: str) -> set[str]:
    return set(fleets.table("events", *what)["unit_id"])


def test_a_fault_more_that_fails_and_is_cured_moves_only_its_own_units(fleets: Plants) -> None:
    rework = fleets.table("rework", "cured")
    assert rework["actions"].str.contains("paint").any()
    walkdowns = fleets.table("walkdowns", "cured")
    found = set(walkdowns.loc[pd.to_numeric(walkdowns[PLANTED]) > 1.5, "unit_id"])
    touched = of_one_reducer(fleets, found | failed(fleets, "cured") | failed(fleets, "as_it_is"))
    # a plant's rate of failures is given: who has not the fault has a little less to show
    symptoms = ["running_temperature_c", "vibration_mm_s"]
    here = moved(fleets, "cured", but_for=[PLANTED, *symptoms])
    assert 0 < len(here) < 0.5 * 300
    assert here <= touched


def test_a_fault_less_moves_only_its_own_units(fleets: Plants) -> None:
    check = "tightening_order"
    assert (fleets.table("walkdowns", "without", check)[check] == "").all()
    walkdowns = fleets.table("walkdowns", "as_it_is").merge(fleets.table("units", "as_it_is"))
    right = walkdowns["mounting"].map(lambda name: "star" if "taper" in name else "circular")
    wrong = (walkdowns[check] != "") & (walkdowns[check] != right)
    found = set(walkdowns.loc[wrong, "unit_id"])
    touched = of_one_reducer(
        fleets, found | failed(fleets, "without", check) | failed(fleets, "as_it_is")
    )
    here = moved(fleets, "without", check, but_for=[check])
    assert 0 < len(here) < 0.25 * 300
    assert here <= touched
