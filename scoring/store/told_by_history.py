"""What a store must hold beside its records, told from its history alone."""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table, select

from scoring.store.chain import digest_of_rows
from scoring.store.schema import (
    DRAFT_ANSWERS,
    DRAFTS,
    GRANTS,
    HISTORY,
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

ROWS_AT_ONCE = 500
"""Rows held in memory at once; a row may be a photo."""

Key = tuple[object, ...]
Row = dict[str, object]
Rows = dict[Key, Row]
Line = Mapping[str, Any]


@dataclass
class Told:
    """The tables as the history tells them.

    Attributes
    ----------
    rows : dict of str to dict
        Of each table its rows, by key.
    jobs : dict of str to str
        Of each kept plan, what its jobs must be.
    untold : set of str
        Drafts of corrections from before the chain, when what they took over was not noted.
    """

    rows: dict[str, Rows]
    jobs: dict[str, str] = field(default_factory=dict)
    untold: set[object] = field(default_factory=set)


def _people(told: Told, line: Line, after: Row) -> None:
    row = told.rows["people"].setdefault((line["key"],), {})
    row.update({name: value for name, value in after.items() if name in ("since", "measures")})


def _sign_offs(told: Told, line: Line, after: Row) -> None:
    del line
    told.rows["sign_offs"][after["walkdown_id"], after["version"]] = after


def _releases(told: Told, line: Line, after: Row) -> None:
    told.rows["releases"][line["key"],] = after


def _loads(told: Told, line: Line, after: Row) -> None:
    told.rows["loads"][int(line["key"]),] = after


def _drafts(told: Told, line: Line, after: Row) -> None:
    if line["seal"] is None and after.get("corrects_version") is not None:
        told.untold.add(line["key"])
    row = told.rows["drafts"].setdefault((line["key"],), {})
    row.update({name: value for name, value in after.items() if name != "changed_at"})


def _draft_answers(told: Told, line: Line, after: Row) -> None:
    draft_id, _, name = line["key"].partition("/")
    kept = {"heading": after["heading"], "value": after["value"], "reason": after["reason"]}
    own = {"revision": line["version"], "by": line["actor"], "at": line["at"]}
    told.rows["draft_answers"][draft_id, name] = kept | own


def _photos(told: Told, line: Line, after: Row) -> None:
    if line["change"] == "removed":
        told.rows["photos"].pop((line["key"],), None)
    else:
        told.rows["photos"].setdefault((line["key"],), {}).update(after)


def _not_seen(told: Told, line: Line, after: Row) -> None:
    there = told.rows["not_seen"]
    for key in [key for key in there if key[0] == line["key"]]:
        del there[key]
    for check, reason in after.items():
        there[line["key"], check] = {"reason": reason}


def _kept_plans(told: Told, line: Line, after: Row) -> None:
    plan_id = line["key"]
    if line["change"] == "withdrawn":
        gone: Row = {"withdrawn_by": line["actor"], "withdrawn_at": line["at"]}
        told.rows["withdrawn_plans"][plan_id,] = gone
        return
    told.jobs[plan_id] = str(after.get("jobs_sha256", ""))
    own = ("jobs", "jobs_sha256")
    told.rows["kept_plans"][plan_id,] = {n: v for n, v in after.items() if n not in own}


def _kept_views(told: Told, line: Line, after: Row) -> None:
    if line["change"] == "removed":
        told.rows["kept_views"].pop((line["key"],), None)
    else:
        told.rows["kept_views"][line["key"],] = after


def _grants(told: Told, line: Line, after: Row) -> None:
    told.rows["grants"][int(line["key"]),] = after


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


def faults_of_what_is_told(connection: Connection) -> Iterator[str]:
    """Compare what a store holds beside its records with what its history tells.

    Yields
    ------
    str
        What is wrong, in words.
    """
    told = Told({table.name: {} for table in COMPARED})
    lines = select(HISTORY).where(HISTORY.c.about.in_(_TAKEN)).order_by(HISTORY.c.history_id)
    for row in connection.execution_options(yield_per=ROWS_AT_ONCE).execute(lines):
        line: Line = row._asdict()
        _TAKEN[line["about"]](told, line, json.loads(line["after"] or "{}"))
    for table in COMPARED:
        yield from _compared(connection, table, told)
    yield from _jobs_compared(connection, told.jobs)


def _compared(connection: Connection, table: Table, told: Told) -> Iterator[str]:
    there = told.rows[table.name]
    keys = [column.name for column in table.primary_key.columns]
    for row in (
        connection.execution_options(yield_per=ROWS_AT_ONCE).execute(select(table)).mappings()
    ):
        key = tuple(row[name] for name in keys)
        name = f"{table.name} {'/'.join(map(str, key))}"
        said = there.pop(key, None)
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
    for key in there:
        yield f"{table.name} {'/'.join(map(str, key))}: is told of by the history and is not there"


def _was_never_told(table: Table, key: Key, told: Told) -> bool:
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
