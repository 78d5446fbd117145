"""Every write and read of what is entered, by each role, at a site of theirs and at another."""

import pandas as pd
import pytest
from at_the_machine import UNIT, answer_visit, begin, today
from test_tampering import a_photo

from scoring.access.acts import Role
from scoring.access.who_asks import (
    Asker,
    NotAllowedError,
    NotSignedInError,
    asked_by,
    require_login,
)
from scoring.entering.answers import Answer, keep_answer
from scoring.entering.drafts import discard_draft, find_draft, open_drafts, start_draft
from scoring.entering.enter_record import enter_record, withdraw
from scoring.entering.judge_draft import judge_draft
from scoring.entering.kept_plans import (
    jobs_of_plans,
    keep_plan,
    kept_plan,
    kept_plans,
    withdraw_plan,
)
from scoring.entering.kept_views import keep_view, kept_views, remove_view
from scoring.entering.people import known_people, set_measures
from scoring.entering.photos import find_photo, keep_photo, remove_photo
from scoring.entering.refusals import RefusedError
from scoring.entering.releases import release_to_start, releases_of, verdict_now
from scoring.entering.signed_lately import signed_by_others, units_signed_since
from scoring.entering.start_correction import start_correction
from scoring.entering.submit_draft import submit_draft
from scoring.entering.walkdown_as_filled import walkdown_as_filled
from scoring.store.store_errors import UnknownRecordError

ME = "Ben Meier"
HERE, ELSEWHERE = frozenset({"Stone shed"}), frozenset({"North quay"})
LONG_AGO = "2000-01-01T00:00:00+00:00"
DAY = pd.Timestamp("2026-06-30")


def me(role, sites=HERE, name=ME):
    return Asker(name, frozenset({Role(role)}), sites, "1002")


class Prepared:
    """A store with something of each kind in it, entered before anybody had to sign in."""

    def __init__(self, store, quarry):
        self.store, self.quarry = store, quarry
        self.signed = begin(store)
        answer_visit(store, self.signed, guard="fitted")
        self.walkdown = submit_draft(store, self.signed, signed_by=ME, told="Foreman").walkdown_id
        self.draft = begin(store)
        answer_visit(store, self.draft)
        self.of_another = begin(store, by="Cleo Roth")
        self.photo = self.photo_of(self.draft, ME)
        self.photo_of_another = self.photo_of(self.of_another, "Cleo Roth")
        rework = {"unit_id": UNIT, "done_on": today(), "actions": "fit_guard"}
        self.rework = enter_record(store, "rework", rework, actor=ME).key
        with store.writing(ME) as writing:
            self.view = keep_view(writing, "mine", "fix", "/fix").view_id
            self.plan = keep_plan(
                writing, "first", self.jobs("Stone shed"), as_of=DAY, horizon_days=90, link="/plan"
            ).plan_id

    def photo_of(self, draft_id, by):
        with self.store.writing(by) as writing:
            walkdown_id = find_draft(writing.connection, draft_id).walkdown_id
            return keep_photo(
                writing, walkdown_id, "guard", a_photo(), draft_id=draft_id, unit_id=UNIT
            )

    def jobs(self, *sites):
        job = {
            "window": "July", "starts_on": pd.NaT, "unit_id": UNIT, "line": None,
            "verdict": "hold", "verdict_after": "watch", "actions": "fit_guard",
            "hours": 2.5, "loss_avoided": 1.0, "currency": "EUR",
        }  # fmt: skip
        return pd.DataFrame([{**job, "site": s, "order": n} for n, s in enumerate(sites, 1)])

    def writing(self, write, by=ME):
        with self.store.writing(by) as writing:
            return write(writing)

    def reading(self, read):
        with self.store.reading() as connection:
            return read(connection)


@pytest.fixture(scope="module")
def prepared(store, quarry):
    return Prepared(store, quarry)


def answer(field="guard", value="missing"):
    return Answer(field, field, value)


def removed(p):
    """Take a photo that does not exist: what may be done is asked before."""
    p.writing(lambda w: remove_photo(w, find_draft(w.connection, p.draft), "none"))


