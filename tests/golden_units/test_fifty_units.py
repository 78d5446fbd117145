"""Fifty kept units: each figure is the one that is kept, and a plain script comes to the same."""

import math
import re
from collections import Counter
from pathlib import Path

import plain_records
import pytest
from golden_figures import (
    DIGITS,
    RECORDS,
    Golden,
    how_reckoned,
    kept_figures,
)
from recomputed_sheet import OTHERWISE_TOLD, last_digit, number

from scoring.contract.mountings import EVERY_MOUNTING

LONGEST_AWAY = 0.7
"""Half of the last printed digit, and what rounded inputs add to it."""
RELATIVE = 2 * 10.0 ** (1 - DIGITS)
"""Eight digits are kept; sums made in another order may turn the last one."""


@pytest.fixture(scope="module")
def golden():
    return Golden()


@pytest.fixture(scope="module")
def again(golden):
    return dict(golden.compared())


def test_every_figure_is_the_one_that_is_kept(golden):
    said, kept = dict(golden.figures()), kept_figures()
    assert list(said) == list(kept)
    moved = {
        figure: (value, kept[figure][0])
        for figure, value in said.items()
        if value != pytest.approx(kept[figure][0], rel=RELATIVE, abs=0, nan_ok=True)
    }
    assert moved == {}


def test_a_plain_script_comes_to_the_kept_figures(again):
    away = {}
    for figure, (value, _) in kept_figures().items():
        one = again.get(figure)
        if one and one.reckoned:
            step = last_digit(one.printed.value)
            scale = OTHERWISE_TOLD.get(one.printed.value.partition(" ")[2], 1.0)
            away[figure] = abs(one.made - value * scale) / step
    assert len(away) > 2800
    assert {figure: far for figure, far in away.items() if far > LONGEST_AWAY} == {}


def test_what_is_not_reckoned_is_named_with_its_reason(again):
    kept = kept_figures()
    said = {figure: how_reckoned(value, again.get(figure)) for figure, (value, _) in kept.items()}
    assert said == {figure: how for figure, (_, how) in kept.items()}
    reasons = Counter(how.partition(":")[0] for how in said.values())
    assert reasons["yes"] > 2800
    assert reasons["no"] < 100
    valueless = {figure[2] for figure, (value, _) in kept.items() if math.isnan(value)}
    assert valueless <= {
        "capacity, as found over as specified",
        "slip margin",
    }


def test_inputs_from_the_nameplate_are_the_cells_of_the_records(again):
    units, compared = plain_records.units(RECORDS), 0
    for (unit_id, _, name), one in again.items():
        for told, value in one.printed.inputs:
            cell = plain_records.cell_behind(units[unit_id], name, told)
            if cell is not None:
                scale = OTHERWISE_TOLD.get(value.partition(" ")[2], 1.0)
                apart = abs(number(value) - cell * scale)
                assert apart <= 0.5001 * last_digit(value), (unit_id, name, told, value, cell)
                compared += 1
    assert compared > 900


def test_a_number_that_another_rests_on_is_that_number(again):
    linked = 0
    figures = {figure: one.printed.value for figure, one in again.items()}
    for (unit_id, topic, name), one in again.items():
        for told, value in one.printed.inputs:
            for of_topic in {topic, told}:
                printed = figures.get((unit_id, of_topic, told))
                if printed is not None and name != told:
                    apart = abs(number(value) - number(printed))
                    digit = max(last_digit(value), last_digit(printed))
                    assert apart <= 0.5001 * digit, (unit_id, topic, name, told)
                    linked += 1
    assert linked > 1000


def test_the_plain_scripts_import_nothing_of_ours():
    source = Path(plain_records.__file__).read_text(encoding="utf-8")
    imported = set(re.findall(r"^(?:from|import) (\w+)", source, re.MULTILINE))
    assert imported == {"csv", "pathlib"}


def test_fifty_units_of_every_mounting_and_oddity(golden):
    units = plain_records.units(RECORDS)
    assert len(golden.units) == len(units) == 50
    mountings = Counter(row["mounting"] for row in units.values())
    assert set(mountings) == set(EVERY_MOUNTING)
    assert min(mountings.values()) >= 12
    assert {unit_id[0] for unit_id in units} == set("QGOVW")
