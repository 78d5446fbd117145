"""Plants that have in common what faults, nameplate and age do, and nothing else."""

import pandas as pd
import pytest

from demo_data.families import PLAIN, WIDE
from demo_data.generate import generate_fleet

OWN = ("site", "line", "crew", "place")
TABLES = ("units", "walkdowns", "events", "rework", "accepted")


def effects_of(seed: int, family: str, effects_seed: int | None = None) -> pd.DataFrame:
    truth = generate_fleet(60, seed, family=family, effects_seed=effects_seed).truth.effects
    truth = truth[truth["failure_mode"] != "joint_slip"]  # grip is drawn for the joints of a plant
    own = truth["effect"].str.split(":").str[0].isin(OWN)
    return truth.assign(own=own).set_index(["failure_mode", "effect"])


@pytest.mark.parametrize("family", [PLAIN, WIDE])
def test_effects_are_common_and_sites_lines_crews_and_places_are_not(family: str) -> None:
    one, other = (effects_of(seed, family, effects_seed=9) for seed in (5, 6))
    both = one.join(other["log_multiplier"].rename("other"), how="inner")
    same, own = both["log_multiplier"] == both["other"], both["own"]
    assert own.sum() > 30
    assert (~own).sum() > 30
    assert same[~own].all()
    assert not same[own].any()


@pytest.mark.parametrize("family", [PLAIN, WIDE])
def test_effects_follow_from_their_seed_alone(family: str) -> None:
    own = effects_of(5, family)
    common = effects_of(5, family, effects_seed=9)
    moved = (own["log_multiplier"] != common["log_multiplier"]) & (common["log_multiplier"] != 0)
    assert moved[~own["own"]].mean() > 0.3


@pytest.mark.parametrize("family", [PLAIN, WIDE])
def test_a_plant_whose_effects_have_its_own_seed_is_that_plant(family: str) -> None:
    unasked = generate_fleet(60, 5, family=family)
    asked = generate_fleet(60, 5, family=family, effects_seed=5)
    for name in TABLES:
        pd.testing.assert_frame_equal(getattr(unasked, name), getattr(asked, name))