WALKERS, ALL = "inspector engineer", "inspector engineer manager"
ASKED = {
    "begin": (WALKERS, lambda p: p.writing(lambda w: start_draft(w, UNIT))),
    "correct": (WALKERS, lambda p: p.writing(lambda w: start_correction(w, p.walkdown))),
    "answer": (
        WALKERS,
        lambda p: p.writing(
            lambda w: keep_answer(w, p.draft, answer(), base_revision=0, client="window 1")
        ),
    ),
    "photo": (WALKERS, lambda p: p.photo_of(p.draft, ME)),
    "remove a photo": (WALKERS, removed),
    "judge": (WALKERS, lambda p: judge_draft(p.store, p.draft)),
    "sign again": (WALKERS, lambda p: submit_draft(p.store, p.signed, signed_by=ME)),
    "re-work": (
        "engineer",
        lambda p: enter_record(
            p.store,
            "rework",
            {"unit_id": UNIT, "done_on": today(), "actions": "fit_guard"},
            actor=ME,
        ),
    ),
    "withdraw re-work": (
        "engineer",
        lambda p: withdraw(p.store, "rework", p.rework, actor=ME, reason=""),
    ),
    "release": (
        "engineer manager",
        lambda p: release_to_start(p.store, UNIT, released_by=ME, reason="guard fitted"),
    ),
    "photo seen": (ALL, lambda p: p.reading(lambda c: find_photo(c, p.photo))),
    "verdict": (ALL, lambda p: verdict_now(p.store, UNIT)),
    "releases": (ALL, lambda p: p.reading(lambda c: releases_of(c, UNIT))),
    "walkdown as filled": (ALL, lambda p: walkdown_as_filled(p.quarry, p.last, p.store)),
    "plan": ("engineer manager", lambda p: p.reading(lambda c: kept_plan(c, p.plan))),
    "withdraw a plan": (
        "engineer",
        lambda p: p.writing(lambda w: withdraw_plan(w, p.plan)),
    ),
    "keep a plan": (
        "engineer",
        lambda p: p.writing(
            lambda w: keep_plan(
                w, today() + w.at, p.jobs("Stone shed"), as_of=DAY, horizon_days=90, link="/plan"
            )
        ),
    ),
}
"""What is tried at a unit, and the roles that may; typed here a second time."""


@pytest.fixture(autouse=True)
def last_of_the_records(prepared, quarry):
    """Name a walkdown that the records on file hold, too."""
    of_unit = quarry.walkdowns[quarry.walkdowns["unit_id"] == UNIT]
    prepared.last = str(of_unit["walkdown_id"].iloc[-1])


@pytest.mark.parametrize("role", [role.value for role in Role])
@pytest.mark.parametrize("what", ASKED)
def test_each_role_does_what_it_may_and_nothing_else(prepared, what, role):
    roles, ask = ASKED[what]
    if what == "withdraw re-work" and role in roles.split():
        with asked_by(me(role)), pytest.raises(RefusedError, match="reason is empty"):
            ask(prepared)  # allowed so far; the record stays for the others
    elif role in roles.split():
        with asked_by(me(role)):
            ask(prepared)
    elif what == "withdraw re-work":
        with asked_by(me(role)), pytest.raises(NotAllowedError):
            withdraw(prepared.store, "rework", prepared.rework, actor=ME, reason="tried")
    else:
        with asked_by(me(role)), pytest.raises(NotAllowedError, match="may not"):
            ask(prepared)


@pytest.mark.parametrize("what", ASKED)
def test_at_the_sites_of_others_nothing_is_there(prepared, what):
    roles, ask = ASKED[what]
    before = lines(prepared)
    if what == "keep a plan":
        expected = pytest.raises(NotAllowedError, match="has no part in the site Stone shed")
    elif what == "withdraw re-work":
        ask = lambda p: withdraw(p.store, "rework", p.rework, actor=ME, reason="tried")  # noqa: E731
        expected = pytest.raises(UnknownRecordError, match="there is no")
    else:
        expected = pytest.raises(UnknownRecordError, match="there is no")
    with asked_by(me(roles.split()[-1], ELSEWHERE)), expected:
        ask(prepared)
    assert lines(prepared) == before


def lines(prepared):
    count = "SELECT count(*) FROM history WHERE about <> 'people'"
    return prepared.reading(lambda c: c.exec_driver_sql(count).scalar())


@pytest.mark.parametrize("what", [name for name in ASKED if name != "judge"])
def test_nobody_writes_in_the_name_of_another(prepared, what):
    roles, ask = ASKED[what]
    reads = {"photo seen", "verdict", "releases", "walkdown as filled", "plan"}
    before = lines(prepared)
    asker = me(roles.split()[-1], name="Eve Hart")
    if what == "photo seen":
        with asked_by(asker), pytest.raises(NotAllowedError, match="this photo belongs to"):
            ask(prepared)
    elif what in reads:
        with asked_by(asker):
            ask(prepared)
    elif what == "withdraw re-work":
        with asked_by(asker), pytest.raises(NotAllowedError, match="in no other name"):
            withdraw(prepared.store, "rework", prepared.rework, actor=ME, reason="tried")
    else:
        with asked_by(asker), pytest.raises(NotAllowedError, match=r"no other name|belongs to"):
            ask(prepared)
    assert lines(prepared) == before


