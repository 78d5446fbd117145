"""Ways to change a store past the program, drawn by chance; each by who owns the database.

Triggers are lifted before and put back as they were, references are not looked at, digests and
versions are put right where that hides more: only the seals are left as they were, unless the
whole chain is made anew.
"""

import json
import random
from collections.abc import Callable
from dataclasses import dataclass

from sqlalchemy import Connection, delete, func, insert, select, text, update

from scoring.contract import TABLE_BY_NAME
from scoring.store.chain import begin_of_chain, seals
from scoring.store.only_added_to import ONLY_ADDED_TO, lift, restore
from scoring.store.schema import (
    CHAIN_BEGINS,
    DRAFT_ANSWERS,
    DRAFTS,
    GRANTS,
    HISTORY,
    KEPT_PLAN_JOBS,
    KEPT_PLANS,
    LOADS,
    METADATA,
    NOT_SEEN,
    PEOPLE,
    PHOTOS,
    RECORDS,
    RELEASES,
    SIGN_OFFS,
)
from scoring.store.stored_values import digest

Chance = random.Random
LINE = [column.name for column in HISTORY.c if column.name not in {"history_id", "seal"}]


@dataclass(frozen=True)
class Tampering:
    """One way; ``needs_head`` says that only a head kept elsewhere can show it."""

    how: Callable[[Connection, Chance], str]
    needs_head: bool = False


def _one(connection, table, chance):
    rows = connection.execute(select(table)).mappings().all()
    return dict(chance.choice(rows))


def _where(table, row):
    return [column == row[column.name] for column in table.primary_key.columns]


def change_a_line(connection, chance):
    line = _one(connection, HISTORY, chance)
    column = chance.choice(["at", "about", "key", "change", "reason", "after", "before", "unit_id"])
    value = f"{line[column] or ''} "
    if column in {"before", "after"}:
        value = json.dumps({**json.loads(line[column] or "{}"), "notes": "was good"})
    connection.execute(update(HISTORY).where(*_where(HISTORY, line)).values({column: value}))
    return f"{column} of line {line['history_id']}"


def give_a_line_to_another(connection, chance):
    line = _one(connection, HISTORY, chance)
    others = [n for n in connection.scalars(select(PEOPLE.c.name)) if n != line["actor"]]
    new = chance.choice(others)
    connection.execute(update(HISTORY).where(*_where(HISTORY, line)).values(actor=new))
    return f"line {line['history_id']} is another's"


def remove_a_line(connection, chance):
    """Any but the last: that one is a cut end."""
    last = connection.scalar(select(func.max(HISTORY.c.history_id)))
    line = _one(connection, HISTORY, chance)
    while line["history_id"] == last:
        line = _one(connection, HISTORY, chance)
    connection.execute(delete(HISTORY).where(*_where(HISTORY, line)))
    return f"line {line['history_id']} gone"


def add_a_line(connection, chance):
    line = _one(connection, HISTORY, chance)
    last = connection.scalar(select(func.max(HISTORY.c.history_id)))
    connection.execute(insert(HISTORY).values({**line, "history_id": last + 1}))
    return "a line more"


def swap_lines(connection, chance):
    one, other = _one(connection, HISTORY, chance), _one(connection, HISTORY, chance)
    while all(one[name] == other[name] for name in LINE):
        other = _one(connection, HISTORY, chance)
    for line, of in ((one, other), (other, one)):
        values = {name: of[name] for name in (*LINE, "seal")}
        connection.execute(update(HISTORY).where(*_where(HISTORY, line)).values(values))
    return f"lines {one['history_id']} and {other['history_id']} swapped"


def replace_a_line(connection, chance):
    """As ``INSERT OR REPLACE`` does: the same number, another content."""
    line = _one(connection, HISTORY, chance)
    connection.execute(delete(HISTORY).where(*_where(HISTORY, line)))
    connection.execute(insert(HISTORY).values({**line, "reason": "another reason"}))
    return f"line {line['history_id']} replaced"


def change_a_record(connection, chance):
    name = chance.choice([n for n in RECORDS if n != "accepted"])
    table, key = RECORDS[name], TABLE_BY_NAME[name].key
    row = _one(connection, table, chance)
    column = {"units": "site", "walkdowns": "inspector", "events": "crew", "rework": "crew"}[name]
    row[column] = "another"
    own = {c.name: row[c.name] for c in TABLE_BY_NAME[name].columns}
    values = {column: "another", "digest": digest(own)}
    connection.execute(update(table).where(table.c[key] == row[key]).values(values))
    return f"{name} {row[key]}"


