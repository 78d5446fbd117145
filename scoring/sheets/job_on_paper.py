"""The pages of one job of a work order: why, steps, torques, what to look at afterwards."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME, CHECKS, Check, Seen
from scoring.contract.effort import OFF_AND_ON
from scoring.contract.ranking import HOLD
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.step_of_work import ORIGIN_OF_STEPS, When
from scoring.contract.steps_of_a_job import set_ups_of, steps_of_a_job
from scoring.drawing.cut_out import cut_out
from scoring.drawing.joint_section import CHECKS_OF_THE_JOINT, draw_joint
from scoring.drawing.screw_circle import draw_screw_circle, has_screw_circle
from scoring.drawing.screw_circle_known import ScrewsAsKnown, screws_as_known
from scoring.drawing.shapes import Box
from scoring.drawing.torque_arm_known import CHECKS_OF_THE_ARM
from scoring.drawing.torque_arm_picture import draw_torque_arm
from scoring.rules.rulebook import RULE_BY_NAME
from scoring.rules.what_cures import needed_at
from scoring.sheets.arm_on_paper import arm_on_paper
from scoring.sheets.drawing_on_paper import WIDEST_MM, Drawing
from scoring.sheets.sheet_blocks import (
    Align,
    Beside,
    Blank,
    Block,
    Cell,
    Code,
    Column,
    Facts,
    Heading,
    Points,
    Prose,
    Section,
    Signatures,
    Table,
    Together,
    Verdict,
    Weight,
    WriteHere,
    Written,
)
from scoring.sheets.shutdown_on_paper import what_it_buys
from scoring.sheets.unit_code import code_of_unit
from scoring.sheets.work_to_order import WorkToOrder
from scoring.timeline.what_hanging_does import WITNESS_MARK
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS
from scoring.what_if.action_arrays import actions_of

ROLES = ("work done by", "looked at after the work by", "released to run by")

CODE_MM, GAP_MM = 24.0, 5.0
"""Side of the code of the unit, and room beside it. [mm]"""

VERDICTS_SAID = {
    "hold": "■ hold",
    "correct": "▲ correct",
    "watch": "○ watch",
    "no_finding": "· no finding",
}

CIRCLE = Box(0.0, 0.0, 78.0, 79.0)
"""Where the screws are drawn on the picture of them. [mm]"""

MUST_NOT_RUN = "It must not run until this job is done and somebody has released it."
NOT_LIFTED = "It stays on hold after this job: it must not run."


def job_on_paper(work: WorkToOrder, job: int, when: str, who: str, host: str = "") -> Section:
    """Return the pages of one job.

    Parameters
    ----------
    work : WorkToOrder
        The plan.
    job : int
        Row of ``work.jobs``.
    when, who : str
        Days and people as they are laid out; empty where there is no room for it.
    host : str
        Where the pages are; by default the code holds the unit's id alone.

    Returns
    -------
    Section
    """
    row = work.jobs.iloc[job]
    unit_id = str(row["unit_id"])
    place = work.assessment.place_of(unit_id)
    unit = work.assessment.known.units.iloc[place]
    mounting = str(unit["mounting"])
    actions = work.actions_at(job)
    steps = steps_of_a_job(actions, mounting)
    code = Code(code_of_unit(unit_id, host), "", CODE_MM)
    blocks: list[Block] = [
        *_verdict(row),
        Beside(((_facts(row, unit, when, who),), (code,)), (WIDEST_MM - CODE_MM - GAP_MM, CODE_MM)),
    ]
    blocks += _findings(work, job, unit_id)
    blocks += _drawings(work, unit_id)
    blocks += _to_hand(work, job)
    blocks += [
        Heading("Steps"),
        Table(
            (
                Column("", Align.RIGHT),
                Column("step", share=10),
                Column("done"),
                Column("by", share=1),
            ),
            tuple(
                (f"{n}", step.words, Blank.BOX, Blank.LINE) for n, step in enumerate(steps, start=1)
            ),
        ),
        Prose(
            f"Steps: {ORIGIN_OF_STEPS}. The unit's own manual comes first; what it asks for "
            "besides is done too.",
            Weight.QUIET,
        ),
    ]
    if has_screw_circle(mounting) and any(step.when is When.TIGHTEN for step in steps):
        blocks += _passes(work, unit_id)
    blocks += _looks(work, job)
    blocks += [
        Together(
            (
                WriteHere("What was found, what was done otherwise, what is left", 2),
                Signatures(ROLES),
            )
        ),
    ]
    where = [unit[name] for name in ("site", "line", "driven_equipment") if pd.notna(unit[name])]
    return Section(
        Written(unit_id),
        tuple(blocks),
        Written(" · ".join(map(str, where))),
    )


def _verdict(row: "pd.Series[Any]") -> list[Block]:
    if row["verdict"] != HOLD:
        return []
    why = NOT_LIFTED if row["verdict_after"] == HOLD else MUST_NOT_RUN
    return [Verdict(VERDICTS_SAID[HOLD], hold=True, why=why)]


def _facts(row: "pd.Series[Any]", unit: "pd.Series[Any]", when: str, who: str) -> Facts:
    mass = unit["unit_mass_kg"]
    crane = row["crane"] == "yes"
    size = unit["shaft_diameter_mm"]
    facts: list[tuple[str, Cell]] = [
        ("mounting", MOUNTING_WORDS[str(unit["mounting"])]),
        ("shaft", f"{size:g} mm" if size > 0 else "not on record"),
        ("when", when or Blank.LINE),
        ("who", who or Blank.LINE),
        ("crew-hours", f"{row['hours']:g}"),
        ("people at once", f"{row['people']}"),
        ("crane", "yes" if crane else "no"),
        ("verdict now", VERDICTS_SAID[row["verdict"]]),
        ("verdict after the work", VERDICTS_SAID[row["verdict_after"]]),
        ("what it buys", what_it_buys(row.to_dict())),
    ]
    if crane:
        known = f"{mass:g} kg with motor, as on record" if mass > 0 else Blank.LINE
        facts.append(("mass, by its nameplate", known))
    return Facts(tuple(facts))


def _findings(work: WorkToOrder, job: int, unit_id: str) -> list[Block]:
    """Return why the work is done: each finding, why it matters, whether this job cures it."""
    table = work.assessment.findings.table
    mine = table[table["unit_id"] == unit_id]
    if mine.empty:
        return [
            Heading("Why"),
            Prose("No finding stands; the work lowers what records and age make likely."),
        ]
    rows: list[tuple[Cell, ...]] = []
    for number, one in enumerate(mine.to_dict("records"), start=1):
        seen = "" if pd.isna(one["seen_on"]) else f"\nseen on {one['seen_on'].date()}"
        rows.append(
            (
                f"{number}",
                f"{one['reason']}{seen}",
                RULE_BY_NAME[one["rule"]].why,
                "yes" if _is_cured(work, job, one) else "no",
            )
        )
    heads = (
        Column("nr.", Align.RIGHT),
        Column("found", share=4),
        Column("why it matters", share=5),
        Column("cured by this job"),
    )
    return [Heading("Why"), Table(heads, tuple(rows))]


def _is_cured(work: WorkToOrder, job: int, finding: Mapping[Any, Any]) -> bool:
    """Tell whether a job does all that a finding asks for."""
    done = work.actions[job]
    if finding["check"] not in CHECK_BY_NAME:  # worked out, as the slip margin
        asked = str(finding["action"])
        return bool(asked) and not (actions_of(asked) & ~done).any()
    if finding["check"] == WITNESS_MARK and OFF_AND_ON.name in set_ups_of(work.actions_at(job)):
        return True  # who takes the unit off sees the seat, and paints a new line
    needed = [one[finding["unit"]] for one in needed_at(work.assessment.known, finding["check"])]
    return all((done & one).any() for one in needed if one.any()) and any(map(np.any, needed))


def _drawings(work: WorkToOrder, unit_id: str) -> list[Block]:
    """Return the pictures in which a finding of the unit is marked; of the joint, if none is."""
    table = work.assessment.findings.table
    found = set(table.loc[table["unit_id"] == unit_id, "check"])
    at_joint, at_arm = bool(found & CHECKS_OF_THE_JOINT), bool(found & set(CHECKS_OF_THE_ARM))
    blocks: list[Block] = []
    if at_joint or not at_arm:
        blocks.append(Drawing(draw_joint(work.assessment, unit_id)))
    if at_arm:
        blocks += arm_on_paper(draw_torque_arm(work.assessment, unit_id))
    return blocks


def _to_hand(work: WorkToOrder, job: int) -> list[Block]:
    """Return what has to be at hand, and what to mind."""
    efforts = [ACTION_BY_NAME[name].effort for name in work.actions_at(job)]
    tools = list(dict.fromkeys(tool for one in efforts for tool in one.tools))
    tools += ["locks and tags, one for each person"]
    if work.jobs["crane"].iloc[job] == "yes":
        tools.append("crane or hoist, and slings for the unit's mass")
    parts = [f"{part} ({days} days)" if days else part for part, days in work.parts_at(job)]
    others = list(dict.fromkeys(one.who for one in efforts if one.who != "mechanic"))
    cautions = list(dict.fromkeys(one.caution for one in efforts if one.caution))
    blocks: list[Block] = [
        Beside(
            (
                (Heading("Tools", 3), Points(tuple(tools))),
                (Heading("Parts", 3), Points(tuple(parts or ["none"]))),
            )
        )
    ]
    if others:
        blocks.append(Prose(f"Asks for: {', '.join(others)}", Weight.STRONG))
    if cautions:
        blocks.append(
            Together((Heading("Mind", 3), *(Prose(one, Weight.STRONG) for one in cautions)))
        )
    return blocks


def _passes(work: WorkToOrder, unit_id: str) -> list[Block]:
    """Return the passes of the clamp screws, with the torque as recorded or room to write it."""
    screws = screws_as_known(work.assessment, unit_id, None)
    rows = []
    for name, share, torque in screws.rows:
        called = name if name.isdecimal() else "check, until no screw turns"
        rows.append(
            (called, share, f"{torque} N·m" if torque else Blank.LINE, Blank.BOX, Blank.LINE)
        )
    heads = (
        Column("pass", share=3),
        Column("share", Align.RIGHT),
        Column("torque", Align.RIGHT, share=3),
        Column("done"),
        Column("by", share=2),
    )
    told = (Prose(_torque_said(screws)), Prose(screws.order_said, Weight.STRONG))
    passes = Table(heads, tuple(rows))
    drawn = draw_screw_circle(work.assessment, unit_id)
    circle = [shape for shape in drawn.shapes if CIRCLE.holds(shape.box)]
    if not screws.order:
        return [Heading("Torque of the clamp screws"), *told, passes]
    inside = Prose("In each circle the number of a screw, outside it its turn.", Weight.QUIET)
    drawing = Drawing(cut_out(drawn, circle))
    beside = Beside(
        ((drawing,), (*told, inside, passes)),
        (drawing.width_mm, WIDEST_MM - drawing.width_mm),
    )
    return [Together((Heading("Torque of the clamp screws"), beside))]


def _torque_said(screws: ScrewsAsKnown) -> str:
    if screws.final_torque is None:
        return (
            "No final torque is on record: read it from the unit's own manual and write it down "
            "before the first pass."
        )
    return (
        "The final torque is the one on record; compare it with the unit's own manual before the "
        "first pass."
    )


def _looks(work: WorkToOrder, job: int) -> list[Block]:
    """Return what is to be looked at afterwards, in walking order, with room to write."""
    cured, unseen = work.looks.cured[job], work.looks.unseen[job]
    if not (cured | unseen).any():
        return []
    checks = [CHECKS[n] for n in np.flatnonzero(cured | unseen)]
    why = dict(zip((check.name for check in CHECKS), cured, strict=True))
    checks.sort(key=lambda check: check.station)
    heads = (
        Column("what to look at", share=4),
        Column("what is good", share=4),
        Column("because"),
        Column("found", share=2),
        Column("good"),
    )
    rows = tuple(
        (
            _look_at(check),
            check.good,
            "cured" if why[check.name] else "hung anew",
            Blank.LINE,
            Blank.BOX,
        )
        for check in checks
    )
    return [Heading("What to look at after the work"), Table(heads, rows)]


def _look_at(check: Check) -> str:
    running = "\nonce it runs, guards on" if check.seen is Seen.RUNNING else ""
    return f"{check.label}{running}"


def spells_said(spells: pd.DataFrame, starts_on: object) -> tuple[str, str]:
    """Say on which day, at which hours, and by whom a job is done.

    Parameters
    ----------
    spells : DataFrame
        Rows of ``Daywork.spells`` of one job.
    starts_on : Timestamp or missing
        The first day of the shutdown.

    Examples
    --------
    >>> rows = pd.DataFrame({"day": [1], "begins_h": [0.0], "ends_h": [2.5], "who": [(1, 2)]})
    >>> spells_said(rows, None)
    ('day 1, hours 0.0 to 2.5', '1, 2')
    """
    if spells.empty:
        return "", ""
    said = [_spell_said(spell, starts_on) for spell in spells.to_dict("records")]
    return "\n".join(said), ", ".join(str(one) for one in spells["who"].iloc[0])


def _spell_said(spell: Mapping[Any, Any], starts_on: object) -> str:
    date = ""
    if isinstance(starts_on, pd.Timestamp) and pd.notna(starts_on):
        date = f", {(starts_on + pd.Timedelta(days=int(spell['day']) - 1)).date()}"
    return f"day {spell['day']}{date}, hours {spell['begins_h']:.1f} to {spell['ends_h']:.1f}"
