"""Roles and sites as they were granted: only ever added to, the last word on a person counts."""

import json
from collections.abc import Collection
from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import Connection, func, insert, select

from scoring.access.acts import Act, Role
from scoring.access.allowed import require_written
from scoring.access.who_asks import Asker, NotAllowedError
from scoring.store.chain import key_of_subject
from scoring.store.schema import GRANTS, PEOPLE
from scoring.store.store_errors import StoreError, UnknownRecordError
from scoring.store.whole_text import LONGEST_NAME, not_whole
from scoring.store.writing import Change, Writing

ALL_SITES = "*"
"""How a grant says that it is for all sites."""


@dataclass(frozen=True)
class Grant:
    """What was granted to a person.

    Attributes
    ----------
    grant_id : int
        Counts from 1.
    granted_to : str
        The person, as they sign.
    issuer, subject : str
        Who vouches for them at the login, and by what they are known there.
    subject_key : str
        What the chain of the history holds in place of the subject.
    roles : str
        Names of roles, sorted, with commas; empty where all were withdrawn.
    sites : str
        A list as JSON, sorted; or ``*``.
    granted_by, granted_at : str
        Who granted it, and when. [UTC]
    """

    grant_id: int
    granted_to: str
    issuer: str
    subject: str
    subject_key: str
    roles: str
    sites: str
    granted_by: str
    granted_at: str

    @property
    def asker(self) -> Asker:
        """The person, with these roles and sites."""
        sites = None if self.sites == ALL_SITES else frozenset(json.loads(self.sites))
        roles = frozenset(Role(name) for name in self.roles.split(",") if name)
        return Asker(self.granted_to, roles, sites, self.subject)


@dataclass(frozen=True)
class SignedInAs:
    """Who vouches for a person, and by what they are known there."""

    issuer: str
    subject: str


def grant(
    writing: Writing,
    who: SignedInAs,
    name: str,
    roles: Collection[Role],
    sites: Collection[str] | None,
) -> Grant:
    """Grant roles at sites to a person, in place of what was granted before.

    Parameters
    ----------
    writing : Writing
        Its actor is an administrator, or there is none yet.
    who : SignedInAs
        How the login knows the person.
    name : str
        How they sign from now on; nobody else does.
    roles : collection of Role
        None of them takes all away.
    sites : collection of str or None
        The sites; None: all, those to come included.

    Returns
    -------
    Grant

    Raises
    ------
    NotAllowedError
        If the actor is no administrator, or none would be left.
    StoreError
        If the name is somebody else's, or a text cannot be kept.
    """
    require_written(writing, Act.GRANT)
    called = " ".join(name.split())
    for text, what in (
        (called, "the name"),
        (who.subject, "the subject"),
        (who.issuer, "the issuer"),
    ):
        wrong = not_whole(text, LONGEST_NAME) or ("" if text.strip() else "is empty")
        if wrong:
            raise StoreError(f"{what} {wrong}; nothing was granted")
    current = grants(writing.connection)
    _require_administrator(writing.actor, current, who, roles)
    _require_free(called, current, who)
    writing.know(called)
    salt = writing.connection.scalar(select(PEOPLE.c.salt).where(PEOPLE.c.name == called))
    if salt is None:
        raise StoreError(f"{called!r} is an erased name; grant it by another name")
    given = Grant(
        (writing.connection.scalar(select(func.max(GRANTS.c.grant_id))) or 0) + 1,
        called,
        who.issuer,
        who.subject,
        key_of_subject(who.issuer, who.subject, salt),
        ",".join(sorted(role.value for role in roles)),
        ALL_SITES if sites is None else json.dumps(sorted(set(sites)), ensure_ascii=False),
        writing.actor,
        writing.at,
    )
    writing.connection.execute(insert(GRANTS).values(asdict(given)))
    after = {name: value for name, value in asdict(given).items() if name != "subject"}
    change = "granted" if roles else "withdrawn"
    writing.note([Change("grants", str(given.grant_id), change, after=after)])
    return given


def withdraw(writing: Writing, who: SignedInAs) -> Grant:
    """Take all roles from a person.

    Raises
    ------
    UnknownRecordError
        If nothing was granted to them.
    NotAllowedError
        If the actor is no administrator, or none would be left.
    """
    there = granted_to(writing.connection, who)
    if there is None:
        raise UnknownRecordError(f"nothing is granted to the subject {who.subject!r}")
    return grant(writing, who, there.granted_to, (), there.asker.sites)


def grants(connection: Connection) -> list[Grant]:
    """Return the last word on each person who was ever granted anything, by name.

    Left out are those whose names were erased, and their subjects with them.
    """
    is_known = GRANTS.c.subject != GRANTS.c.granted_to
    last = (
        select(func.max(GRANTS.c.grant_id))
        .where(is_known)
        .group_by(GRANTS.c.issuer, GRANTS.c.subject)
    )
    query = select(GRANTS).where(GRANTS.c.grant_id.in_(last)).order_by(GRANTS.c.granted_to)
    return [_grant(row) for row in connection.execute(query)]


def granted_to(connection: Connection, who: SignedInAs) -> Grant | None:
    """Return what is granted to a person; none where nothing is, or all was withdrawn."""
    query = (
        select(GRANTS)
        .where(GRANTS.c.issuer == who.issuer, GRANTS.c.subject == who.subject)
        .order_by(GRANTS.c.grant_id.desc())
        .limit(1)
    )
    row = connection.execute(query).one_or_none()
    return None if row is None or not row.roles else _grant(row)


def _require_administrator(
    actor: str, current: list[Grant], who: SignedInAs, roles: Collection[Role]
) -> None:
    administrators = [one for one in current if Role.ADMINISTRATOR in one.asker.roles]
    if administrators and actor not in {one.granted_to for one in administrators}:
        names = ", ".join(one.granted_to for one in administrators)
        raise NotAllowedError(
            f"{actor} is no administrator of this store; these are: {names}. Say who grants: --by"
        )
    others = [
        one for one in administrators if (one.issuer, one.subject) != (who.issuer, who.subject)
    ]
    if not others and Role.ADMINISTRATOR not in roles:
        raise NotAllowedError(
            "no administrator would be left, who could grant anything; grant somebody the role "
            "administrator first"
        )


def _require_free(name: str, current: list[Grant], who: SignedInAs) -> None:
    for one in current:
        if one.granted_to == name and (one.issuer, one.subject) != (who.issuer, who.subject):
            raise StoreError(
                f"{name} is the name of another person, known to the login as {one.subject!r}; "
                "give a name that tells them apart"
            )


def _grant(row: Any) -> Grant:  # noqa: ANN401 - a row's columns are known to the database only
    return Grant(*row)