def remove_a_walkdown_whole(connection, chance):
    """With its lines, and all that hangs on it."""
    walkdowns = RECORDS["walkdowns"]
    key = _one(connection, walkdowns, chance)["walkdown_id"]
    for table in (SIGN_OFFS, NOT_SEEN, PHOTOS, walkdowns):
        connection.execute(delete(table).where(table.c.walkdown_id == key))
    connection.execute(delete(HISTORY).where(HISTORY.c.key == key))
    return f"walkdown {key} gone"


def change_a_row(table, column, value):
    def how(connection, chance):
        row = _one(connection, table, chance)
        connection.execute(update(table).where(*_where(table, row)).values({column: value}))
        return f"{table.name}.{column}"

    return Tampering(how)


def remove_a_row(table):
    def how(connection, chance):
        row = _one(connection, table, chance)
        connection.execute(delete(table).where(*_where(table, row)))
        return f"a row of {table.name} gone"

    return Tampering(how)


def add_a_signature(connection, chance):
    row = _one(connection, SIGN_OFFS, chance)
    free = select(RECORDS["walkdowns"].c.walkdown_id).where(
        RECORDS["walkdowns"].c.walkdown_id.not_in(select(SIGN_OFFS.c.walkdown_id))
    )
    key = chance.choice(connection.scalars(free).all())
    connection.execute(insert(SIGN_OFFS).values({**row, "walkdown_id": key}))
    return f"{key} signed by nobody"


def rename_everybody(connection, chance):
    del chance
    for row in connection.execute(select(PEOPLE)).mappings().all():
        new = {**row, "name": f"Other {row['name']}"}
        connection.execute(insert(PEOPLE).values(new))
        for table in METADATA.sorted_tables:
            for column in table.columns:
                if any(key.column is PEOPLE.c.name for key in column.foreign_keys):
                    values = {column.name: new["name"]}
                    connection.execute(update(table).where(column == row["name"]).values(values))
        connection.execute(
            update(HISTORY)
            .where(HISTORY.c.about == "people", HISTORY.c.key == row["name"])
            .values(key=new["name"])
        )
        for side in ("before", "after"):
            connection.execute(
                text(f'UPDATE history SET "{side}" = replace("{side}", :old, :new)'),  # noqa: S608
                {"old": f'"{row["name"]}"', "new": f'"{new["name"]}"'},
            )
        connection.execute(delete(PEOPLE).where(PEOPLE.c.name == row["name"]))
    return "everybody is called otherwise"


def begin_the_chain_elsewhere(connection, chance):
    column = chance.choice(["store_id", "earlier_seal"])
    connection.execute(update(CHAIN_BEGINS).values({column: "0" * 32}))
    return f"{column} of the begin"


def drop_a_trigger(connection, chance):
    """Put back afterwards, the triggers lack one, or one of them does nothing."""
    table = chance.choice(list(ONLY_ADDED_TO))
    restore(connection)
    if connection.dialect.name == "postgresql":
        name = f"{table}_is_only_added_to"
        if chance.random() < 0.5:
            connection.execute(text(f"DROP TRIGGER {name} ON {table}"))
        else:
            connection.execute(text(f"ALTER TABLE {table} DISABLE TRIGGER {name}"))
        return name
    name = f"{table}_is_not_{chance.choice(['changed', 'removed', 'replaced'])}"
    connection.execute(text(f"DROP TRIGGER {name}"))
    if chance.random() < 0.5:
        weak = f"CREATE TRIGGER {name} BEFORE UPDATE ON {table} BEGIN SELECT 1; END"
        connection.execute(text(weak))
    return name


