"""Plans kept by name: as they stood, never changed; one that is withdrawn is no longer listed."""

import datetime as dt
from dataclasses import asdict, dataclass
from typing import Any

import pandas as pd
from sqlalchemy import ColumnElement, Connection, Row, Select, insert, or_, select, true

from scoring.access.acts import Act
from scoring.access.allowed import require_written
from scoring.access.who_asks import Asker, NotAllowedError, require
from scoring.entering.new_keys import new_key
from scoring.entering.refusals import Fault, RefusedError
from scoring.planning.plan_and_done import PLANNED
from scoring.records import TEXT
from scoring.store.chain import digest_of_rows
from scoring.store.schema import KEPT_PLAN_JOBS, KEPT_PLANS, WITHDRAWN_PLANS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.whole_text import not_whole
from scoring.store.writing import Change, Writing

LONGEST_NAME = 80
"""Of a kept plan or view; planning value of ours. [characters]"""

LONGEST_LINK = 8000
"""Of an address that is kept; planning value of ours. [characters]"""

_TEXTS = ("window", "unit_id", "site", "line", "verdict", "verdict_after", "actions", "currency")


@dataclass(frozen=True)
class KeptPlan:
    """A plan that somebody kept.

    Attributes
    ----------
    plan_id, name : str
        Its key, and what it is called.
    kept_by, kept_at : str
        Who kept it, and when. [UTC]
    as_of : str
        The day whose records it was made from. [ISO 8601]
    horizon_days : int
        So many days ahead its losses reach. [d]
    link : str
        The address that shows what was chosen; empty where no address can.
    withdrawn_by, withdrawn_at : str
        Who withdrew it, and when; empty where nobody did. [UTC]
    """

    plan_id: str
    name: str
    kept_by: str
    kept_at: str
    as_of: str
    horizon_days: int
    link: str
    withdrawn_by: str = ""
    withdrawn_at: str = ""

    @property
    def kept_on(self) -> pd.Timestamp:
        """The day on which it was kept, by the clock of this machine."""
        return pd.Timestamp(dt.datetime.fromisoformat(self.kept_at).astimezone().date())


def keep_plan(  # noqa: PLR0913 - what is kept of a plan
    writing: Writing,
    name: str,
    jobs: pd.DataFrame,
    *,
    as_of: pd.Timestamp,
    horizon_days: int,
    link: str,
) -> KeptPlan:
    """Keep a plan in the actor's name.

    Parameters
    ----------
    writing : Writing
        In whose name.
    name : str
        What it is called; no other plan that is listed has the name.
    jobs : DataFrame, shape (n_jobs, ...)
        Columns of the contract's table ``plan``; at least one job.
    as_of : Timestamp
        The day whose records it was made from.
    horizon_days : int
        So many days ahead its losses reach. [d]
    link : str
        The address that shows what was chosen; empty where no address can.

    Returns
    -------
    KeptPlan

    Raises
    ------
    RefusedError
        If it has no name, one that is in use, or no job.
    """
    asker = require_written(writing, Act.KEEP_PLAN)
    called = named(name, "plan")
    link_kept(link)
    foreign = sorted({str(site) for site in jobs["site"] if not asker.sees(site)})
    if foreign:
        raise NotAllowedError(f"{asker.name} has no part in the site {', '.join(foreign)}")
    if jobs.empty:
        raise RefusedError((Fault("jobs", "a plan without a job is not kept; give more hours"),))
    for other in kept_plans(writing.connection):
        if other.name == called:
            words = (
                f"{other.kept_by} keeps a plan as {called!r} already; give another name, or "
                "withdraw that plan first"
            )
            raise RefusedError((Fault("name", words),))
    day = str(as_of.date())
    plan = KeptPlan(
        new_key("kept_plans"), called, writing.actor, writing.at, day, horizon_days, link
    )
    kept = {column.name: getattr(plan, column.name) for column in KEPT_PLANS.c}
    writing.connection.execute(insert(KEPT_PLANS).values(kept))
    rows = [{**row, "plan_id": plan.plan_id} for row in _stored(jobs)]
    writing.connection.execute(insert(KEPT_PLAN_JOBS), rows)
    sealed = digest_of_rows([row[column.name] for column in KEPT_PLAN_JOBS.c] for row in rows)
    after = {**kept, "jobs": len(rows), "jobs_sha256": sealed}
    writing.note([Change("kept_plans", plan.plan_id, "kept", after=after)])
    return plan


