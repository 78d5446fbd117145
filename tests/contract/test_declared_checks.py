"""A check is declared once: what is left out has a default, and a contradiction is refused."""

import pytest

from scoring.contract import CHECK_BY_NAME, CHECKS, About, Check, Kind, Seen, Worse
from scoring.contract.action import Action
from scoring.contract.details import SEAL_SIDES
from scoring.contract.effort import USUAL_EFFORT, Effort
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, KEYED_BORE
from scoring.contract.places_to_look import USUAL_PLACE
from scoring.contract.rework import ACTIONS

LEAST = {
    "name": "noise",
    "label": "noise",
    "about": About.ARM,
    "seen": Seen.STOPPED,
    "how_to_look": "listen",
    "good": "none",
    "options": {"none": "none", "some": "some"},
}

ABOUT = {
    About.JOINT: "bore_condition clamp_seat_condition seated support_bushings engagement_mm "
    "shaft_end key_condition retention torque_passes tightening_order final_torque_nm screws_low "
    "collar_gap_mm disc_offset_mm witness_mark screws_missing screws_rechecked",
    About.SHAFT: "shaft_diameter_measured_mm shaft_runout_mm shaft_seat",
    About.ARM: "arm_bolts isolator_stack isolators_free isolator_squeeze_mm metal_contact "
    "smallest_clearance_mm arm_misset_mm arm_angle_deg",
    About.HOUSING: "breather oil_level guard running_temperature_c vibration_mm_s seal_weep "
    "mounting_position oil_condition seal_lip backstop_direction",
}
NOT_CRITICAL = (
    "mounting_position oil_condition seal_lip screws_rechecked witness_mark shaft_seat "
    "backstop_direction screws_missing"
)
DAMAGE = {
    "support_bushings": "missing",
    "oil_condition": "metal",
    "witness_mark": "moved",
    "shaft_seat": "worn",
}
OFF_SHAFT = (
    "reseat_on_shaft clean_and_refit renew_key renew_shaft true_shaft exchange_unit "
    "renew_support_bushings renew_bearing renew_seal"
)


@pytest.mark.parametrize("about", About)
def test_each_check_is_about_joint_shaft_arm_or_housing(about: About) -> None:
    assert {CHECK_BY_NAME[name].about for name in ABOUT[about].split()} == {about}


def test_no_check_is_left_out_of_the_families() -> None:
    assert sorted(" ".join(ABOUT.values()).split()) == sorted(CHECK_BY_NAME)


@pytest.mark.parametrize("name", NOT_CRITICAL.split())
def test_what_many_plants_never_look_at_is_critical_nowhere_and_asks_for_no_look(name) -> None:
    check = CHECK_BY_NAME[name]
    assert (check.critical_for, check.due_after_days, check.optional) == ((), None, True)


def test_damage_is_cured_by_what_brings_its_part_alone() -> None:
    assert {c.name: c.damage_from for c in CHECKS if c.damage_from} == DAMAGE
    by_part = {name: [a.name for a in ACTIONS if name in a.cures_damage] for name in DAMAGE}
    assert by_part == {
        "support_bushings": ["renew_support_bushings"],
        "oil_condition": ["renew_bearing"],
        "witness_mark": ["renew_shaft"],
        "shaft_seat": ["renew_shaft"],
    }


def test_the_actions_that_take_a_unit_off_its_shaft_are_those_of_the_contract() -> None:
    assert {a.name for a in ACTIONS if a.off_shaft} == set(OFF_SHAFT.split())
    stays = {
        (a.name, side) for a in ACTIONS for side in SEAL_SIDES if a.off_shaft != a.comes_off(side)
    }
    assert stays == {("renew_seal", "outboard")}


@pytest.mark.parametrize(
    ("about", "seen", "station"),
    [
        (About.JOINT, Seen.HANGING, "A"),
        (About.JOINT, Seen.STOPPED, "B"),
        (About.HOUSING, Seen.STOPPED, "C"),
        (About.ARM, Seen.STOPPED, "D"),
        (About.SHAFT, Seen.STOPPED, "E"),
        (About.HOUSING, Seen.RUNNING, "G"),
    ],
)
def test_a_check_that_says_the_least_has_what_it_needs(about, seen, station) -> None:
    check = Check(**LEAST | {"about": about, "seen": seen})
    assert (check.station, check.place) == (station, USUAL_PLACE[about])
    assert (check.allowed, check.meaning, check.minutes) == (("none", "some"), "none", 5)
    assert check.mountings == EVERY_MOUNTING
    assert check.due_after_days is None
    assert not check.behind_guard


def test_words_that_were_not_given_are_the_contract_s_own() -> None:
    count = Check(**LEAST | {"kind": Kind.COUNT, "worse": Worse.MORE, "options": {"0": "none"}})
    assert (count.words_of("0"), count.words_of("no_order")) == ("none", "no order")
    assert count.allowed == ()


@pytest.mark.parametrize(("seen", "days"), [(Seen.STOPPED, 730), (Seen.HANGING, None)])
def test_a_critical_look_at_a_stopped_unit_grows_old(seen, days) -> None:
    assert Check(**LEAST | {"seen": seen, "critical_for": CLAMPED}).due_after_days == days
    reported = Check(**LEAST | {"critical_for": CLAMPED, "due_after_days": 90})
    assert reported.due_after_days == 90


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"worse": Worse.MORE}, "does not go with one of a list"),
        ({"kind": Kind.NUMBER}, "does not go with number"),
        ({"allowed": ("none", "much")}, "every word of the list needs its words"),
        ({"station": "G"}, "station 'G' is none at which a check is made with the machine stopped"),
        ({"station": "Z"}, "station 'Z' is none"),
        ({"right_on": {KEYED_BORE: "some"}}, "right_on does not go with the later in the list"),
        (
            {"worse": Worse.BY_MOUNTING, "right_on": {KEYED_BORE: "much"}},
            "right_on names a word that is not in the list",
        ),
        ({"mountings": ("bolted",)}, "mountings names a mounting"),
        ({"damage_from": "none"}, "damage_from names no word of a finding"),
        ({"damage_from": "much"}, "damage_from names no word of a finding"),
        ({"asked_on": ("some day",)}, "asked_on names a kind of walkdown"),
        ({"at_most": "screw_count"}, "at_most and part_of go with counts only"),
        ({"part_of": "screws_low"}, "at_most and part_of go with counts only"),
        ({"mountings": CLAMPED, "critical_for": (KEYED_BORE,)}, "critical_for names a mounting"),
    ],
)
def test_a_declaration_that_contradicts_itself_is_refused(wrong: dict, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        Check(**LEAST | wrong)


def test_an_action_that_comes_off_the_shaft_needs_every_set_up() -> None:
    on_shaft = Action(name="a", does="b")
    assert on_shaft.effort == USUAL_EFFORT
    assert on_shaft.effort.set_ups == ("lock_out",)
    off_shaft = Action(name="a", does="b", off_shaft=True, effort=Effort(hours=1, people=1))
    assert off_shaft.effort.set_ups == ("lock_out", "guard_off", "lifting", "off_and_on")
    assert off_shaft.effort.hours == 1


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"cures_damage": ("oil_level",)}, "cures_damage names a check that it does not cure"),
        ({"on_shaft_for": "outboard"}, "the unit stays on its shaft without on_shaft_for"),
    ],
)
def test_an_action_that_contradicts_itself_is_refused(wrong: dict, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        Action(name="a", does="b", cures=("breather",), **wrong)
