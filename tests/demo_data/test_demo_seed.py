"""The seed decides everything, down to the bytes."""

from pathlib import Path

import pandas as pd
import pytest

from demo_data.__main__ import main
from demo_data.generate import generate_fleet
from demo_data.plants import FOLDER
from demo_data.write import RECORDS, TRUTHS, write_fleet

EVERY_FILE = [f"{name}.csv" for name in RECORDS] + [f"truth/{name}.parquet" for name in TRUTHS]


def test_same_seed_gives_same_bytes(tmp_path: Path) -> None:
    for copy in ("one", "two"):
        write_fleet(generate_fleet(units=150, seed=5), tmp_path / copy)
    for name in EVERY_FILE:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_another_seed_gives_another_fleet() -> None:
    one, two = generate_fleet(units=60, seed=1), generate_fleet(units=60, seed=2)
    assert not one.walkdowns.equals(two.walkdowns)
    assert not one.truth.effects["log_multiplier"].equals(two.truth.effects["log_multiplier"])


def test_committed_plants_come_again(tmp_path: Path) -> None:
    assert main([str(tmp_path), "--plants"]) == 0
    for plant in ("small_quarry", "grain_port", "ore_works"):
        for name in RECORDS:
            path = f"{plant}/{name}.csv"
            assert (tmp_path / path).read_bytes() == (FOLDER / path).read_bytes(), path
        for name in TRUTHS:
            path = f"{plant}/truth/{name}.parquet"
            again, kept = pd.read_parquet(tmp_path / path), pd.read_parquet(FOLDER / path)
            pd.testing.assert_frame_equal(again, kept, rtol=1e-5)


def test_command_writes_a_fleet(tmp_path: Path) -> None:
    assert main([str(tmp_path / "new"), "--units", "40", "--seed", "3", "--end", "2025-12-31"]) == 0
    walkdowns = pd.read_csv(tmp_path / "new" / "walkdowns.csv", dtype=str)
    assert walkdowns["inspected_on"].min() > "2020-12-31"
    assert walkdowns["inspected_on"].max() < "2026-01-01"


def test_command_says_what_is_wrong(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(tmp_path), "--units", "3"]) == 2
    assert "at least 20" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main([])


@pytest.mark.parametrize("sites", [0, 21])
def test_sites_must_fit(sites: int) -> None:
    with pytest.raises(ValueError, match="sites"):
        generate_fleet(units=20, seed=1, sites=sites)


def test_committed_plants_are_small() -> None:
    size = sum(path.stat().st_size for path in (FOLDER / "ore_works").glob("*.csv"))
    truth = sum(path.stat().st_size for path in (FOLDER / "ore_works").glob("truth/*"))
    assert size < 5_000_000
    assert truth < 1_000_000
