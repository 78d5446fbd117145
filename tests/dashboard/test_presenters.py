"""What pages say: words, filters, tables."""

import re

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from dashboard.presenters import ranked_list as as_list
from dashboard.presenters import ranking_table as present
from dashboard.presenters import start_page, unit_head
from dashboard.presenters.words import chance, money, plain
from scoring.access.who_asks import ANYBODY
from scoring.assessment import FleetAssessor
from scoring.contract.amounts_in_words import NARROW_SPACE, percent
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def ranked():
    fleet = check_fleet(read_fleet(SMALL_QUARRY).tables, AS_OF).fleet
    return present.ranked_units(FleetAssessor(fleet).assess(AS_OF))


def test_no_filter_shows_everything_in_the_order_of_the_ranking(ranked):
    rows = present.filtered(ranked, present.Filters())
    assert rows["rank"].tolist() == list(range(1, len(ranked) + 1))


def test_filters_join(ranked):
    wanted = present.Filters(mountings=("keyed_bore",), verdicts=("correct",))
    rows = present.filtered(ranked, wanted)
    assert set(rows["mounting"]) == {"keyed_bore"}
    assert set(rows["verdict"]) == {"correct"}


def test_every_word_of_a_search_must_be_somewhere(ranked):
    both = present.filtered(ranked, present.Filters(text="stone CLAMPED:"))
    assert 0 < len(both) < len(ranked)
    assert both["main_reasons"].str.contains("clamped:").all()
    assert present.filtered(ranked, present.Filters(text="stone nothing")).empty


def test_a_search_is_text_and_no_pattern(ranked):
    assert present.filtered(ranked, present.Filters(text=".*(")).empty


def test_the_list_has_a_row_a_link_and_a_verdict_with_its_shape_for_each(ranked):
    shown = as_list.ranked_list(ranked, None, "EUR")
    assert re.findall(r'<a href="/unit\?unit=([^"]+)">', shown) == ranked["unit_id"].tolist()
    assert len(re.findall(r'class="verdict v-\w+">[■▲○·] ', shown)) == len(ranked)
    assert shown.count('role="img" aria-label="90 % interval') == 3 * len(ranked)


def test_an_inspectors_door_leads_to_today_where_walkdowns_can_be_entered():
    def ways(**how):
        return re.findall('href="([^"]+)"', start_page.doors(ANYBODY, **how))

    assert ways(into_a_store=True) == ["/today", "/fix", "/trend"]
    assert ways(into_a_store=False) == ["/walkdowns", "/fix", "/trend"]


def test_holds_and_counts_agree(ranked):
    assert as_list.list_of_holds(ranked).count("<li>") == present.counts(ranked)["hold"] > 0
    assert sum(present.counts(ranked).values()) == len(ranked)


def test_what_people_typed_is_text_in_the_list(ranked):
    bad = '<img src=x onerror=y>&"'
    row = ranked.head(1).assign(unit_id=bad, site=bad, line=bad, main_reasons=bad, verdict="hold")
    for shown in (
        as_list.ranked_list(row, None, bad),
        as_list.list_of_holds(row),
        as_list.places(row),
    ):
        assert "<img" not in shown
        assert "&lt;img src=x" in shown


def test_a_bar_spans_its_interval_on_one_axis():
    bar = as_list.interval_bar(0.01, 0.001, 0.1)
    assert 'style="left:25.0%;width:50.0%"' in bar
    assert '<i class="mark" style="left:50.0%">' in bar
    assert "0.1 % to 10 %" in bar
    assert "cut" not in bar
    assert 'class="line cut" style="left:0.0%;' in as_list.interval_bar(0.01, 0.00001, 0.1)


PLANT = pd.DataFrame(
    {
        "unit_id": ["A", "B", "C", "D"],
        "site": ["quay", "pit", "quay", "quay"],
        "line": ["belt 1", None, "belt 1", "belt 2"],
        "verdict": ["hold", "correct", "watch", "no_finding"],
        "expected_loss": [50.0, 100.0, 40.0, 10.0],
    }
)


def test_sites_and_lines_are_compared_by_their_loss():
    table = as_list.by_place(PLANT)
    assert table.to_numpy().tolist() == [
        ["pit", "", 1, 0, 100.0],
        ["quay", "belt 1", 2, 1, 90.0],
        ["quay", "belt 2", 1, 0, 10.0],
    ]


def test_the_sentence_counts_holds_and_what_comes_next():
    assert as_list.how_it_stands(PLANT, ahead=2) == (
        "1 must not run. The next 2 units carry 70 % of the expected loss of a year."
    )
    assert as_list.how_it_stands(PLANT.head(1)) == "1 must not run."
    assert as_list.how_it_stands(PLANT.tail(3), ahead=1).startswith("No unit must not run") is False


def test_the_loss_of_the_first_units_together():
    table = as_list.loss_over_units(PLANT)
    assert table["units"].tolist() == [0, 1, 2, 3, 4]
    assert table["loss"].tolist() == [0, 50, 150, 190, 200]
    assert (table["part"] == "must not run").tolist() == [True, True, False, False, False]


def test_chances_are_said_with_their_interval():
    assert chance(0.061, 0.012, 0.279) == "6.1 % (1.2 to 28)"
    assert chance(1, 1, 1) == "100 %, it stands now"
    assert percent(0.0996) == "10 %"


def test_money_is_short():
    assert money(999.6, "EUR") == "1,000 EUR"
    assert money(float("nan"), "EUR") == "not known"


def test_markup_is_escaped():
    assert plain("a*b`c") == r"a\*b\`c"


WORK = {
    "hours": 2.0,
    "people": 1,
    "crane": False,
    "actions": "back_off_isolators",
    "lead_days": 0,
    "verdict": "hold",
    "verdict_after": "watch",
    "loss_avoided": 7541.0,
    "cost": 120.0,
    "currency": "EUR",
}


def test_the_first_work_says_what_it_takes_and_buys():
    assert unit_head.work_said(WORK) == "2 crew-hours; one person; no crane."
    thin = NARROW_SPACE
    assert unit_head.buys(WORK) == (
        f"Lifts the hold; avoids 7{thin}500 EUR of expected loss, for 120 EUR of work and parts."
    )
    held = {**WORK, "verdict_after": "hold", "loss_avoided": 0.0}
    assert unit_head.buys(held) == "The unit stays on hold all the same."
    nothing = {**held, "verdict": "watch"}
    assert unit_head.buys(nothing) == "By the records it avoids no loss."


def test_who_was_told_is_said_by_the_last_hold_that_was_signed():
    signed = pd.DataFrame(
        {"verdict": ["watch", "hold", "hold"], "told": [None, "Ann Bell", "Roy Carr"]}
    )
    assert unit_head.told_words(signed) == "Told: Ann Bell."
    assert unit_head.told_words(signed.head(1)) == unit_head.NOBODY
    assert unit_head.told_words(None) == unit_head.NOBODY
