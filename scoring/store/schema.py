"""The tables of the store.

The five tables of records are made from the contract, one SQL column for each of its columns.
"""

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)

from scoring.contract import FLEET_TABLES, Kind
from scoring.contract import Column as ContractColumn
from scoring.contract import Table as ContractTable

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=NAMING)

RUNNING_NUMBER = BigInteger().with_variant(Integer, "sqlite")
"""SQLite numbers rows by itself only under the type INTEGER."""


def _sql_type(column: ContractColumn) -> Double[float] | Integer | Text:
    if column.kind is Kind.COUNT:
        return Integer()
    return Double() if column.is_numeric else Text()


def _record_table(table: ContractTable) -> Table:
    """Make the SQL table of a table of the contract.

    Dates are kept as the contract writes them, ISO 8601 text, since one with a time and one
    without say different things. ``version`` counts from 1; ``digest`` names the content;
    a record that was ``withdrawn`` stays, and is left out of every reading.
    """
    refers = {} if table.name == "units" else {"unit_id": "units.unit_id"}
    columns = [
        Column(
            column.name,
            _sql_type(column),
            *([ForeignKey(refers[column.name])] if column.name in refers else []),
            primary_key=column.name == table.key,
            nullable=not column.required,
        )
        for column in table.columns
    ]
    return Table(
        table.name,
        METADATA,
        *columns,
        Column("version", Integer, nullable=False),
        Column("digest", Text, nullable=False),
        Column("withdrawn", Boolean, nullable=False),
        *([Index(None, "unit_id")] if refers else []),
    )


RECORDS: dict[str, Table] = {table.name: _record_table(table) for table in FLEET_TABLES}
"""The tables of records, by the contract's names."""

PEOPLE = Table(
    "people",
    METADATA,
    Column("name", Text, primary_key=True),
    Column("since", Text, nullable=False),
    Column("measures", Text, nullable=False, server_default="metric"),
    Column("person_key", Text),
    Column("salt", Text),
)
"""Who may be named as an actor, and in which units of measure each reads and writes.

The chain of the history knows a person by the key alone; a name that was erased has no salt.
"""

HISTORY = Table(
    "history",
    METADATA,
    Column("history_id", RUNNING_NUMBER, primary_key=True, autoincrement=True),
    Column("at", Text, nullable=False),
    Column("actor", Text, ForeignKey("people.name"), nullable=False),
    Column("about", Text, nullable=False),
    Column("key", Text, nullable=False),
    Column("unit_id", Text),
    Column("change", Text, nullable=False),
    Column("version", Integer),
    Column("reason", Text),
    Column("before", Text),
    Column("after", Text),
    Column("seal", Text),
    Index(None, "about", "key"),
    Index(None, "about", "history_id"),
    Index(None, "unit_id"),
)
"""Every change: when, who, what, before and after. Only ever added to; triggers see to it.

``seal`` names the line and all lines before it; lines older than the chain have none.
"""

CHAIN_BEGINS = Table(
    "chain_begins",
    METADATA,
    Column("store_id", Text, primary_key=True),
    Column("earlier_lines", Integer, nullable=False),
    Column("earlier_seal", Text, nullable=False),
)
"""One row: the name of the store, and what seals the lines that are older than the chain."""

LOADS = Table(
    "loads",
    METADATA,
    Column("load_id", RUNNING_NUMBER, primary_key=True, autoincrement=True),
    Column("at", Text, nullable=False),
    Column("actor", Text, ForeignKey("people.name"), nullable=False),
    Column("source", Text, nullable=False),
    Column("added", Integer, nullable=False),
    Column("changed", Integer, nullable=False),
    Column("same", Integer, nullable=False),
    Column("rejected", Integer, nullable=False),
)
"""Each load of files, with what it changed."""

DRAFTS = Table(
    "drafts",
    METADATA,
    Column("draft_id", Text, primary_key=True),
    Column("unit_id", Text, ForeignKey("units.unit_id"), nullable=False),
    Column("walkdown_id", Text, nullable=False),
    Column("status", Text, nullable=False),
    Column("started_by", Text, ForeignKey("people.name"), nullable=False),
    Column("started_at", Text, nullable=False),
    Column("changed_at", Text, nullable=False),
    Column("corrects_version", Integer),
    Index(None, "unit_id"),
    Index(None, "walkdown_id"),
)
"""Walkdowns being entered; a draft that corrects a submitted walkdown says which version."""

