"""Another day and another horizon, chosen on the pages: on each of them, and worked out once."""

import threading

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY
from pages_in_harness import open_page, tables_of, words_of

from dashboard import fleet_results, launch_settings, results_in_use
from dashboard.day_in_address import Asked
from dashboard.fleet_results import FleetResults
from dashboard.pages_there_are import BRINGING_IN, PAGES
from scoring.assessment import FleetAssessor
from scoring.errors import FixableError

EARLIER = "2026-03-31"
FILES = [
    page.file.removeprefix("views/").removesuffix(".py")
    for page in PAGES
    if page is not BRINGING_IN
]
"""Records are brought in, and checked, as of the real day alone."""
ADDRESS = {"as_of": EARLIER, "ahead": "90"}
LAST = pd.Timestamp("2026-06-30")


def html_of(app):
    return "".join(element.proto.body for element in app.get("html"))


@pytest.mark.parametrize("page", FILES)
def test_every_page_speaks_of_the_day_in_the_address_and_says_so(monkeypatch, page):
    app = open_page(monkeypatch, page, **ADDRESS)
    assert not app.exception
    words = words_of(app)
    assert "as of 31 March 2026, 90 days ahead" in words
    assert "as it was known on 31 March 2026" in words
    assert "to 30 June 2026 is left out" in words


@pytest.mark.parametrize("page", FILES)
def test_a_page_of_the_real_day_says_nothing_of_an_earlier_one(monkeypatch, page):
    app = open_page(monkeypatch, page)
    assert not app.exception
    assert "as of 30 June 2026, one year ahead" in words_of(app)
    assert "An earlier day" not in words_of(app)