def withdraw_plan(writing: Writing, plan_id: str) -> None:
    """Take a plan off the list; it stays in the store as it was kept.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    require_written(writing, Act.KEEP_PLAN)
    plan = kept_plan(writing.connection, plan_id)
    if plan.withdrawn_at:
        return
    gone = {"plan_id": plan_id, "withdrawn_by": writing.actor, "withdrawn_at": writing.at}
    writing.connection.execute(insert(WITHDRAWN_PLANS).values(gone))
    writing.note([Change("kept_plans", plan_id, "withdrawn", before=asdict(plan))])


def kept_plans(connection: Connection) -> list[KeptPlan]:
    """Return the plans that were kept and not withdrawn, the last first.

    A plan with a job at a site of others is none of who asks.
    """
    query = _plans(require(Act.SEE_PLANS)).where(WITHDRAWN_PLANS.c.plan_id.is_(None))
    rows = connection.execute(query.order_by(KEPT_PLANS.c.kept_at.desc(), KEPT_PLANS.c.plan_id))
    return [_plan_of(row) for row in rows]


def kept_plan(connection: Connection, plan_id: str) -> KeptPlan:
    """Return a plan, be it withdrawn.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    query = _plans(require(Act.SEE_PLANS))
    row = connection.execute(query.where(KEPT_PLANS.c.plan_id == plan_id)).one_or_none()
    if row is None:
        raise UnknownRecordError(
            f"there is no kept plan {plan_id!r} in the store; open one from the list of kept plans"
        )
    return _plan_of(row)


def jobs_of_plans(connection: Connection, plan_ids: list[str]) -> pd.DataFrame:
    """Return the jobs of some plans as they were promised.

    Returns
    -------
    DataFrame, shape (n_jobs, ...)
        ``plan_id`` and the columns ``PLANNED``; by plan, in the order of the plan.
    """
    query = select(KEPT_PLAN_JOBS).where(
        KEPT_PLAN_JOBS.c.plan_id.in_(plan_ids),
        _is_of_own_sites(require(Act.SEE_PLANS), KEPT_PLAN_JOBS.c.plan_id),
    )
    rows = connection.execute(query.order_by(KEPT_PLAN_JOBS.c.plan_id, KEPT_PLAN_JOBS.c.order))
    table = pd.DataFrame([tuple(row) for row in rows], columns=[c.name for c in KEPT_PLAN_JOBS.c])
    for name in _TEXTS:
        table[name] = table[name].astype(TEXT)
    table["starts_on"] = pd.to_datetime(table["starts_on"]).astype("datetime64[us]")
    return table.astype({"hours": "float64", "loss_avoided": "float64"})[["plan_id", *PLANNED]]


def named(name: str, what: str) -> str:
    """Return the name that something is kept by, without needless blanks.

    Raises
    ------
    RefusedError
        If it is empty, too long, or cannot be kept.
    """
    called = " ".join(name.split())
    wrong = not_whole(called, LONGEST_NAME) or ("" if called else "is empty")
    if wrong:
        words = f"the name of the {what} {wrong}; give 1 to {LONGEST_NAME} characters"
        raise RefusedError((Fault("name", words),))
    return called


def link_kept(link: str) -> None:
    """Refuse an address that is too long to be kept.

    Raises
    ------
    RefusedError
        If it is.
    """
    wrong = not_whole(link, LONGEST_LINK)
    if wrong:
        raise RefusedError((Fault("link", f"what is chosen {wrong} as a link; choose less"),))


def _plan_of(row: Row[tuple[Any, ...]]) -> KeptPlan:
    kept: list[Any] = ["" if value is None else value for value in row]
    return KeptPlan(*kept)


def _plans(asker: Asker) -> Select[tuple[Any, ...]]:
    gone = WITHDRAWN_PLANS.c
    return (
        select(*KEPT_PLANS.c, gone.withdrawn_by, gone.withdrawn_at)
        .join(WITHDRAWN_PLANS, gone.plan_id == KEPT_PLANS.c.plan_id, isouter=True)
        .where(_is_of_own_sites(asker, KEPT_PLANS.c.plan_id))
    )


def _is_of_own_sites(asker: Asker, plan_id: ColumnElement[str]) -> ColumnElement[bool]:
    """Return the condition that no job of a plan is at a site of others."""
    if asker.sites is None:
        return true()
    jobs = KEPT_PLAN_JOBS.alias().c
    of_others = or_(jobs.site.is_(None), jobs.site.not_in(sorted(asker.sites)))
    return plan_id.not_in(select(jobs.plan_id).where(of_others))


def _stored(jobs: pd.DataFrame) -> list[dict[str, object]]:
    """Return jobs as the store keeps them: missing is blank, a day is ISO 8601."""
    kept = jobs[list(PLANNED)].assign(starts_on=jobs["starts_on"].dt.strftime("%Y-%m-%d"))
    kept = kept.astype({"order": "int64", "hours": "float64", "loss_avoided": "float64"})
    filled = kept.astype(object).where(kept.notna(), None)
    return [dict(zip(PLANNED, row, strict=True)) for row in filled.to_numpy().tolist()]
