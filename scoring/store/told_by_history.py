"""What a store must hold beside its records, told from its history alone."""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table, select

from scoring.store.chain import digest_of_rows
from scoring.store.kept_aside import KeptAside
from scoring.store.schema import (
    DRAFT_ANSWERS,
    DRAFTS,
    GRANTS,
    KEPT_PLAN_JOBS,
    KEPT_PLANS,
    KEPT_VIEWS,
    LOADS,
    NOT_SEEN,
    PEOPLE,
    PHOTOS,
    RELEASES,
    SIGN_OFFS,
    WITHDRAWN_PLANS,
)

REASONS_OF = "reasons of a walkdown"
"""Under which is kept aside which checks of a walkdown have a reason."""

ROWS_AT_ONCE = 500
"""Rows held in memory at once; a row may be a photo."""

Row = dict[str, Any]
Line = Mapping[str, Any]


@dataclass
class Told:
    """The tables as the history tells them.

    Attributes
    ----------
    rows : KeptAside
        Of each table its rows, by key.
    jobs : dict of str to str
        Of each kept plan, what its jobs must be.
    untold : set of str
        Drafts of corrections from before the chain, when what they took over was not noted.
    """

    rows: KeptAside
    jobs: dict[str, str] = field(default_factory=dict)
    untold: set[object] = field(default_factory=set)

    def take(self, line: Line) -> None:
        """Take what a line of the history tells, unless it is of a record."""
        taken = _TAKEN.get(line["about"])
        if taken is not None:
            taken(self, line, json.loads(line["after"] or "{}"))


def _people(told: Told, line: Line, after: Row) -> None:
    kept = {name: value for name, value in after.items() if name in ("since", "measures")}
    told.rows.add("people", (line["key"],), kept)


def _sign_offs(told: Told, line: Line, after: Row) -> None:
    del line
    told.rows.put("sign_offs", (after["walkdown_id"], after["version"]), after)


def _releases(told: Told, line: Line, after: Row) -> None:
    told.rows.put("releases", (line["key"],), after)


def _loads(told: Told, line: Line, after: Row) -> None:
    told.rows.put("loads", (int(line["key"]),), after)


def _drafts(told: Told, line: Line, after: Row) -> None:
    if line["seal"] is None and after.get("corrects_version") is not None:
        told.untold.add(line["key"])
    kept = {name: value for name, value in after.items() if name != "changed_at"}
    told.rows.add("drafts", (line["key"],), kept)


def _draft_answers(told: Told, line: Line, after: Row) -> None:
    draft_id, _, name = line["key"].partition("/")
    kept = {"heading": after["heading"], "value": after["value"], "reason": after["reason"]}
    own = {"revision": line["version"], "by": line["actor"], "at": line["at"]}
    told.rows.put("draft_answers", (draft_id, name), kept | own)


def _photos(told: Told, line: Line, after: Row) -> None:
    if line["change"] == "removed":
        told.rows.take("photos", (line["key"],))
    else:
        told.rows.add("photos", (line["key"],), after)


def _not_seen(told: Told, line: Line, after: Row) -> None:
    before = told.rows.get(REASONS_OF, (line["key"],)) or {}
    for check in before.keys() - after.keys():
        told.rows.take("not_seen", (line["key"], check))
    for check, reason in after.items():
        told.rows.put("not_seen", (line["key"], check), {"reason": reason})
    told.rows.put(REASONS_OF, (line["key"],), after)


def _kept_plans(told: Told, line: Line, after: Row) -> None:
    plan_id = line["key"]
    if line["change"] == "withdrawn":
        gone: Row = {"withdrawn_by": line["actor"], "withdrawn_at": line["at"]}
        told.rows.put("withdrawn_plans", (plan_id,), gone)
        return
    told.jobs[plan_id] = str(after.get("jobs_sha256", ""))
    own = ("jobs", "jobs_sha256")
    told.rows.put("kept_plans", (plan_id,), {n: v for n, v in after.items() if n not in own})


def _kept_views(told: Told, line: Line, after: Row) -> None:
    if line["change"] == "removed":
        told.rows.take("kept_views", (line["key"],))
    else:
        told.rows.put("kept_views", (line["key"],), after)


def _grants(told: Told, line: Line, after: Row) -> None:
    told.rows.put("grants", (int(line["key"]),), after)


_TAKEN: dict[str, Callable[[Told, Line, Row], None]] = {
    "people": _people,
    "sign_offs": _sign_offs,
    "releases": _releases,
    "loads": _loads,
    "drafts": _drafts,
    "draft_answers": _draft_answers,
    "photos": _photos,
    "not_seen": _not_seen,
    "kept_plans": _kept_plans,
    "kept_views": _kept_views,
    "grants": _grants,
}
"""What each line does, by what it is about."""

COMPARED: tuple[Table, ...] = (
    PEOPLE,
    SIGN_OFFS,
    RELEASES,
    LOADS,
    DRAFTS,
    DRAFT_ANSWERS,
    PHOTOS,
    NOT_SEEN,
    KEPT_PLANS,
    WITHDRAWN_PLANS,
    KEPT_VIEWS,
    GRANTS,
)

NOT_NOTED = {"drafts": {"changed_at"}, "draft_answers": {"client"}}
"""Columns that change without a line of their own."""


def faults_of_what_is_told(connection: Connection, told: Told) -> Iterator[str]:
    """Compare what a store holds beside its records with what its history tells.

    Parameters
    ----------
    connection : Connection
        In a transaction that reads.
    told : Told
        All that the lines of the history tell.

    Yields
    ------
    str
        What is wrong, in words.
    """
    for table in COMPARED:
        yield from _compared(connection, table, told)
    yield from _jobs_compared(connection, told.jobs)


def _compared(connection: Connection, table: Table, told: Told) -> Iterator[str]:
    keys = [column.name for column in table.primary_key.columns]
    for row in (
        connection.execution_options(yield_per=ROWS_AT_ONCE).execute(select(table)).mappings()
    ):
        key = tuple(row[name] for name in keys)
        name = f"{table.name} {'/'.join(map(str, key))}"
        said = told.rows.take(table.name, key)
        if said is None:
            if not _was_never_told(table, key, told):
                yield f"{name}: is not told of by the history"
            continue
        other = [
            column
            for column, value in said.items()
            if column in row
            and column not in NOT_NOTED.get(table.name, ())
            and row[column] != value
        ]
        if other:
            yield f"{name}: its history says another {', '.join(sorted(other))}"
        if table is PHOTOS and hashlib.sha256(row["jpeg"]).hexdigest() != row["digest"]:
            yield f"{name}: is not the picture that was kept"
    for key in told.rows.rest(table.name):
        yield f"{table.name} {'/'.join(map(str, key))}: is told of by the history and is not there"


def _was_never_told(table: Table, key: tuple[Any, ...], told: Told) -> bool:
    """Tell whether the history, before there was a chain, said nothing of such a row."""
    return table is LOADS or (table is DRAFT_ANSWERS and key[0] in told.untold)


def _jobs_compared(connection: Connection, told: Mapping[str, str]) -> Iterator[str]:
    jobs: dict[str, list[tuple[object, ...]]] = {}
    columns = KEPT_PLAN_JOBS.c
    for row in connection.execute(select(KEPT_PLAN_JOBS).order_by(columns.plan_id, columns.order)):
        jobs.setdefault(row.plan_id, []).append(tuple(row))
    for plan_id, sealed in told.items():
        if sealed and digest_of_rows(jobs.get(plan_id, [])) != sealed:
            yield f"kept_plans {plan_id}: its jobs are not those that were kept"
