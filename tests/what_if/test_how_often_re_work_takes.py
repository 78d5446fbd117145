"""The chance that re-work succeeds: which looks count, and how few are drawn to the usual."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from generated_fleets import AS_OF, generated_assessor
from scipy.stats import beta

from scoring.what_if.rework_success import learn_rework_success, rework_success

LATER = pd.Timestamp("2025-01-01")


def counts(book, action, as_of=LATER):
    table = learn_rework_success(book.timeline(), as_of).table.set_index("action")
    return table.loc[action, "looks"].item(), table.loc[action, "succeeded"].item()


def found(value="plugged"):
    return Book().unit().look("2024-01-10", breather=value).reworked("2024-02-01", "open_breather")


def test_a_look_after_re_work_counts_once_though_later_ones_follow():
    book = found().look("2024-02-01", kind="after_rework", breather="open")
    book = book.look("2024-05-01", kind="after_rework", breather="plugged")
    assert counts(book, "open_breather") == (1, 1)


def test_a_fault_that_is_there_still_did_not_take():
    book = found().look("2024-02-02", kind="after_rework", breather="plugged")
    assert counts(book, "open_breather") == (1, 0)


def test_a_periodic_look_tells_nothing_of_the_re_work():
    book = found().look("2024-08-01", kind="periodic", breather="plugged")
    assert counts(book, "open_breather") == (0, 0)
    book = book.look("2024-09-01", kind="after_rework", breather="plugged")
    assert counts(book, "open_breather") == (0, 0)


def test_what_had_been_found_good_or_not_at_all_tells_nothing():
    assert counts(found("open").look("2024-02-02", kind="after_rework", breather="open"),
                  "open_breather") == (0, 0)  # fmt: skip
    book = Book().unit().reworked("2024-02-01", "open_breather")
    book = book.look("2024-02-02", kind="after_rework", breather="open")
    assert counts(book, "open_breather") == (0, 0)


def test_another_re_work_or_a_re_hang_before_the_look_makes_it_tell_of_that():
    again = found().reworked("2024-03-01", "open_breather")
    again = again.look("2024-03-02", kind="after_rework", breather="open")
    assert counts(again, "open_breather") == (0, 0)  # nobody looked between the two
    loose = Book().unit().look("2024-01-10", arm_bolts="loose")
    loose = loose.reworked("2024-02-01", "tighten_arm_bolts")
    hung = loose.reworked("2024-03-01", "reseat_on_shaft")
    hung = hung.look("2024-03-02", kind="after_rework", arm_bolts="tight")
    assert counts(hung, "tighten_arm_bolts") == (0, 0)


def test_a_re_hang_before_the_look_leaves_the_housing_as_it_was():
    hung = found().reworked("2024-03-01", "reseat_on_shaft")
    hung = hung.look("2024-03-02", kind="after_rework", breather="open")
    assert counts(hung, "open_breather") == (1, 1)


def test_a_finding_that_stood_through_a_re_hang_is_cured_after_it():
    book = Book().unit().look("2024-01-10", arm_bolts="loose", bore_condition="oil_film")
    book = book.reworked("2024-02-01", "reseat_on_shaft")
    book = book.reworked("2024-03-01", "tighten_arm_bolts;clean_and_refit")
    book = book.look(
        "2024-03-02", kind="after_rework", arm_bolts="tight", bore_condition="oil_film"
    )
    assert counts(book, "tighten_arm_bolts") == (1, 1)
    assert counts(book, "clean_and_refit") == (1, 0)


def test_what_could_not_be_cured_tells_nothing_of_the_re_work():
    book = Book().unit().look("2024-01-10", seated="home", shaft_end="short")
    book = book.reworked("2024-02-01", "reseat_on_shaft")
    book = book.look("2024-02-02", kind="after_rework", seated="home", shaft_end="short")
    assert counts(book, "reseat_on_shaft") == (0, 0)


def test_a_check_that_two_actions_of_a_job_cure_tells_of_neither():
    book = Book().unit().look("2024-01-10", isolator_stack="damaged", metal_contact="yes")
    book = book.reworked("2024-02-01", "replace_isolators;restore_isolation")
    book = book.look(
        "2024-02-01", kind="after_rework", isolator_stack="complete", metal_contact="no"
    )
    assert counts(book, "replace_isolators") == (0, 0)
    assert counts(book, "restore_isolation") == (1, 1)  # by metal contact, which it alone cures


def test_several_checks_of_one_job_count_as_one_look():
    book = Book().unit().look("2024-01-10", arm_misset_mm="4", arm_angle_deg="60")
    book = book.reworked("2024-02-01", "realign_arm")
    book = book.look("2024-02-01", kind="after_rework", arm_misset_mm="0", arm_angle_deg="60")
    assert counts(book, "realign_arm") == (1, 0)


def test_brought_work_is_told_by_its_own_name():
    book = (
        Book().unit(mounting="shrink_disc").look("2024-01-10", disc_offset_mm="9", screws_low="3")
    )
    book = book.reworked("2024-02-01", "recentre_disc")
    book = book.look("2024-02-01", kind="after_rework", disc_offset_mm="9", screws_low="0")
    assert counts(book, "recentre_disc") == (1, 0)
    assert counts(book, "retorque_in_passes") == (1, 1)


def test_what_was_written_down_later_is_not_known_yet():
    book = found().look(
        "2024-02-02", kind="after_rework", breather="open", recorded_at="2024-06-01"
    )
    assert counts(book, "open_breather", pd.Timestamp("2024-05-31")) == (0, 0)
    assert counts(book, "open_breather", pd.Timestamp("2024-06-01")) == (1, 1)


def test_another_unit_s_look_is_not_taken_for_it():
    book = found().unit("U2").look("2024-02-02", "U2", kind="after_rework", breather="open")
    assert counts(book, "open_breather") == (0, 0)


def test_a_finding_of_another_unit_is_not_taken_for_it():
    book = Book().unit().look("2024-01-10", breather="plugged").unit("U2")
    book = book.reworked("2024-02-01", "open_breather", "U2")
    book = book.look("2024-02-02", "U2", kind="after_rework", breather="open")
    assert counts(book, "open_breather") == (0, 0)


def test_few_looks_are_drawn_to_the_usual_and_many_speak_for_themselves():
    size = len(learn_rework_success(found().timeline(), LATER).table)
    few = rework_success(np.full(size, 2), np.zeros(size, int)).table.iloc[0]
    many = rework_success(np.full(size, 2000), np.full(size, 1200)).table.iloc[0]
    assert few["chance"] == pytest.approx(17 / 22)
    assert many["chance"] == pytest.approx(0.6, abs=0.005)
    assert many["high"] - many["low"] < few["high"] - few["low"]
    assert few["low"] < few["chance"] < few["high"]


def test_the_interval_is_that_of_a_beta_law():
    size = len(learn_rework_success(found().timeline(), LATER).table)
    one = rework_success(np.full(size, 30), np.full(size, 24)).table.iloc[0]
    law = beta(24 + 17, 6 + 3)
    assert [one["low"], one["high"]] == pytest.approx(law.ppf([0.05, 0.95]).tolist(), abs=1e-4)


def test_a_generated_fleet_has_looks_of_most_actions():
    table = learn_rework_success(generated_assessor(600, 412).timeline, AS_OF).table
    assert (table["looks"] > 0).sum() > 12
    assert (table["succeeded"] <= table["looks"]).all()
    assert table["chance"].between(0.5, 1).all()
