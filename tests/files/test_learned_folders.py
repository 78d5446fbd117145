"""What was learned comes back from its folder to the last bit, whatever it is."""

import json
from dataclasses import fields, replace

import numpy as np
import pandas as pd
import pytest
from damaged_folders import AS_OF, DEMO, GENERATED, assessor_of, keep, learned_of, read
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from scoring.assessment import FleetAssessor
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.errors import FixableError
from scoring.files import learned_folder
from scoring.files.learned_as_json import MOST_LOG, learned_from_plain, learned_to_plain
from scoring.files.learned_folder import LEARNED, MANIFEST, read_learned, write_learned
from scoring.handbook.multipliers import EFFECT_NAMES
from scoring.handbook.nameplate_columns import TERMS
from scoring.learning.covariates import PLAIN_CHECKS, PLAIN_STATES, Covariates, State
from scoring.learning.learned import LearnedMode
from scoring.learning.posterior import Posterior

LATER = AS_OF + pd.Timedelta(days=100)


def same_bits(one, other):
    """Fail unless two results hold the same numbers, to the last bit."""
    for field in fields(one):
        mine, theirs = getattr(one, field.name), getattr(other, field.name)
        if isinstance(mine, np.ndarray):
            assert mine.dtype == theirs.dtype
            assert mine.tobytes() == theirs.tobytes(), field.name
        else:
            assert type(mine) is type(theirs)
            assert repr(mine) == repr(theirs), field.name


@pytest.mark.parametrize("fleet", [DEMO, GENERATED])
def test_what_was_learned_comes_back_to_the_last_bit(tmp_path, fleet):
    learning, records = learned_of(fleet)
    kept = read_learned(keep(tmp_path, fleet), AS_OF)
    assert kept.records == records
    assert kept.learning.as_of == AS_OF
    assert kept.learning.predictions.empty
    assert kept.learning.words == learning.words == "handbook and fleet"
    for mode, basis in learning.basis.items():
        back = kept.learning.basis[mode]
        if basis.learned is None:  # slips of this fleet are not kept
            assert mode == JOINT_SLIP
            assert back.learned is None
            continue
        same_bits(back.learned.columns, basis.learned.columns)
        same_bits(back.learned.posterior, basis.learned.posterior)
        for name in ("used", "why", "failures", "likelihood", "proportions", "concordance"):
            assert repr(getattr(back, name)) == repr(getattr(basis, name))


@pytest.mark.parametrize("fleet", [DEMO, GENERATED])
@pytest.mark.parametrize("day", [AS_OF, LATER])
def test_rankings_by_what_was_kept_equal_those_before(tmp_path, fleet, day):
    assessor = assessor_of(fleet)
    learning = assessor.with_own_failures(learned_of(fleet)[0], day)
    kept = read_learned(keep(tmp_path, fleet), day).learning
    rankings = [
        assessor.assess(day, 365, one).ranking
        for one in (learning, assessor.with_own_failures(kept, day))
    ]
    pd.testing.assert_frame_equal(*rankings, check_exact=True)


def test_what_one_fleet_taught_ranks_another_that_keeps_no_failures(tmp_path):
    kept = read_learned(keep(tmp_path, GENERATED), AS_OF)
    fleet = assessor_of(DEMO).fleet
    units = fleet.units.assign(failures_recorded_from=pd.NaT)
    other = FleetAssessor(replace(fleet, units=units, events=fleet.events.iloc[:0]))
    assert other.learn(AS_OF).words == "handbook"
    ranking = other.assess(AS_OF, 365, other.with_own_failures(kept.learning, AS_OF)).ranking
    alone = other.assess(AS_OF).ranking
    assert set(ranking["basis"]) == {"handbook and fleet"}
    chances = ranking.filter(regex="^p_").to_numpy()
    assert np.isfinite(chances).all()
    assert set(ranking["unit_id"]) == set(alone["unit_id"])
    assert kept.notes(other.fleet, AS_OF) == (
        "learned from other records, of 150 units as of 2026-06-30",
    )


def test_notes_tell_a_later_day_and_another_version(tmp_path, monkeypatch):
    kept, fleet = read_learned(keep(tmp_path), LATER), assessor_of(DEMO).fleet
    assert kept.notes(fleet, AS_OF) == ()
    later = kept.notes(fleet, LATER)
    assert later == ("learned as of 2026-06-30; what failed since is not in it",)
    monkeypatch.setattr(learned_folder, "version", lambda _: "9.9")
    (note,) = kept.notes(fleet, AS_OF)
    assert note.endswith("of this tool; this is 9.9")


finite = st.floats(-MOST_LOG, MOST_LOG)


