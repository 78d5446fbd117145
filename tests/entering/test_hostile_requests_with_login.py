"""The same requests where there is a login: by who has not signed in, and by an inspector.

``pytest tests/entering/test_hostile_requests_with_login.py -m "long or not long" -s`` tries all of
them on SQLite and PostgreSQL, and prints how many of each kind there were.
"""

import random
import shutil
from contextlib import closing
from dataclasses import replace

import pytest
from at_the_machine import UNIT, answer_visit, begin
from hostile_kinds import KINDS, let_in, rows_of
from hostile_requests import API, NO, Target, code_of, websocket, writes
from signed_in import Pages, grant_all, provider

from scoring.store.open_store import open_store

pytestmark = pytest.mark.slow

DI, SUBJECT = "Di Eck", "1002"
ON = ("sqlite", pytest.param("postgresql", marks=pytest.mark.long))
NOT_SIGNED_IN = NO | {401}
"""Who has not signed in is answered by a refusal, be it a harmless page that is asked for."""


@pytest.fixture(scope="module", params=ON)
def plant(request, quarry_file, tmp_path_factory):
    """Serve a plant to who signs in; an inspector of one site did, and began a walkdown."""
    folder = tmp_path_factory.mktemp("hostile")
    url = f"sqlite:///{folder / 'quarry.db'}"
    if request.param == "sqlite":
        shutil.copy(quarry_file, folder / "quarry.db")
    else:
        url = request.getfixturevalue("new_store")()
    with closing(open_store(url)) as store:
        draft_id = begin(store, by=DI)
        answer_visit(store, draft_id)
    with provider() as login:
        grant_all(url, login.issuer, [(DI, SUBJECT, "inspector", ["Stone shed"])])
        pages = Pages(url, login.issuer, folder / "log.txt")
        try:
            yield Plant(url, pages, draft_id, pages.sign_in(SUBJECT)["Cookie"])
        finally:
            pages.stop()
    said = (folder / "log.txt").read_text()
    assert "Traceback" not in said, said


class Plant:
    def __init__(self, url, pages, draft_id, cookie):
        self.url, self.pages, self.cookie = url, pages, cookie
        self.target = Target(pages.port, draft_id, UNIT)

    def requests(self, kind, *, signed_in):
        for one in kind(self.target):
            yield replace(one, sent=signed(one.sent, self.cookie)) if signed_in else one

    def none_is_let_in(self, requests, *, signed_in):
        """Send requests, and require that nothing came of them."""
        before = rows_of(self.url)
        refusals = {True: lambda one: one.allowed | {401}, False: lambda _: NOT_SIGNED_IN}
        wrong, tried = let_in(requests, self.target.port, refusals[signed_in])
        assert wrong == []
        assert rows_of(self.url) == before
        draft = f"{API}/{self.target.draft_id}"
        assert self.pages.ask("GET", draft, headers={"Cookie": self.cookie}).code == 200
        assert self.pages.ask("GET", draft).code == 401
        return tried


def signed(sent, cookie):
    """Add the cookie of a session to a request, beside what cookies it has."""
    first, end, rest = sent.partition(b"\r\n")
    if b"HTTP/1." not in first or not end:
        return sent
    head, blank, body = rest.partition(b"\r\n\r\n")
    said = f"Cookie: {cookie}".encode()
    if b"Cookie: " in head:
        head = head.replace(b"Cookie: ", said + b"; ", 1)
    else:
        head = said + b"\r\n" + head
    return first + end + head + blank + body


SAMPLE, SEED = 6, 20261129
"""So many of each kind in the ordinary run, drawn by a seed."""
WHO = pytest.mark.parametrize("signed_in", [False, True], ids=["signed out", "inspector"])


@WHO
def test_a_few_of_each_kind_are_not_let_in(plant, signed_in):
    draw = random.Random(SEED)  # noqa: S311 - a sample
    for kind in KINDS:
        all_of_them = plant.requests(kind, signed_in=signed_in)
        quick = [one for one in all_of_them if is_quick(one)]
        plant.none_is_let_in(draw.sample(quick, SAMPLE), signed_in=signed_in)


def is_quick(one):
    """Tell whether a request is short and whole: for one that does not end a server waits."""
    return len(one.sent) < QUICK_BYTES and (one.kind != "bodies" or ", " in one.name)


QUICK_BYTES = 2_000_000


@pytest.mark.long
@WHO
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_none_of_any_kind_is_let_in(kind, plant, signed_in, request):
    requests = plant.requests(kind, signed_in=signed_in)
    tried = plant.none_is_let_in(requests, signed_in=signed_in)
    print(request.node.callspec.id, dict(tried))  # noqa: T201 - the table


def test_the_same_requests_of_our_own_page_are_taken_from_who_signed_in_alone(plant):
    """Else it would be no wonder that they are refused."""
    at = plant.target
    own = f"http://{at.host}"
    mine = dict(writes(at, Origin=own))
    taken = {"begin": 303, "answer": 200, "photo": 200, "drop": 200, "release": 403, "record": 403}
    for name, code in taken.items():
        assert code_of(at.port, mine[name])[0] == 401, name
        assert code_of(at.port, signed(mine[name], plant.cookie))[0] == code, name
    open_one = websocket(at.host, Origin=own)
    assert code_of(at.port, open_one)[0] == 403
    assert code_of(at.port, signed(open_one, plant.cookie))[0] == 101