def test_the_day_and_horizon_of_the_band_go_into_the_address_and_back_out_of_it(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first")
    app.date_input[0].set_value(pd.Timestamp(EARLIER).date()).run()
    assert app.query_params["as_of"] == EARLIER
    app.radio(key="days to look ahead").set_value(730).run()
    assert app.query_params["ahead"] == "730"
    assert "as of 31 March 2026, two years ahead" in words_of(app)
    back = next(one for one in app.button if one.label == "Back to 30 June 2026")
    back.click().run()
    assert "as_of" not in app.query_params
    assert "as of 30 June 2026, two years ahead" in words_of(app)


def test_what_the_pages_say_is_what_was_known_then_within_the_days_asked_for(monkeypatch):
    results = results_of(monkeypatch)
    expected = results.fleet.assessor.assess(
        pd.Timestamp(EARLIER), 90, results.fleet.assessor.learn(pd.Timestamp(EARLIER))
    ).ranking
    app = open_page(monkeypatch, "what_to_fix_first", **ADDRESS)
    held = int((expected["verdict"] == "hold").sum())
    assert any(said.value.startswith(f"**{held} must not run") for said in app.markdown)
    assert f"{len(expected)} units in service" in words_of(app)
    assert "as of 31 March 2026, 90 days ahead" in words_of(app)
    assert "expected loss in 90 days" in html_of(app)
    first = expected["unit_id"].iloc[0]
    app = open_page(monkeypatch, "one_unit", unit=first, **ADDRESS)
    assert "Chance within 90 days" in html_of(app)


@pytest.mark.parametrize("asked", ["2026-07-01", "1999-01-01", "31 March", "20260331", "<b>"])
def test_a_day_that_cannot_be_shown_is_told_and_the_usual_one_is_shown(monkeypatch, asked):
    app = open_page(monkeypatch, "what_to_fix_first", as_of=asked)
    assert not app.exception
    assert "can be shown" in app.warning[0].value
    assert "as of 30 June 2026" in words_of(app)


def test_a_horizon_that_is_not_offered_is_told(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first", ahead="36500")
    assert "90, 180, 365, 730 can be shown" in app.warning[0].value
    assert "one year ahead" in words_of(app)


@pytest.mark.parametrize("page", FILES)
def test_the_day_of_the_first_record_is_shown_without_a_fault(monkeypatch, page):
    first = results_of(monkeypatch).fleet.first_day
    app = open_page(monkeypatch, page, as_of=str(first))
    assert not app.exception
    assert not app.error


def test_links_of_a_page_carry_the_day_and_those_of_the_form_do_not(monkeypatch):
    app = open_page(monkeypatch, "start", **ADDRESS)
    assert 'href="/fix?verdict=hold&amp;as_of=2026-03-31&amp;ahead=90"' in html_of(app)
    app = open_page(monkeypatch, "enter_walkdowns", **ADDRESS)
    assert 'href="/today"' in html_of(app)


def test_the_header_carries_what_was_chosen_on_other_pages(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first", search="clamped", **ADDRESS)
    app.switch_page("views/shutdown_plan.py").run()
    said = {one.proto.page: one.proto.query_string for one in app.get("page_link")}
    assert said["fix"] == "search=clamped&as_of=2026-03-31&ahead=90"
    assert said["look"] == "as_of=2026-03-31&ahead=90"


def test_a_choice_that_is_none_of_that_day_is_left_out(monkeypatch):
    app = open_page(monkeypatch, "shutdown_plan", starts_on="2026-04-15", **ADDRESS)
    assert not app.exception
    back = next(one for one in app.button if one.label == "Back to 30 June 2026")
    back.click().run()
    assert not app.exception
    assert app.session_state["starts_on"] is None


# Worked out once, and kept for the few days asked for last.


def results_of(monkeypatch):
    monkeypatch.setenv(launch_settings.FLEET, SMALL_QUARRY)
    monkeypatch.setenv(launch_settings.AS_OF, str(LAST.date()))
    return results_in_use.in_use.current()


def asked(month, horizon=365):
    return Asked(pd.Timestamp(2026, month, 28), horizon)


def test_the_few_days_asked_for_last_are_kept_and_the_usual_one_always(monkeypatch):
    usual = results_of(monkeypatch)
    first = results_in_use.in_use.of(asked(1))
    assert results_in_use.in_use.of(asked(1)) is first
    for month in (2, 3, 4, 5):
        results_in_use.in_use.of(asked(month))
    assert len(results_in_use.in_use.others) == results_in_use.OTHERS_KEPT
    assert results_in_use.in_use.of(asked(1)) is not first
    assert results_in_use.in_use.of(Asked(LAST, 365)) is usual


def test_horizons_of_one_day_share_what_was_learned_up_to_it(monkeypatch):
    results_of(monkeypatch)
    near, far = (results_in_use.in_use.of(asked(2, horizon)) for horizon in (90, 730))
    assert near.learning() is far.learning()
    losses = [one.assessment().ranking["expected_loss"].sum() for one in (near, far)]
    assert losses[0] < losses[1]


def test_horizons_of_one_day_share_its_month_ends(monkeypatch):
    usual = results_of(monkeypatch)
    other = results_in_use.in_use.of(Asked(LAST, 90))
    usual.finish_trend()
    assert len(other.trend_so_far().states) == other.trend_so_far().wanted


def test_a_day_that_two_ask_for_at_once_is_worked_out_once(monkeypatch):
    results_of(monkeypatch)
    begun, both = [], threading.Barrier(2)
    judge = FleetAssessor.assess

    def counted(self, as_of, *rest):
        begun.append(as_of)
        return judge(self, as_of, *rest)

    monkeypatch.setattr(FleetAssessor, "assess", counted)
    found = []

    def ask():
        both.wait()
        found.append(results_in_use.in_use.of(asked(5)).assessment())

    threads = [threading.Thread(target=ask) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found[0] is found[1]
    assert begun == [pd.Timestamp(2026, 5, 28)]


def test_another_horizon_follows_from_the_first_without_a_look_at_the_records(monkeypatch):
    results = results_of(monkeypatch)
    results.assessment()
    anew = results.fleet.assessor.assess(LAST, 90, results.learning()).ranking
    monkeypatch.delattr(FleetAssessor, "assess")
    again = results_in_use.in_use.of(Asked(LAST, 90)).assessment().ranking
    pd.testing.assert_frame_equal(again, anew, check_exact=True)


# A large fleet is ranked by the handbook first, and by its own failures as soon as that is there.

STILL = "Chances and losses still rest on the handbook alone"


@pytest.fixture
def learns_later(monkeypatch):
    monkeypatch.setattr(fleet_results, "LEARNED_LATER", 10)


def same(shown, expected):
    pd.testing.assert_frame_equal(shown, expected, check_exact=True, check_dtype=False)


@pytest.mark.usefixtures("learns_later")
def test_another_day_stands_by_the_handbook_and_then_by_what_failures_say(monkeypatch):
    at_once = FleetResults.learn_beside
    monkeypatch.setattr(FleetResults, "learn_beside", lambda _: None)  # until it is let go on
    app = open_page(monkeypatch, "what_to_fix_first", **ADDRESS)
    assert not app.exception
    assert STILL in words_of(app)
    assessor, day = results_in_use.in_use.current().fleet.assessor, pd.Timestamp(EARLIER)
    shown = results_in_use.in_use.of(Asked(day, 90))
    assert not shown.has("learning")
    by_handbook = assessor.assess(day, 90).ranking
    columns = by_handbook.columns
    same(shown.ranked_by_handbook()[columns], by_handbook)
    before = tables_of(app, "units")
    at_once(shown)
    shown.ranked()
    app.run()
    assert STILL not in words_of(app)
    assert tables_of(app, "units") != before
    learned = assessor.assess(day, 90, assessor.learn(day)).ranking
    same(shown.ranked()[columns], learned)


@pytest.mark.usefixtures("learns_later")
def test_the_usual_day_and_a_day_that_was_learned_of_wait_for_nothing(monkeypatch):
    assert STILL not in words_of(open_page(monkeypatch, "what_to_fix_first"))
    results_in_use.in_use.of(Asked(pd.Timestamp(EARLIER), 365)).learning()
    assert STILL not in words_of(open_page(monkeypatch, "what_to_fix_first", **ADDRESS))


@pytest.mark.usefixtures("learns_later")
def test_a_page_that_asks_for_more_than_the_ranking_waits_for_what_failures_say(monkeypatch):
    app = open_page(monkeypatch, "where_to_look", **ADDRESS)
    assert not app.exception
    assert results_in_use.in_use.of(Asked(pd.Timestamp(EARLIER), 90)).has("learning")


@pytest.mark.usefixtures("learns_later")
def test_what_cannot_be_learned_beside_says_so_to_who_asks_next(monkeypatch):
    def fail(*_):
        raise FixableError("the records are gone")

    results_of(monkeypatch)
    shown = results_in_use.in_use.of(Asked(pd.Timestamp(EARLIER), 90))
    assert shown.ranks_by_handbook_first
    monkeypatch.setattr(FleetResults, "learning", fail)
    shown.learn_beside()
    shown._beside.join()  # noqa: SLF001 - to wait for what runs beside
    assert not shown.ranks_by_handbook_first
    with pytest.raises(FixableError, match="records are gone"):
        shown.ranked()


@pytest.mark.usefixtures("learns_later")
def test_a_day_that_is_being_learned_of_is_kept_until_it_is_ready(monkeypatch):
    go_on, learn = threading.Event(), FleetResults.learning

    def wait_first(results):
        assert go_on.wait(60)
        return learn(results)

    results_of(monkeypatch)
    monkeypatch.setattr(FleetResults, "learning", wait_first)
    busy = results_in_use.in_use.of(asked(1))
    busy.learn_beside()
    for month in (2, 3, 4, 5, 6):
        results_in_use.in_use.of(asked(month))
    assert results_in_use.in_use.of(asked(1)) is busy
    assert len(results_in_use.in_use.others) == 1 + results_in_use.OTHERS_KEPT
    go_on.set()
    busy._beside.join()  # noqa: SLF001 - to wait for what runs beside
    results_in_use.in_use.of(asked(2))
    assert results_in_use.in_use.of(asked(1)).has("ranked")
    assert len(results_in_use.in_use.others) == results_in_use.OTHERS_KEPT
