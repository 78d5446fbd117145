"""The work order of a plan as a file, as a person asks for it."""

import pytest
from click.testing import CliRunner
from kept_plants import SMALL_QUARRY
from printed_pages import text_of

from scoring.cli.main import cli

ASKED = ("--as-of", "2026-06-30", "--people", "4", "--crew-hours", "40")


def order(out, *arguments, exit_code=0):
    words = ["sheet", "work-order", *arguments, "--out", str(out)]
    result = CliRunner().invoke(cli, words)
    got = getattr(result.exception, "exit_code", result.exit_code)
    assert got == exit_code, result.output + repr(result.exception)
    return result


def test_it_writes_the_plan_and_says_where(tmp_path):
    out = tmp_path / "order.pdf"
    said = order(out, SMALL_QUARRY, *ASKED, "--hours-a-day", "6", "--host", "https://plant.example")
    assert str(out) in said.output
    assert "lock out and tag out" in said.output
    pages = text_of(out.read_bytes())
    assert "of 6 hours" in pages[0]
    assert "Day by day" in pages[0]


def test_it_speaks_as_it_is_asked(tmp_path):
    out = tmp_path / "order.html"
    order(out, SMALL_QUARRY, *ASKED, "--language", "de")
    assert "Arbeitsauftrag" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "wrong",
    [
        ("--as-of", "2026-06-30"),
        ("--crew-hours", "40", "--windows", __file__),
        ("--crew-hours", "40", "--lift", "1", "--by-loss-alone"),
        ("--crew-hours", "40", "--hours-a-day", "25"),
    ],
)
def test_what_cannot_be_asked_is_refused(tmp_path, wrong):
    out = tmp_path / "order.pdf"
    order(out, SMALL_QUARRY, *wrong, exit_code=2)
    assert not out.exists()
