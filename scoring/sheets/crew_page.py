"""A page for one crew: what it gets wrong more often than luck explains, and how that is right."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Any

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.consequences.preload_left import USUAL_SCREWS
from scoring.contract import CHECK_BY_NAME, Check
from scoring.contract.amounts_in_words import after_amount, percent, rounded, thousands
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, MODES, SEAL_LEAK
from scoring.drawing.circle_of_screws import draw_screws_by_number
from scoring.errors import FixableError
from scoring.explanation.what_a_fault_does import FaultDoes, what_a_fault_does
from scoring.rules.tightening_schedule import torque_shares
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.sheets.sheet_blocks import (
    Align,
    Beside,
    Block,
    Column,
    Facts,
    Heading,
    Points,
    Prose,
    Section,
    Sheet,
    Table,
    Together,
    Weight,
    Written,
)
from scoring.trends.better_sentences import share_said
from scoring.trends.change_with_interval import CANNOT_BE_TOLD as NOT_TOLD
from scoring.trends.crew_over_time import CrewOverTime, OverTime, crew_over_time
from scoring.trends.looks_after_hanging import WITHIN_DAYS, looks_after_hanging
from scoring.trends.steps_of_a_crew import (
    CANNOT_BE_TOLD,
    LESS,
    MORE,
    StepsOfCrew,
    steps_of_a_crew,
)
from scoring.walkdown_form.check_picture import draw_where_to_look
from scoring.walkdown_form.tightening_help import ASKED_WITH, NOTE
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

MOST_DRAWN = 3
"""So many steps are drawn; a crew that is to learn more at once learns nothing. Ours."""

MOST_CREWS_NAMED = 12
"""So many names are listed where a crew is not on record. Ours."""

IMPAIRED = {LOW_SPEED_BEARING: "bearing", SEAL_LEAK: "seal", JOINT_SLIP: "joint slips"}
"""What a failure is called in a narrow column."""

NOTHING_RECKONED = "no effect on bearing, seal or joint is reckoned with"
PEOPLE_ONLY = "endangers people; nothing to bearing or seal"

HOW_IT_IS_WORKED_OUT = (
    "Counted: the first look at each step within {days} days of a hanging and before any other "
    "re-work, whoever looked. Of a unit hung anew only what hanging makes anew. The shaft itself "
    "is no crew's doing and is left out. A step is named if so many faults would hardly come about "
    "by luck (exact test, mounting by mounting; of all that is named on such pages about one in "
    "ten may still be luck). Times as usual: drawn towards 1, the more the fewer looks there are, "
    "with its 90 % interval. The reason is not known from this: the work, the machines, the parts "
    "or who looked."
)


@dataclass(frozen=True)
class CrewResults:
    """What is known of a crew's hangings.

    Attributes
    ----------
    crew : str
        The crew.
    hangings : int
        Of which at least one step was looked at.
    first, last : Timestamp or None
        Days of the first and of the last of them.
    only_crew : bool
        Whether there is no other crew to compare it with.
    steps : StepsOfCrew
        Its steps beside the fleet's.
    over_time : CrewOverTime
        Its later hangings beside the earlier.
    does : dict of str to FaultDoes or None
        What each named step does when left wrong.
    currency : str
        Of losses; may be empty.
    horizon_days : int
        So far ahead chances and losses reach. [d]
    """

    crew: str
    hangings: int
    first: pd.Timestamp | None
    last: pd.Timestamp | None
    only_crew: bool
    steps: StepsOfCrew
    over_time: CrewOverTime
    does: dict[str, FaultDoes | None]
    currency: str
    horizon_days: int


def crew_results(assessor: FleetAssessor, assessment: Assessment, crew: str) -> CrewResults:
    """Work out what is known of a crew's hangings.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands.
    crew : str
        The crew, as in the records.

    Returns
    -------
    CrewResults

    Raises
    ------
    FixableError
        If no crew of that name hung a unit by that day.
    """
    as_of = assessment.known.as_of
    looks = looks_after_hanging(assessor.timeline, as_of)
    _refuse_unknown(assessor, looks, crew, as_of)
    own = looks[looks["crew"] == crew]
    hung = own.drop_duplicates(["unit_id", "hung_on"])["hung_on"]
    steps = steps_of_a_crew(looks, crew)
    named = steps.standing(MORE)
    checks = tuple(dict.fromkeys(named["check"]))
    return CrewResults(
        crew=crew,
        hangings=len(hung),
        first=hung.min() if len(hung) else None,
        last=hung.max() if len(hung) else None,
        only_crew=bool((looks["crew"] == crew).all()),
        steps=steps,
        over_time=crew_over_time(looks, crew, checks),
        does={
            _key(row): what_a_fault_does(assessment, row["check"], _mountings(row), crew)
            for row in named.to_dict("records")
        },
        currency=assessment.risk.costs.currency,
        horizon_days=assessment.horizon_days,
    )


def crew_page(assessor: FleetAssessor, assessment: Assessment, crew: str) -> Sheet:
    """Return the page of one crew; no other crew is on it.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands.
    crew : str
        The crew, as in the records.

    Returns
    -------
    Sheet

    Raises
    ------
    FixableError
        If no crew of that name hung a unit by that day.
    """
    results = crew_results(assessor, assessment, crew)
    title = "How a crew hangs units"
    below = "This page shows this crew beside the fleet as a whole, and no other crew."
    first = Section(title, (Heading(Written(crew)), *_first_page(results)), below)
    sections = [first]
    drawn = _how_it_is_right(results)
    if drawn:
        sections.append(Section("How it is right", drawn))
    foot = foot_of_pages(assessor.fleet, assessment.known.as_of)
    return Sheet(title, tuple(sections), foot, CAUTIONS)


def _refuse_unknown(
    assessor: FleetAssessor, looks: pd.DataFrame, crew: str, as_of: pd.Timestamp
) -> None:
    units = assessor.fleet.units
    hung = units.loc[units["installed_on"].dt.normalize() <= as_of, "installer"]
    names = sorted({str(name) for name in [*hung.dropna(), *looks["crew"].dropna()]})
    if crew in names:
        return
    said = "; ".join(names[:MOST_CREWS_NAMED])
    if len(names) > MOST_CREWS_NAMED:
        said += f"; and {len(names) - MOST_CREWS_NAMED} more"
    known = f"on record by then: {said}" if names else "no crew is on record (column installer)"
    raise FixableError(
        f"no crew {crew!r} hung a unit by {as_of.date()}; {known}. Names are case-sensitive: --crew"
    )


def _first_page(results: CrewResults) -> tuple[Block, ...]:
    named = results.steps.standing(MORE)
    return (
        Prose(_headline(results, len(named)), Weight.STRONG),
        Facts(_facts(results), columns=1),
        *_named_steps(results, named),
        *_done_well(results),
        *_over_time(results),
        *_not_told(results),
        Heading("How this is worked out", 3),
        Prose(HOW_IT_IS_WORKED_OUT.format(days=WITHIN_DAYS), Weight.QUIET),
    )


def _headline(results: CrewResults, named: int) -> str:
    if results.hangings == 0:
        return "Nobody looked at this crew's hangings in time, so nothing can be told of them."
    if results.only_crew:
        return "No other crew is on record, so there is nothing to compare this crew with."
    if named == 0:
        return "No step is found wrong more often than luck explains."
    if named == 1:
        return "One step is found wrong more often than luck explains."
    return f"{named} steps are found wrong more often than luck explains."


def _facts(results: CrewResults) -> tuple[tuple[str, str], ...]:
    if results.first is None or results.last is None:
        return (("hangings looked at", "none"),)
    steps = results.steps.steps
    looks, wrong = int(steps["looks"].sum()), int(steps["wrong"].sum())
    usual = f"by the fleet's shares {rounded(float(steps['expected'].sum()))} would be usual"
    span = f"{results.first:%Y-%m-%d} to {results.last:%Y-%m-%d}"
    return (
        ("hangings looked at", f"{thousands(results.hangings)}, {span}"),
        (
            "all steps together",
            f"{thousands(wrong)} of {thousands(looks)} looks found something wrong; {usual}",
        ),
    )


def _named_steps(results: CrewResults, named: pd.DataFrame) -> tuple[Block, ...]:
    if named.empty:
        return ()
    rows = named.to_dict("records")
    table = Table(
        (
            Column("step", share=1.6),
            Column("this crew", Align.RIGHT),
            Column("whole fleet", Align.RIGHT),
            Column("times as usual, 90 % interval", Align.RIGHT),
        ),
        tuple(
            (
                _step_said(results, row),
                f"{row['wrong']} of {row['looks']}",
                f"{row['fleet_wrong']} of {row['fleet_looks']}",
                f"{row['ratio']:.1f} ({row['low']:.1f} to {row['high']:.1f})",
            )
            for row in rows
        ),
    )
    return (
        Heading("Found wrong more often than luck explains"),
        table,
        Heading(f"What it does when it is left wrong, within {results.horizon_days} days"),
        _what_it_does(results, rows),
    )


def _step_said(results: CrewResults, row: dict[Hashable, Any]) -> str:
    """Say a step, and at which mounting it is worst where that can be told."""
    label = CHECK_BY_NAME[str(row["check"])].label
    if isinstance(row["mounting"], str):
        return f"{label} ({MOUNTING_WORDS[row['mounting']]})"
    at = results.steps.by_mounting
    worst = at[(at["check"] == row["check"]) & (at["stands"] == MORE)]
    if worst.empty:
        return label
    mountings = ", ".join(MOUNTING_WORDS[one] for one in worst["mounting"])
    return f"{label} ({mountings})"


def _what_it_does(results: CrewResults, rows: list[dict[Hashable, Any]]) -> Table:
    columns = (
        Column("step", share=1.0),
        *(Column(f"{words}: right, wrong", Align.RIGHT) for words in IMPAIRED.values()),
        Column("more loss a unit", Align.RIGHT),
    )
    cells: list[tuple[str, ...]] = []
    for row in rows:
        check = CHECK_BY_NAME[str(row["check"])]
        does = results.does[_key(row)]
        if does is None:
            why = PEOPLE_ONLY if check.harms_people_only else NOTHING_RECKONED
            cells.append((check.label, why, "", "", ""))
            continue
        chances = (does.chances[mode] for mode in MODES)
        cells.append(
            (
                check.label,
                *(f"{percent(good)}, {percent(wrong)}" for good, wrong in chances),
                f"{rounded(does.loss)}{after_amount(results.currency or None)}",
            )
        )
    return Table(columns, tuple(cells))


def _done_well(results: CrewResults) -> tuple[Block, ...]:
    well = results.steps.standing(LESS)
    if well.empty:
        return ()
    said = tuple(
        f"{CHECK_BY_NAME[row['check']].label}: {row['wrong']} of {row['looks']}, in the fleet "
        f"{row['fleet_wrong']} of {row['fleet_looks']}"
        for row in well.to_dict("records")
    )
    return (Heading("Found right more often than luck explains"), Points(said))


def _over_time(results: CrewResults) -> tuple[Block, ...]:
    over = results.over_time
    if results.hangings == 0:
        return ()
    heading = Heading("What has improved")
    if over.since is None:
        return (
            (heading, Prose("Too few hangings were looked at to tell.")) if results.hangings else ()
        )
    rows = tuple(_share_over_time(one) for one in over.shares)
    day = f"{over.since:%Y-%m-%d}"
    columns = (
        Column("found wrong", share=1.4),
        Column(f"hung before {day}", Align.RIGHT),
        Column("hung since", Align.RIGHT),
        Column("change in points, 90 %", Align.RIGHT),
        Column("so it is", share=0.6),
    )
    return (heading, Table(columns, rows))


def _share_over_time(one: OverTime) -> tuple[str, ...]:
    what = CHECK_BY_NAME[one.what].label if one.what else "all steps together"
    halves = (
        f"{wrong} of {of}, {share_said(wrong / of)}" if of else "none seen"
        for wrong, of in (one.earlier, one.later)
    )
    change = one.change
    if change is None:
        return (what, *halves, "", NOT_TOLD)
    interval = f"{100 * change.low:+.0f} to {100 * change.high:+.0f}".replace("-", "\u2212")
    return (what, *halves, interval, change.less_is)


def _not_told(results: CrewResults) -> tuple[Block, ...]:
    steps = results.steps.steps
    not_told = steps[steps["stands"] == CANNOT_BE_TOLD]
    if not_told.empty or results.only_crew:
        return ()
    labels = "; ".join(CHECK_BY_NAME[name].label for name in not_told["check"])
    words = f"Seen too seldom to be told from luck: {labels}."
    return (Heading("What cannot be told"), Prose(words))


def _how_it_is_right(results: CrewResults) -> tuple[Block, ...]:
    named = results.steps.standing(MORE)
    rows = named.drop_duplicates("check").to_dict("records")
    drawn = rows[:MOST_DRAWN]
    blocks: list[Block] = [_drawn_step(results, row) for row in drawn]
    of_screws = [row for row in drawn if row["check"] in ASKED_WITH]
    if of_screws:
        blocks.append(_drawn_screws(_drawn_at(results, of_screws[0])))
    others = [CHECK_BY_NAME[str(row["check"])] for row in rows[MOST_DRAWN:]]
    if others:
        said = Points(tuple(f"{check.label}: {check.good}" for check in others))
        blocks += [Heading("Not drawn here, good is"), said]
    return tuple(blocks)


def _drawn_screws(mounting: str) -> Block:
    """Draw order and passes of the screws; final torque and passes are those of the manual."""
    shares = ", ".join(f"{100 * share:.0f} %" for share in torque_shares())
    words = (
        Prose(f"shares of the final torque, pass by pass: {shares}", Weight.STRONG),
        Prose(f"drawn: {USUAL_SCREWS} screws", Weight.QUIET),
        Prose(NOTE, Weight.QUIET),
    )
    picture = Drawing(draw_screws_by_number(USUAL_SCREWS, mounting))
    return Together((Heading("Order of the screws"), Beside(((picture,), words), (1.0, 1.6))))


def _drawn_step(results: CrewResults, row: dict[Hashable, Any]) -> Block:
    check = CHECK_BY_NAME[str(row["check"])]
    mounting = _drawn_at(results, row)
    words: tuple[Block, ...] = (
        Prose(f"good: {check.good}", Weight.STRONG),
        Prose(f"look: {check.how_to_look}"),
        Prose(f"seen {check.seen.words}"),
        *_options(check, mounting),
        Prose(f"drawn: {MOUNTING_WORDS[mounting]}", Weight.QUIET),
    )
    picture = Drawing(draw_where_to_look(check.name, mounting))
    return Together((Heading(check.label), Beside(((picture,), words), (1.0, 1.6))))


def _options(check: Check, mounting: str) -> tuple[Block, ...]:
    """Say the words of a check as they count at a mounting, the good one first."""
    if not check.options:
        return ()
    if check.allowed and not check.is_numeric:
        right, *wrong = (check.words_of(word) for word in check.words_on(mounting))
        return (Points((f"right: {right}", *(f"wrong: {one}" for one in wrong))),)
    return ()


def _drawn_at(results: CrewResults, row: dict[Hashable, Any]) -> str:
    """Return the mounting at which a step is drawn: where this crew left it wrong most often."""
    if isinstance(row["mounting"], str):
        return row["mounting"]
    at = results.steps.by_mounting
    of_check = at[at["check"] == row["check"]]
    return str(of_check["mounting"].iloc[int(of_check["wrong"].to_numpy().argmax())])


def _key(row: dict[Hashable, Any]) -> str:
    return f"{row['check']} {row['mounting'] or ''}"


def _mountings(row: dict[Hashable, Any]) -> tuple[str, ...]:
    mounting = row["mounting"]
    return (mounting,) if isinstance(mounting, str) else tuple(MOUNTING_WORDS)