def make_the_chain_anew(connection, chance):
    """Change a line and what it tells, and seal every line again."""
    release = _one(connection, RELEASES, chance)
    new = {**release, "reason": "nothing was done"}
    connection.execute(update(RELEASES).where(*_where(RELEASES, release)).values(new))
    is_it = (HISTORY.c.about == "releases") & (HISTORY.c.key == release["release_id"])
    said = json.dumps(new, ensure_ascii=False, separators=(",", ":"))
    connection.execute(update(HISTORY).where(is_it).values(after=said, reason=new["reason"]))
    begin = connection.execute(select(CHAIN_BEGINS)).one()
    keys = {row.name: row.person_key for row in connection.execute(select(PEOPLE))}
    lines = connection.execute(select(HISTORY).order_by(HISTORY.c.history_id)).mappings().all()
    first = begin_of_chain(begin.store_id, begin.earlier_seal)
    for line, seal in zip(lines, seals(first, lines, keys), strict=True):
        connection.execute(update(HISTORY).where(*_where(HISTORY, line)).values(seal=seal))
    return "the chain made anew"


def cut_the_end(connection, chance):
    """Remove the last lines, all of which tell of kept views alone."""
    del chance
    last = select(func.max(HISTORY.c.history_id)).scalar_subquery()
    about = connection.execute(select(HISTORY).where(HISTORY.c.history_id == last)).one()
    assert about.about == "kept_views"
    connection.execute(text("DELETE FROM kept_views WHERE view_id = :key"), {"key": about.key})
    connection.execute(delete(HISTORY).where(HISTORY.c.history_id == about.history_id))
    return "the end cut"


TAMPERINGS = {
    "change a line": Tampering(change_a_line),
    "break a line": change_a_row(HISTORY, "after", "{"),
    "give a line to another": Tampering(give_a_line_to_another),
    "remove a line": Tampering(remove_a_line),
    "add a line": Tampering(add_a_line),
    "swap lines": Tampering(swap_lines),
    "replace a line": Tampering(replace_a_line),
    "change a record": Tampering(change_a_record),
    "remove a walkdown": Tampering(remove_a_walkdown_whole),
    "signature of another": change_a_row(SIGN_OFFS, "signed_by", "Cleo Roth"),
    "verdict signed": change_a_row(SIGN_OFFS, "verdict", "nothing found"),
    "nobody told": change_a_row(SIGN_OFFS, "told", "everybody"),
    "remove a signature": remove_a_row(SIGN_OFFS),
    "add a signature": Tampering(add_a_signature),
    "release of another day": change_a_row(RELEASES, "released_at", "2020-01-01T00:00:00+00:00"),
    "remove a release": remove_a_row(RELEASES),
    "change an answer": change_a_row(DRAFT_ANSWERS, "value", "changed"),
    "remove an answer": remove_a_row(DRAFT_ANSWERS),
    "change a draft": change_a_row(DRAFTS, "status", "discarded?"),
    "another photo": change_a_row(PHOTOS, "jpeg", b"another"),
    "photo of another check": change_a_row(PHOTOS, "check", "oil_level"),
    "remove a photo": remove_a_row(PHOTOS),
    "another reason": change_a_row(NOT_SEEN, "reason", "other"),
    "remove a reason": remove_a_row(NOT_SEEN),
    "change a load": change_a_row(LOADS, "rejected", 77),
    "change a plan": change_a_row(KEPT_PLANS, "horizon_days", 7),
    "change a job": change_a_row(KEPT_PLAN_JOBS, "loss_avoided", 1e9),
    "remove a job": remove_a_row(KEPT_PLAN_JOBS),
    "another role": change_a_row(GRANTS, "roles", "administrator,engineer"),
    "all sites": change_a_row(GRANTS, "sites", '["North", "South"]'),
    "role of another": change_a_row(GRANTS, "subject", "1003"),
    "remove a grant": remove_a_row(GRANTS),
    "rename a person": change_a_row(PEOPLE, "salt", "0"),
    "rename everybody": Tampering(rename_everybody),
    "begin the chain elsewhere": Tampering(begin_the_chain_elsewhere),
    "drop a trigger": Tampering(drop_a_trigger),
    "make the chain anew": Tampering(make_the_chain_anew, needs_head=True),
    "cut the end": Tampering(cut_the_end, needs_head=True),
}


def tamper(connection, name, seed):
    """Change a store in one way, drawn by a seed; say what was changed."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
    else:
        connection.execute(text("SET session_replication_role = replica"))
    lift(connection)
    said = TAMPERINGS[name].how(connection, random.Random(seed))  # noqa: S311 - for tests
    if name != "drop a trigger":
        restore(connection)
    if connection.dialect.name == "postgresql":
        connection.execute(text("SET session_replication_role = origin"))
    return said