DRAFT_ANSWERS = Table(
    "draft_answers",
    METADATA,
    Column("draft_id", Text, ForeignKey("drafts.draft_id"), primary_key=True),
    Column("field", Text, primary_key=True),
    Column("heading", Text, nullable=False),
    Column("value", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("by", Text, ForeignKey("people.name"), nullable=False),
    Column("at", Text, nullable=False),
    Column("client", Text, nullable=False),
)
"""What was answered so far, as typed; ``reason`` says why a check was not seen."""

PHOTOS = Table(
    "photos",
    METADATA,
    Column("photo_id", Text, primary_key=True),
    Column("draft_id", Text, ForeignKey("drafts.draft_id")),
    Column("walkdown_id", Text, nullable=False),
    Column("check", Text, nullable=False),
    Column("taken_by", Text, ForeignKey("people.name"), nullable=False),
    Column("at", Text, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("digest", Text, nullable=False),
    Column("jpeg", LargeBinary, nullable=False),
    UniqueConstraint("walkdown_id", "check", "digest"),
)
"""Photos, re-encoded, so that nothing but the picture is left of a file."""

NOT_SEEN = Table(
    "not_seen",
    METADATA,
    Column("walkdown_id", Text, ForeignKey("walkdowns.walkdown_id"), primary_key=True),
    Column("check", Text, primary_key=True),
    Column("reason", Text, nullable=False),
)
"""Why a check was not seen on a walkdown."""

SIGN_OFFS = Table(
    "sign_offs",
    METADATA,
    Column("walkdown_id", Text, ForeignKey("walkdowns.walkdown_id"), primary_key=True),
    Column("version", Integer, primary_key=True),
    Column("signed_by", Text, ForeignKey("people.name"), nullable=False),
    Column("signed_at", Text, nullable=False),
    Column("verdict", Text, nullable=False),
    Column("holds", Text, nullable=False),
    Column("told", Text),
)
"""Who signed a version of a walkdown, the verdict they saw, and who was told of a hold."""

RELEASES = Table(
    "releases",
    METADATA,
    Column("release_id", Text, primary_key=True),
    Column("unit_id", Text, ForeignKey("units.unit_id"), nullable=False),
    Column("released_by", Text, ForeignKey("people.name"), nullable=False),
    Column("released_at", Text, nullable=False),
    Column("verdict", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Index(None, "unit_id"),
)
"""Releases to start after a hold, signed by name."""

KEPT_PLANS = Table(
    "kept_plans",
    METADATA,
    Column("plan_id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("kept_by", Text, ForeignKey("people.name"), nullable=False),
    Column("kept_at", Text, nullable=False),
    Column("as_of", Text, nullable=False),
    Column("horizon_days", Integer, nullable=False),
    Column("link", Text, nullable=False),
)
"""Plans of re-work kept by name, of which day, how far ahead their losses reach, and their link.

Kept plans are only ever added to; triggers see to it.
"""

KEPT_PLAN_JOBS = Table(
    "kept_plan_jobs",
    METADATA,
    Column("plan_id", Text, ForeignKey("kept_plans.plan_id"), primary_key=True),
    Column("order", Integer, primary_key=True),
    Column("window", Text, nullable=False),
    Column("starts_on", Text),
    Column("unit_id", Text, nullable=False),
    Column("site", Text),
    Column("line", Text),
    Column("verdict", Text, nullable=False),
    Column("verdict_after", Text, nullable=False),
    Column("actions", Text, nullable=False),
    Column("hours", Double, nullable=False),
    Column("loss_avoided", Double, nullable=False),
    Column("currency", Text),
)
"""The jobs of kept plans, as promised then. Only ever added to; triggers see to it.

Units may come from a file shown beside the store, so they refer to none of its records.
"""

WITHDRAWN_PLANS = Table(
    "withdrawn_plans",
    METADATA,
    Column("plan_id", Text, ForeignKey("kept_plans.plan_id"), primary_key=True),
    Column("withdrawn_by", Text, ForeignKey("people.name"), nullable=False),
    Column("withdrawn_at", Text, nullable=False),
)
"""Kept plans that are no longer listed. Only ever added to; triggers see to it."""

KEPT_VIEWS = Table(
    "kept_views",
    METADATA,
    Column("view_id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("kept_by", Text, ForeignKey("people.name"), nullable=False),
    Column("kept_at", Text, nullable=False),
    Column("page", Text, nullable=False),
    Column("link", Text, nullable=False),
    UniqueConstraint("page", "kept_by", "name"),
)
"""Choices on a page kept by name: the address that shows them."""

GRANTS = Table(
    "grants",
    METADATA,
    Column("grant_id", BigInteger, primary_key=True, autoincrement=False),
    Column("granted_to", Text, ForeignKey("people.name"), nullable=False),
    Column("issuer", Text, nullable=False),
    Column("subject", Text, nullable=False),
    Column("subject_key", Text, nullable=False),
    Column("roles", Text, nullable=False),
    Column("sites", Text, nullable=False),
    Column("granted_by", Text, ForeignKey("people.name"), nullable=False),
    Column("granted_at", Text, nullable=False),
    Index(None, "issuer", "subject"),
)
"""Roles and sites of persons who sign in; the last line of a subject counts.

Only ever added to; triggers see to it. The history holds the key of the subject alone.
"""
