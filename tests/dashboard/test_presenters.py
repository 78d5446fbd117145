"""What pages say: words, filters, tables."""

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from dashboard.presenters import ranking_table as present
from dashboard.presenters.words import chance, how_likely, money, percent, plain
from scoring.assessment import FleetAssessor
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


def test_the_shown_table_has_a_row_for_each(ranked):
    shown = present.shown(ranked)
    assert len(shown) == len(ranked)
    assert shown["verdict"].str.match("^[■▲○·] ").all()


def test_holds_and_counts_agree(ranked):
    assert len(present.holds(ranked)) == present.counts(ranked)["hold"]
    assert sum(present.counts(ranked).values()) == len(ranked)


def test_chances_are_said_with_their_interval():
    assert chance(0.061, 0.012, 0.279) == "6.1 % (1.2 to 28)"
    assert chance(1, 1, 1) == "100 %, it stands now"
    assert percent(0.0996) == "10 %"


def test_words_for_a_chance_never_fall():
    said = [how_likely(share) for share in (0.001, 0.02, 0.1, 0.3, 0.9)]
    assert said == ["rare", "uncommon", "marked", "likely", "to be expected"]


def test_money_is_short():
    assert money(999.6, "EUR") == "1,000 EUR"
    assert money(float("nan"), "EUR") == "not known"


def test_markup_is_escaped():
    assert plain("a*b`c") == r"a\*b\`c"