@st.composite
def learned_modes(draw):
    """Draw what might have been learned of a failure."""
    mode = draw(st.sampled_from(MODES))
    sites = draw(st.sets(st.text(min_size=1, max_size=8), min_size=1, max_size=4))
    n_states = len(PLAIN_STATES)
    shares = arrays(np.float64, n_states, elements=st.floats(0, 1))
    spreads = arrays(np.float64, n_states, elements=st.just(0.0) | st.floats(1e-12, 0.5))
    columns = Covariates(mode, draw(shares), draw(spreads), tuple(sorted(sites)))
    size = len(columns.names)
    free = np.maximum(draw(arrays(np.float64, size, elements=finite)), columns.floor)
    held = draw(arrays(np.bool_, size)) & np.isfinite(columns.floor)
    chance = np.random.default_rng(draw(st.integers(0, 10_000)))
    laplace, sandwich = (
        root @ root.T * columns.scale[:, np.newaxis] * columns.scale / size
        for root in chance.normal(size=(2, size, size))
    )
    if size > 1:
        laplace[0, 1] = np.nextafter(laplace[0, 1], 1)  # as an inverse may leave it
    posterior = Posterior(
        coefficients=np.where(held, columns.floor, free),
        held=held,
        scale=columns.scale,
        laplace=laplace,
        sandwich=sandwich,
        events=float(draw(st.integers(0, 10_000))),
        expected=draw(st.floats(0, 1e6)),
        n_steps=draw(st.integers(1, 100)),
        converged=draw(st.booleans()),
    )
    return LearnedMode(columns, posterior)


def drawn_state(columns: Covariates) -> State:
    chance = np.random.default_rng(1)
    sites = (*columns.sites[:2], "\N{REPLACEMENT CHARACTER} not learned of")
    return State(
        chance.uniform(0, 1, (30, len(EFFECT_NAMES))),
        chance.integers(-1, 2, (30, len(PLAIN_CHECKS))).astype(np.int8),
        chance.integers(0, len(sites), 30),
        sites,
        chance.uniform(0, 1, 30),
        chance.uniform(0, 1, 30),
        chance.normal(size=30),
        chance.normal(size=(30, len(TERMS[columns.mode].names))),
        np.arange(30),
    )


@settings(max_examples=40, deadline=None)
@given(learned_modes())
def test_anything_that_may_be_learned_comes_back_to_the_last_bit(learned):
    text = json.dumps(learned_to_plain(learned), allow_nan=False)
    back = learned_from_plain(learned.columns.mode, "here", json.loads(text))
    assert back is not None
    same_bits(back.columns, learned.columns)
    same_bits(back.posterior, learned.posterior)
    state = drawn_state(learned.columns)
    same_bits(back.correct(state), learned.correct(state))


def test_the_manifest_tells_from_what_when_with_what_and_why(tmp_path):
    folder = keep(tmp_path)
    reported, records = read(folder, MANIFEST), learned_of(DEMO)[1]
    assert reported["as_of"] == "2026-06-30"
    assert reported["created_on"] == "2026-07-01"
    assert sorted(reported["versions"]) == ["mount-risk", "numpy", "pandas", "python"]
    assert reported["records"]["units"] == len(assessor_of(DEMO).fleet.units)
    assert reported["records"]["unit_years"] == records.unit_years > 0
    assert reported["records"]["failures"] == {
        "low_speed_bearing": 5,
        "seal_leak": 8,
        "joint_slip": 0,
    }
    slips = reported["failures"].pop(JOINT_SLIP)
    assert slips["used"] is False
    assert "slips of this fleet are not kept" in slips["why"]
    for basis in reported["failures"].values():
        assert basis["used"] is True
        assert "too few to speak against it" in basis["why"]
    assert sorted(path.name for path in folder.iterdir()) == [LEARNED, MANIFEST]


def test_nothing_else_in_a_folder_is_written_over(tmp_path):
    for place, name in (("one", "notes.txt"), ("two", MANIFEST), ("three", LEARNED)):
        folder = tmp_path / place
        folder.mkdir()
        (folder / name).write_text("[1]", encoding="utf-8")
        with pytest.raises(FixableError, match=r"holds something else .*--out NEW_FOLDER"):
            keep(folder)
        assert [path.name for path in folder.iterdir()] == [name]
        assert (folder / name).read_text(encoding="utf-8") == "[1]"
    file = tmp_path / "file"
    file.write_text("", encoding="utf-8")
    with pytest.raises(FixableError, match="is a file"):
        keep(file)


def test_what_was_learned_earlier_is_replaced_and_that_is_told(tmp_path):
    write = (*learned_of(DEMO), tmp_path / "new" / "folder", AS_OF)
    assert not write_learned(*write)
    assert write_learned(*write)
    assert read_learned(tmp_path / "new" / "folder", AS_OF).learning.as_of == AS_OF


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(FixableError, match="cannot be written"):
        keep(tmp_path / "file" / "folder")


def test_more_than_would_be_read_again_is_not_written(tmp_path, monkeypatch):
    monkeypatch.setattr(learned_folder, "LARGEST_FILE", 1000)
    with pytest.raises(FixableError, match="learn of fewer sites"):
        keep(tmp_path / "new")
    assert not (tmp_path / "new").exists()
