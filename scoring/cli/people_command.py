"""``mount-risk people``: who may do what, at which sites."""

from collections.abc import Callable
from contextlib import closing
from typing import TypeVar

import click

from scoring.access.acts import MAY, Role
from scoring.access.grants import Grant, SignedInAs, grant, grants, withdraw
from scoring.access.login_settings import ISSUER
from scoring.cli.screen import say
from scoring.cli.store_options import by_option, named_person, store_option
from scoring.errors import FixableError
from scoring.store.open_store import open_store

Command = TypeVar("Command", bound=Callable[..., object])

ROLES = [role.value for role in Role]


def issuer_option(command: Command) -> Command:
    """Add the option that names who vouches for people."""
    return click.option(
        "--issuer",
        envvar=ISSUER,
        required=True,
        metavar="URL",
        help=f"The provider of the login, as it names itself; also by {ISSUER}.",
    )(command)


@click.group()
def people() -> None:
    """Grant roles and sites to who signs in, withdraw and list them.

    The first to be granted anything is an administrator; from then on administrators grant. A
    person is named by the subject by which the provider of the login knows them: who signs in
    without a role is shown their own.
    """


@people.command("grant")
@click.argument("subject", metavar="SUBJECT")
@click.option("--name", required=True, metavar="NAME", help="How the person signs; nobody else.")
@click.option(
    "--role",
    "roles",
    type=click.Choice(ROLES),
    multiple=True,
    required=True,
    help="May be given again: what any of the roles may do.",
)
@click.option("--site", "sites", multiple=True, metavar="SITE", help="May be given again.")
@click.option("--all-sites", is_flag=True, help="All sites, those to come included.")
@issuer_option
@store_option
@by_option
def grant_command(  # noqa: PLR0913, PLR0917 - a command has the options it has
    subject: str,
    name: str,
    roles: tuple[str, ...],
    sites: tuple[str, ...],
    issuer: str,
    store: str,
    by: str | None,
    *,
    all_sites: bool,
) -> None:
    """Grant roles at sites to a person, in place of what was granted before."""
    if bool(sites) == all_sites:
        raise FixableError("say at which sites: --site SITE for each, or --all-sites")
    with closing(open_store(store)) as opened, opened.writing(named_person(by)) as writing:
        given = grant(
            writing,
            SignedInAs(issuer.strip(), subject.strip()),
            name,
            [Role(role) for role in roles],
            None if all_sites else sites,
        )
    say(_said(given))


@people.command("withdraw")
@click.argument("subject", metavar="SUBJECT")
@issuer_option
@store_option
@by_option
def withdraw_command(subject: str, issuer: str, store: str, by: str | None) -> None:
    """Take all roles from a person; what they signed stays."""
    with closing(open_store(store)) as opened, opened.writing(named_person(by)) as writing:
        given = withdraw(writing, SignedInAs(issuer.strip(), subject.strip()))
    say(_said(given))


@people.command("list")
@store_option
def list_command(store: str) -> None:
    """List who was granted what, and what each role may do."""
    with closing(open_store(store)) as opened, opened.reading() as connection:
        found = grants(connection)
    for one in found:
        say(_said(one))
    if not found:
        say("nothing is granted to anybody yet")
    for act, roles in MAY.items():
        names = ", ".join(role.value for role in Role if role in roles)
        say(f"to {act.value}: {names}")


def _said(one: Grant) -> str:
    asker = one.asker
    sites = "all sites" if asker.sites is None else ", ".join(sorted(asker.sites))
    roles = f"{one.roles.replace(',', ', ')} at {sites}" if one.roles else "no role any more"
    when = f"{one.granted_by}, {one.granted_at[:10]}"
    return f"{one.granted_to} ({one.subject} at {one.issuer}): {roles}; granted by {when}"
