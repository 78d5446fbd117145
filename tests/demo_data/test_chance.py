"""Chance by name: even, independent, and the same for ever."""

import subprocess
import sys

import numpy as np
import pytest

from demo_data.chance import Chance

MANY = np.arange(200_000)


def test_shares_are_even_and_normals_normal() -> None:
    draws = Chance(3).of("look").at(MANY, day=77)
    share, normal = draws.share("guard"), draws.normal("guard")
    assert share.min() >= 0
    assert share.max() < 1
    counts = np.bincount((share * 50).astype(int), minlength=50)
    # chi-square of 49 degrees of freedom: 85.4 is passed once in a thousand seeds
    assert ((counts - 4000) ** 2 / 4000).sum() < 85.4
    assert normal.mean() == pytest.approx(0, abs=0.01)
    assert normal.std() == pytest.approx(1, abs=0.01)
    assert (np.abs(normal) > 1.96).mean() == pytest.approx(0.05, abs=0.002)
    assert ((normal - normal.mean()) ** 3).mean() == pytest.approx(0, abs=0.02)


def test_names_units_days_and_seeds_are_independent() -> None:
    chance = Chance(3).of("look")
    first = chance.at(MANY, day=1).shares(("guard", "breather"))
    columns = [
        first[:, 0],
        first[:, 1],
        np.roll(first[:, 0], 1),
        chance.at(MANY, day=2).share("guard"),
        chance.at(MANY[::-1], day=1).share("guard"),
        chance.of("guard").at(MANY, day=1).share("guard"),
        Chance(4).of("look").at(MANY, day=1).share("guard"),
        Chance(3).of("look").at(MANY, day=1).normal("guard"),
    ]
    # a normal draw is made of the even one of the same name: how far, not which way
    between = np.corrcoef(columns) - np.eye(len(columns))
    assert np.abs(between).max() < 0.012
    squares = np.corrcoef([(column - column.mean()) ** 2 for column in columns[:-1]])
    assert np.abs(squares - np.eye(len(squares))).max() < 0.012


def test_a_draw_knows_nothing_of_the_others() -> None:
    chance, units = Chance(11).of("repair"), np.array([5, 900, 17])
    days = np.array([-400, 3, 1825])
    alone = [chance.at(units[i : i + 1], days[i : i + 1]).share("crew")[0] for i in range(3)]
    together = chance.at(units, days)
    assert list(together.share("crew")) == alone
    assert list(together.shares(("late", "crew"))[:, 1]) == alone
    assert list(together.only(np.array([2, 0])).share("crew")) == [alone[2], alone[0]]


def test_it_is_the_same_in_every_process_and_for_ever() -> None:
    here = Chance(7).of("look").at(np.array([0, 1])).shares(("guard",))[:, 0].tolist()
    asked = (
        "import numpy as np; from demo_data.chance import Chance;"
        "print(Chance(7).of('look').at(np.array([0, 1])).shares(('guard',))[:, 0].tolist())"
    )
    for seed in ("1", "2"):
        there = subprocess.run(
            [sys.executable, "-c", asked],
            env={"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        assert there.stdout.strip() == str(here)
    assert here == PINNED


def test_whole_numbers_reach_from_low_to_below_high() -> None:
    drawn = Chance(1).at(MANY).whole("step", 5, 13)
    assert np.bincount(drawn, minlength=13)[5:] == pytest.approx(25_000, rel=0.03)
    assert drawn.min() == 5
    assert drawn.max() == 12


PINNED = [0.9096440293461756, 0.9878540057536094]
