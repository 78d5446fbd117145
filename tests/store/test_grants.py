"""Roles and sites on both databases: who grants, what counts, and that changes past us show."""

import pytest
from click.testing import CliRunner
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from scoring.access.acts import Role
from scoring.access.grants import SignedInAs, grant, granted_to, grants, withdraw
from scoring.access.who_asks import Asker, NotAllowedError, asked_by
from scoring.cli.main import cli
from scoring.store.forget_person import forget_person
from scoring.store.only_added_to import lift, restore
from scoring.store.store_errors import StoreError, UnknownRecordError
from scoring.store.verified import verify

ISSUER = "https://login.plant"
CY, DI = SignedInAs(ISSUER, "1001"), SignedInAs(ISSUER, "1002")

ONE_MORE = """
    INSERT INTO grants SELECT 3, granted_to, issuer, subject, subject_key, 'administrator', '*',
    granted_by, granted_at FROM grants WHERE grant_id = 2
"""


def give(store, who, name, roles, sites=None, *, by="Cy Dunn"):  # noqa: PLR0913
    with store.writing(by) as writing:
        return grant(writing, who, name, roles, sites)


@pytest.fixture
def governed(store):
    give(store, CY, "Cy Dunn", [Role.ADMINISTRATOR], by="Ann Bell")
    give(store, DI, "Di Eck", [Role.INSPECTOR], ["North", "South"])
    return store


def may(store, who):
    with store.reading() as connection:
        found = granted_to(connection, who)
    return None if found is None else found.asker


def test_the_last_word_counts(governed):
    assert may(governed, DI) == Asker(
        "Di Eck", frozenset({Role.INSPECTOR}), frozenset({"North", "South"}), "1002"
    )
    give(governed, DI, "Di Eck", [Role.MANAGER, Role.ENGINEER], ["North"])
    assert may(governed, DI) == Asker(
        "Di Eck", frozenset({Role.ENGINEER, Role.MANAGER}), frozenset({"North"}), "1002"
    )
    with governed.writing("Cy Dunn") as writing:
        withdraw(writing, DI)
    assert may(governed, DI) is None
    assert may(governed, SignedInAs("https://another.login", "1001")) is None
    assert may(governed, SignedInAs(ISSUER, "1003")) is None
    with governed.reading() as connection:
        assert [(one.granted_to, one.roles) for one in grants(connection)] == [
            ("Cy Dunn", "administrator"),
            ("Di Eck", ""),
        ]


def test_the_first_is_an_administrator_and_from_then_on_these_grant(store):
    with pytest.raises(NotAllowedError, match="no administrator would be left"):
        give(store, DI, "Di Eck", [Role.ENGINEER], by="Ann Bell")
    give(store, CY, "Cy Dunn", [Role.ADMINISTRATOR], by="Ann Bell")
    with pytest.raises(NotAllowedError, match=r"Ann Bell is no administrator .* Cy Dunn"):
        give(store, DI, "Di Eck", [Role.ENGINEER], by="Ann Bell")
    with pytest.raises(NotAllowedError, match="no administrator would be left"):
        give(store, CY, "Cy Dunn", [Role.ENGINEER])
    with store.writing("Cy Dunn") as writing, pytest.raises(UnknownRecordError):
        withdraw(writing, DI)


def test_two_people_never_sign_alike(governed):
    with pytest.raises(StoreError, match="Cy Dunn is the name of another person"):
        give(governed, DI, " Cy  Dunn", [Role.ENGINEER])


def test_who_is_signed_in_grants_as_an_administrator_alone(governed):
    for asker in (Asker("Di Eck", frozenset({Role.MANAGER})), Asker("Cy Dunn", frozenset())):
        with asked_by(asker), pytest.raises(NotAllowedError, match="may not grant"):
            give(governed, DI, "Di Eck", [Role.MANAGER])
    di = Asker("Di Eck", frozenset({Role.ADMINISTRATOR}))
    with asked_by(di), pytest.raises(NotAllowedError, match="writes in no other name"):
        give(governed, DI, "Di Eck", [Role.MANAGER])


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("UPDATE grants SET roles = 'administrator' WHERE grant_id = 2", "another roles"),
        ("UPDATE grants SET sites = '*' WHERE grant_id = 2", "another sites"),
        ("UPDATE grants SET subject = '1009' WHERE grant_id = 2", "another subject"),
        ("UPDATE grants SET granted_to = 'Cy Dunn' WHERE grant_id = 2", "another granted_to"),
        ("DELETE FROM grants WHERE grant_id = 2", "is told of by the history and is not there"),
        (ONE_MORE, "grants 3: is not told of by the history"),
    ],
)
def test_a_role_changed_past_the_program_is_refused_and_shows(governed, store_url, change, said):
    assert verify(store_url).faults == []
    if change != ONE_MORE:
        with pytest.raises(DBAPIError, match="grants are only added to"):
            run(governed, change)
    with governed.changing_layout() as connection:
        lift(connection)
        connection.execute(text(change))
        restore(connection)
    assert any(said in fault for fault in verify(store_url).faults)


def run(store, statement):
    past_our_words = store._connections  # noqa: SLF001 - what the database itself says
    with past_our_words.taken(to_write=True) as connection, connection.begin():
        connection.execute(text(statement))


def test_an_erased_person_may_nothing_and_the_chain_stays_whole(governed, store_url):
    with governed.writing("Cy Dunn") as writing:
        forget_person(writing, "Di Eck", "left")
    assert may(governed, DI) is None
    assert verify(store_url).faults == []
    with governed.reading() as connection:
        assert [one.granted_to for one in grants(connection)] == ["Cy Dunn"]
        rows = connection.execute(text("SELECT * FROM grants")).all()
        lines = connection.execute(text("SELECT * FROM history")).all()
    assert "1002" not in str(rows)
    assert "Di Eck" not in str(lines)


def test_the_command_grants_withdraws_and_lists(store, store_url):
    at = ("--store", store_url)

    def ask(*words, by="Ann Bell"):
        more = () if words[0] == "list" else ("--issuer", ISSUER, "--by", by)
        done = CliRunner().invoke(cli, ["people", *words, *at, *more])
        assert done.exception is None, (done.exception, done.output)
        return done.output

    assert store.name
    ask("grant", "1001", "--name", "Cy Dunn", "--role", "administrator", "--all-sites")
    said = ask(
        "grant", "1002", "--name", "Di Eck", "--role", "engineer", "--role", "manager",
        "--site", "North", by="Cy Dunn",
    )  # fmt: skip
    assert "Di Eck (1002 at https://login.plant): engineer, manager at North; granted by" in said
    assert "no role any more" in ask("withdraw", "1002", by="Cy Dunn")
    listed = ask("list")
    assert "Cy Dunn (1001 at https://login.plant): administrator at all sites" in listed
    assert "to release a unit to start: engineer, manager" in listed


def test_the_command_wants_sites_or_all(store_url, store):
    assert store.name
    words = ("grant", "1", "--name", "Cy", "--role", "administrator", "--issuer", ISSUER)
    for sites in ((), ("--site", "North", "--all-sites")):
        done = CliRunner().invoke(cli, ["people", *words, *sites, "--store", store_url])
        assert "say at which sites" in str(done.exception)
