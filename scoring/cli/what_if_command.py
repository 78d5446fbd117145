"""``mount-risk what-if``: what re-work at one unit, or another finding, would change."""

from collections.abc import Hashable, Mapping
from pathlib import Path
from typing import Any

import click

from scoring.asking.changes import change_at
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.reading_settings import actions_option, efforts_from
from scoring.cli.screen import counted, percent, say
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODE_WORDS
from scoring.contract.rework import ACTION_BY_NAME
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.rework_success import ReworkSuccess, learn_rework_success
from scoring.what_if.what_is_credited import how_it_is_counted


@click.command()
@click.option("--unit", "unit_id", required=True, help="Id of the unit.")
@click.option("--do", "to_do", default="", metavar="ACTIONS", help="Re-work, ; between actions.")
@click.option(
    "--set", "to_set", default="", metavar="VALUES", help="What a look would find: check=value;..."
)
@actions_option
@asks_of_a_fleet
def what_if(
    question: FleetQuestion,
    unit_id: str,
    to_do: str,
    to_set: str,
    settings: Path | None,
) -> None:
    """Tell what re-work at a unit of FLEET, or another finding, would change."""
    if not to_do.strip() and not to_set.strip():
        raise click.UsageError("give --do ACTIONS, --set VALUES or both")
    _ = actions_of(to_do)  # what cannot be done is told before records are read
    checked = question.read()
    efforts = efforts_from(settings, checked.fleet.units)
    assessor, assessment = question.judge(checked)
    success = learn_rework_success(assessor.timeline, question.day)
    stands = AssessedFleet(assessor, assessment, success, efforts)
    change = change_at(stands, unit_id, to_do, to_set)
    row = change.answer.to_dict("records")[0]
    _tell(row, question.horizon, to_set)
    _tell_work(row, success)
    if change.hung_anew:
        say(f"  {change.hung_anew}")
    say(f"\n{CAUTIONS}")


def _tell(row: Mapping[Hashable, Any], horizon: int, to_set: str) -> None:
    say(f"{row['unit_id']} at {row['site']}, within {horizon} days")
    if to_set.strip():
        say(f"  a look finds: {to_set}")
    say(f"  verdict: {row['verdict']} -> {row['verdict_after']}")
    for mode, words in MODE_WORDS.items():
        if f"p_{mode}" in row:
            before, after = (_chance(row, mode, end) for end in ("", "_after"))
            say(f"  {words}: {before} -> {after}")
    currency = row["currency"] if isinstance(row["currency"], str) else ""
    before, after = row["expected_loss"], row["expected_loss_after"]
    say(f"  expected loss: {before:,.0f} -> {after:,.0f} {currency}".rstrip())
    if row["actions"] and not to_set.strip():
        how = how_it_is_counted(row)
        avoided = f"  loss avoided: {row['loss_avoided']:,.0f} {currency}".rstrip()
        say(f"{avoided} ({how})" if how else avoided)
        if after > before:
            say("  more is expected to be lost: hanging a unit anew can leave faults of its own")


def _chance(row: Mapping[Hashable, Any], mode: str, end: str) -> str:
    chance, low, high = (row[f"p_{mode}{part}{end}"] for part in ("", "_low", "_high"))
    return f"{percent(chance)} ({percent(low)} to {percent(high)})"


def _tell_work(row: Mapping[Hashable, Any], success: ReworkSuccess) -> None:
    if not row["actions"]:
        return
    currency = row["currency"] if isinstance(row["currency"], str) else ""
    parts = f"; parts take {counted(row['lead_days'], 'day')}" if row["lead_days"] else ""
    say(
        f"\nwork: {row['hours']:g} hours of one person, set-ups included; "
        f"{row['people']} at once; {'with a crane' if row['crane'] else 'no crane'}; "
        f"{'the line stops' if row['line_stops'] else 'the line runs on'}{parts}; "
        f"cost {row['cost']:,.0f} {currency}".rstrip()
    )
    learned = {one["action"]: one for one in success.table.to_dict("records")}
    for name in row["actions"].split(";"):
        one, effort = learned[name], ACTION_BY_NAME[name].effort
        say(f"  {name}: {ACTION_BY_NAME[name].does}")
        say(
            f"      succeeds with a chance of {one['chance']:.0%} ({one['low']:.0%} to "
            f"{one['high']:.0%}); {one['succeeded']} of {counted(one['looks'], 'look')} after it"
        )
        for what, needed in (("tools", effort.tools), ("parts", effort.parts)):
            if needed:
                say(f"      {what}: {', '.join(needed)}")
        if effort.caution:
            say(f"      mind: {effort.caution}")
