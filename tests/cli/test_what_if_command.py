"""``mount-risk what-if`` as a person uses it."""

from click.testing import CliRunner
from kept_plants import SMALL_QUARRY

from scoring.cli.main import cli
from scoring.errors import FaultyRecordsError, FixableError

UNIT = ("what-if", SMALL_QUARRY, "--as-of", "2026-06-30", "--unit", "SS-018")


def run(*more):
    return CliRunner().invoke(cli, [*UNIT, *more])


def test_it_tells_before_and_after_what_it_takes_and_the_cautions():
    result = run("--do", "restore_isolation;retorque_in_passes")
    assert result.exit_code == 0, result.output
    for words in (
        "verdict:",
        "->",
        "loss avoided",
        "hours of one person",
        "succeeds with a chance of",
    ):
        assert words in result.output
    assert "lock out and tag out" in result.output


def test_a_look_alone_tells_no_loss_avoided():
    result = run("--set", "oil_level=low")
    assert result.exit_code == 0, result.output
    assert "-> hold" in result.output
    assert "loss avoided" not in result.output


def test_what_a_person_can_put_right_is_said():
    assert isinstance(run("--do", "polish_it").exception, FixableError)
    assert "one of back_off_isolators" in str(run("--do", "polish_it").exception)
    assert "has nothing to do" in str(run("--do", "renew_support_bushings").exception)
    assert "guard" in str(run("--set", "guard=gone").exception)
    assert "check=value" in str(run("--set", "guard").exception)
    assert "no check" in str(run("--set", "gard=fitted").exception)
    assert run().exit_code == 2
    other = CliRunner().invoke(cli, [*UNIT[:4], "--unit", "nobody", "--do", "fit_guard"])
    assert "nobody" in str(other.exception)


def test_settings_are_read_and_their_faults_named_by_row_and_column(tmp_path):
    ours = tmp_path / "ours.csv"
    ours.write_text("site,action,hours\n,fit_guard,7.5\n", encoding="utf-8")
    result = run("--do", "fit_guard", "--actions", str(ours))
    assert "8.5 hours of one person" in result.output
    ours.write_text(
        "site,action,hours\nMoon,fit_guard,7\n,fit_guard,-1\n,polish,2\n", encoding="utf-8"
    )
    fault = run("--do", "fit_guard", "--actions", str(ours)).exception
    assert isinstance(fault, FaultyRecordsError)
    for words in ("row 2, site: 'Moon'", "row 3, hours: '-1'", "row 4, action: 'polish'"):
        assert words in str(fault)


def test_a_re_hang_says_what_nobody_has_seen_any_more():
    result = run("--do", "reseat_on_shaft")
    assert result.exit_code == 0, result.output
    assert "hung anew, to be looked at again; good looks that tell nothing any more: " in (
        result.output
    )
    assert "hung anew" not in run("--do", "open_breather").output