@pytest.mark.parametrize("what", ASKED)
def test_with_a_login_who_has_not_signed_in_gets_nothing(prepared, what):
    _, ask = ASKED[what]
    if what == "withdraw re-work":
        ask = lambda p: withdraw(p.store, "rework", p.rework, actor=ME, reason="tried")  # noqa: E731
    require_login(lambda: None)
    try:
        with pytest.raises(NotSignedInError):
            ask(prepared)
    finally:
        require_login(None)


def test_a_walkdown_belongs_to_who_began_it(prepared):
    theirs = prepared.of_another
    for role in WALKERS.split():
        with asked_by(me(role)):
            for ask in (
                lambda: prepared.reading(lambda c: find_draft(c, theirs)),
                lambda: judge_draft(prepared.store, theirs),
                lambda: submit_draft(prepared.store, theirs, signed_by=ME),
                lambda: prepared.reading(lambda c: find_photo(c, prepared.photo_of_another)),
            ):
                with pytest.raises(NotAllowedError, match="belongs to Cleo Roth"):
                    ask()
    with asked_by(me("inspector")), pytest.raises(NotAllowedError, match="give up a walkdown"):
        prepared.writing(lambda w: discard_draft(w, theirs))
    with asked_by(me("engineer")):
        prepared.writing(lambda w: discard_draft(w, theirs))


def test_lists_hold_what_is_of_own_sites(prepared):
    read = {
        "drafts": lambda c: [one.draft_id for one in open_drafts(c)],
        "drafts of a unit": lambda c: [one.draft_id for one in open_drafts(c, UNIT)],
        "units signed": lambda c: units_signed_since(c, LONG_AGO),
        "signed by others": lambda c: signed_by_others(c, LONG_AGO, "Eve Hart"),
        "plans": lambda c: [one.plan_id for one in kept_plans(c)],
        "jobs": lambda c: list(jobs_of_plans(c, [prepared.plan])["plan_id"]),
    }
    for name, ask in read.items():
        with asked_by(me("engineer")):
            assert prepared.reading(ask), name
        with asked_by(me("engineer", ELSEWHERE)):
            assert not prepared.reading(ask), name
    with asked_by(me("inspector")), pytest.raises(NotAllowedError, match="may not see plans"):
        prepared.reading(kept_plans)


def test_a_plan_of_two_sites_is_for_who_has_both(prepared):
    jobs = prepared.jobs("Stone shed", "North quay")
    with asked_by(me("engineer", None)):
        plan = prepared.writing(
            lambda w: keep_plan(w, "both", jobs, as_of=DAY, horizon_days=90, link="/plan")
        )
    for sites, is_there in ((HERE, False), (ELSEWHERE, False), (HERE | ELSEWHERE, True)):
        with asked_by(me("manager", sites)):
            listed = {one.plan_id for one in prepared.reading(kept_plans)}
            assert (plan.plan_id in listed) == is_there
            assert bool(len(prepared.reading(lambda c: jobs_of_plans(c, [plan.plan_id])))) == (
                is_there
            )
            if not is_there:
                with pytest.raises(UnknownRecordError):
                    prepared.reading(lambda c: kept_plan(c, plan.plan_id))


def test_views_are_ones_own(prepared):
    with asked_by(me("inspector")):
        assert [one.view_id for one in prepared.reading(lambda c: kept_views(c, "fix"))] == [
            prepared.view
        ]
    eve = me("inspector", name="Eve Hart")
    with asked_by(eve):
        assert prepared.reading(lambda c: kept_views(c, "fix")) == []
        with pytest.raises(NotAllowedError, match="that view belongs to"):
            prepared.writing(lambda w: remove_view(w, prepared.view), by="Eve Hart")


def test_a_key_of_another_site_tells_nothing(prepared):
    with asked_by(me("engineer", None)), pytest.raises(RefusedError, match="is a record of SS-001"):
        reuse(prepared, "SS-002")
    with asked_by(me("engineer", ELSEWHERE)), pytest.raises(UnknownRecordError) as refused:
        reuse(prepared, "SS-002")
    assert UNIT not in str(refused.value)


def reuse(prepared, unit_id):
    row = {
        "rework_id": prepared.rework,
        "unit_id": unit_id,
        "done_on": today(),
        "actions": "fit_guard",
    }
    enter_record(prepared.store, "rework", row, actor=ME)


def test_names_and_measures_are_ones_own(prepared):
    assert ME in prepared.reading(known_people)
    with asked_by(me("inspector")):
        assert prepared.reading(known_people) == []
        prepared.writing(lambda w: set_measures(w, "inch"))
        with pytest.raises(NotAllowedError, match="in no other name"):
            prepared.writing(lambda w: set_measures(w, "metric"), by="Cleo Roth")
