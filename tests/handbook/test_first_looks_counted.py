"""What first looks found is counted by mounting, crew and state: a few units by hand."""

import numpy as np
import pandas as pd
from fleets import Book

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.contract import CHECKS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.learn_prevalence import counted_looks
from scoring.handbook.prevalence import Prevalence
from scoring.limits import unit_limits
from scoring.timeline.first_looks import first_looks

KEYED, BUSHING = (EVERY_MOUNTING.index(name) for name in ("keyed_bore", "tapered_bushing"))


def counted():
    book = Book()
    for unit, mounting, crew, seen in (
        ("U1", "keyed_bore", "crew B", {"breather": "plugged", "arm_misset_mm": "2"}),
        ("U2", "keyed_bore", "crew B", {"breather": "open", "seal_weep": "damp"}),
        ("U3", "keyed_bore", "crew A", {"breather": "open", "vibration_mm_s": "9"}),
        ("U4", "tapered_bushing", "", {"breather": "plugged", "bore_condition": "oil_film"}),
        ("U5", "tapered_bushing", "crew A", {}),
    ):
        book.unit(unit, mounting=mounting, installer=crew)
        book.look("2024-01-02", unit, **seen)
    fleet = book.fleet()
    first = first_looks(book.timeline(), pd.Timestamp("2024-06-01"))
    return counted_looks(first, unit_limits(fleet.units))


def test_looks_at_a_breather_by_hand():
    found = counted()
    assert found.crews == ("crew A", "crew B")
    open_and_plugged = found.looks["breather"].counts
    assert open_and_plugged[KEYED].tolist() == [[1, 0], [1, 1], [0, 0]]
    assert open_and_plugged[BUSHING].tolist() == [[0, 0], [0, 0], [0, 1]]  # nobody is named
    assert open_and_plugged.sum() == 4


def test_what_only_some_mountings_have_is_counted_there_alone():
    looks = counted().looks
    assert looks["surface_in_a_bushing"].counts[BUSHING, -1].tolist() == [0, 0, 1, 0]
    assert looks["surface_in_a_bushing"].counts.sum() == 1
    assert looks["surface_in_a_disc"].counts.sum() == 0


def test_symptoms_are_not_counted_for_they_tell_of_age_and_damage():
    symptoms = {check.name for check in CHECKS if check.symptom}
    assert symptoms >= {"vibration_mm_s", "seal_weep"}
    looks = counted().looks
    assert not {"vibration", "running_temperature", "seal_weep"} & {*looks}
    assert {"breather", "oil_level", "collar_gap"} <= {*looks}


def test_arms_of_a_crew_are_as_usual_as_its_first_looks_say():
    """Crew A leaves a tenth of its arms in the worst state; anybody else none, on any mounting."""
    arm = STATES_OF_THE_ARM[0]
    size = len(arm.spread.points)
    of_a, of_others = np.eye(size)[0] * 0.9 + np.eye(size)[-1] * 0.1, np.eye(size)[0]
    shares = np.array([[of_a, of_others]] * len(EVERY_MOUNTING))
    learned = Prevalence(("crew A",), {arm.name: shares})
    book = Book().unit("U1").unit("U2", installer="crew A").unit("U3", installer="crew B")
    arms = learned.arms(learned.groups(book.known("2024-06-01")))
    assert arms.of(arm, 3).tolist() == [of_others.tolist(), of_a.tolist(), of_others.tolist()]
    other = STATES_OF_THE_ARM[1]
    assert arms.of(other, 3).tolist() == [list(other.spread.shares)] * 3
