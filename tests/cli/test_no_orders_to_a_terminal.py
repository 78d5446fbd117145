"""What stands in the records is shown on a terminal; it gives the terminal no orders."""

import pandas as pd
import pytest
from click.testing import CliRunner

from scoring.cli.harmless_console import shown_harmless
from scoring.cli.main import cli

CLEAR, TITLE, EIGHT_BITS, TURNED = "\x1b[2J", "\x1b]0;mine\x07", "\x9b31m", "\u202e"
ORDERS = "\x1b\x07\x9b\u202e"


@pytest.fixture
def fleet(tmp_path):
    units = pd.DataFrame(
        {
            "unit_id": ["U-1", "U-2"],
            "site": [f"North{CLEAR}", f"South{TITLE}{EIGHT_BITS}"],
            "line": [f"belt{CLEAR}", "belt"],
            "installer": [f"crew{TITLE}", ""],
            "installed_on": ["2024-01-10", "2024-01-11"],
            "mounting": "keyed_bore",
            "shaft_diameter_mm": "80",
        }
    )
    walkdowns = pd.DataFrame(
        {
            "walkdown_id": ["W-1"],
            "unit_id": ["U-1"],
            "inspected_on": ["2024-02-01"],
            "kind": ["periodic"],
            "oil_level": ["low"],
            "notes": [f"{CLEAR}{TURNED}"],
            f"strange{CLEAR}{TURNED}": ["1"],
        }
    )
    units.to_csv(tmp_path / "units.csv", index=False)
    walkdowns.to_csv(tmp_path / "walkdowns.csv", index=False)
    return tmp_path


def said(*given):
    result = CliRunner().invoke(cli, [str(one) for one in given])
    assert not set(ORDERS) & set(result.output), result.output
    return result.output


def test_a_ranking_shows_the_codes_of_what_a_terminal_would_obey(fleet):
    given = said("rank", fleet, "--as-of", "2026-06-30", "--out", fleet / "ranking.csv")
    assert "\\x1b" in given


@pytest.mark.parametrize("command", ["explain", "what-if"])
def test_what_is_said_of_one_unit_obeys_nothing(command, fleet):
    more = ["--do", "correct_oil_level"] if command == "what-if" else []
    assert "U-1" in said(command, fleet, "--unit", "U-1", "--as-of", "2026-06-30", *more)


def test_a_fault_and_a_heading_obey_nothing(fleet):
    text = (fleet / "units.csv").read_text()
    (fleet / "units.csv").write_text(text.replace("keyed_bore", f"keyed{CLEAR}"))
    assert "keyed\\x1b[2J" in said("check", fleet)


def test_a_proposed_plan_is_told_harmlessly(fleet):
    assert "\\x1b" in said("reading-plan", fleet, "--out", fleet / "plan.toml")


@pytest.mark.parametrize("text", ["plain", "naïve Ø 80 · ■", "two\nlines\tand a tab"])
def test_what_a_terminal_only_shows_is_left_as_it_is(text):
    assert shown_harmless(text) == text
