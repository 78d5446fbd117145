"""A folder that is not as it was written is refused with words; nothing in it is ever run."""

import copy
from importlib.metadata import version

import pytest
from damaged_folders import AS_OF, DEMO, assessor_of, keep, read, refusal, reseal
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files import json_entries
from scoring.files.learned_folder import LEARNED, MANIFEST, read_learned
from scoring.learning import covariates, handbook_fingerprint

MODE, OURS = MODES[0], version("mount-risk")


@pytest.fixture
def folder(tmp_path):
    return keep(tmp_path / "kept")


@pytest.mark.parametrize("name", [LEARNED, MANIFEST])
def test_a_missing_file_is_told(folder, name):
    (folder / name).unlink()
    reported = refusal(folder)
    assert f"there is no file {folder / name}" in reported
    assert "mount-risk learn FLEET" in reported


def test_a_missing_folder_is_told(tmp_path):
    reported = refusal(tmp_path / "nowhere")
    assert f"there is no folder {tmp_path / 'nowhere'}" in reported
    assert "mount-risk learn FLEET" in reported


NOT_PLAIN = [
    (b"", "is not JSON (line 1, column 1"),
    (b"\x80\x04N.", "is not plain JSON"),
    (b"PK\x03\x04", "is not JSON"),
    (b'{"a": 1, "a": 2}', "a name stands twice"),
    (b'{"a": NaN}', "NaN is no number"),
    (b"[" * 100_000 + b"]" * 100_000, "nested too deep"),
    (b"1" + b"0" * 5000, "is not plain JSON"),
    (b"{}", ""),
    (b"[]", ""),
    (b"null", ""),
]


@pytest.mark.parametrize("name", [LEARNED, MANIFEST])
@pytest.mark.parametrize(("data", "words"), NOT_PLAIN)
def test_what_is_not_plain_json_is_told(folder, name, data, words):
    (folder / name).write_bytes(data)
    reported = refusal(folder)
    assert str(folder / name) in reported
    assert words in reported


def test_a_file_that_is_too_large_is_refused_unread(folder, monkeypatch):
    monkeypatch.setattr(json_entries, "LARGEST_FILE", 50_000)
    assert f"{folder / LEARNED} is larger than 0.05 MB" in refusal(folder)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"schema": "something else"}, "schema: 'something else' is given; right is 'mount-risk"),
        ({"schema_version": 2}, "2 is given, written by a newer version of this tool"),
        ({"schema_version": 0}, "0 is given; right is the whole number 1"),
        ({"schema_version": True}, "True is given; right is the whole number 1"),
        ({"handbook_sha256": "0" * 64}, f"beside another handbook, by version {OURS}"),
        ({"handbook_sha256": 5}, "5 is given; right is 64 hexadecimal digits"),
        ({"as_of": "2026-02-30"}, "as_of: '2026-02-30' is given; right is a day as 2026-03-31"),
        ({"as_of": "20260630"}, "as_of: '20260630' is given; right is a day as 2026-03-31"),
        ({"created_on": None}, "created_on: None is given; right is a day"),
        ({"versions": {}}, "versions: lacks mount-risk, numpy, pandas, python"),
        ({"records": []}, "records: [] is given; right is an object with failures, sha256"),
        ({"failures": {}}, "failures: lacks joint_slip, low_speed_bearing, seal_leak"),
        ({"more": 1}, "['more'] is given; right is no entries but as_of"),
        ({"learned_sha256": "f" * 64}, "is not the file that manifest.json tells of"),
    ],
)
def test_a_manifest_that_says_what_it_may_not_is_refused(folder, change, words):
    reseal(folder, manifest=read(folder, MANIFEST) | change)
    assert words in refusal(folder)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("used", 1, "used: 1 is given; right is true or false"),
        ("why", "", "why: '' is given; right is a line of up to 300 characters"),
        ("why", "\x1b[2J", "right is a line"),
        ("why", "two\nlines", "right is a line"),
        ("tried_on", 2.5, "tried_on: 2.5 is given; right is a whole number of at least 0"),
        ("tried_on", True, "tried_on: True is given; right is a whole number"),
        ("likelihood", {"gain": "1", "error": 1}, "gain: '1' is given; right is one number"),
        (
            "likelihood",
            {"gain": 1, "error": -1},
            "error: -1.0 is given; right is a finite number of at least 0",
        ),
        ("likelihood", {"gain": 1}, "likelihood: lacks error"),
    ],
)
def test_a_basis_that_says_what_it_may_not_is_refused(folder, name, value, words):
    reported = read(folder, MANIFEST)
    reported["failures"][MODE][name] = value
    reseal(folder, manifest=reported)
    assert words in refusal(folder)


def test_a_manifest_changed_by_hand_is_told(folder):
    path = folder / MANIFEST
    path.write_text(path.read_text(encoding="utf-8").replace("true", "false"), encoding="utf-8")
    assert f"{path}: was changed after it was written" in refusal(folder)


def test_what_was_learned_changed_by_hand_is_told(folder):
    path = folder / LEARNED
    path.write_text(path.read_text(encoding="utf-8") + " ", encoding="utf-8")
    assert f"{path} is not the file that manifest.json tells of" in refusal(folder)


def test_what_was_learned_beside_another_handbook_is_told(folder, monkeypatch):
    monkeypatch.setattr(handbook_fingerprint, "SITE_SCALE", 0.3)
    reported = refusal(folder)
    assert f"was learned beside another handbook, by version {OURS} of this tool" in reported
    assert "learn anew" in reported


def test_a_scale_that_is_not_the_handbooks_is_told(folder, monkeypatch):
    monkeypatch.setattr(covariates, "SITE_SCALE", 0.3)
    assert "scale: 0.2 is given; right is 0.3, the prior's" in refusal(folder)


def test_what_knows_the_future_is_refused_with_what_to_do(folder):
    with pytest.raises(FixableError) as refused:
        read_learned(folder, AS_OF.replace(month=3))
    reported = str(refused.value)
    assert (
        "as of 2026-06-30, after the day asked for, 2026-03-30: it knows what happened" in reported
    )
    assert "Give --as-of 2026-06-30 or later" in reported


paths = st.lists(st.integers(0, 2**16), min_size=1, max_size=4)
plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=5,
)


def changed(content: object, path: list[int], value: object) -> object:
    """Return plain data with another value somewhere."""
    content = copy.deepcopy(content)
    place = content
    for depth, step in enumerate(path):
        keys = sorted(place) if isinstance(place, dict) else list(range(len(place)))
        key = keys[step % len(keys)]
        inner = place[key]
        if depth == len(path) - 1 or not isinstance(inner, dict | list) or not inner:
            place[key] = value
            return content
        place = inner
    return content


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(paths, plain, st.booleans())
def test_whatever_is_put_into_a_file_is_refused_or_ranks(
    tmp_path_factory, path, value, of_manifest
):
    folder = keep(tmp_path_factory.mktemp("kept"))
    name = MANIFEST if of_manifest else LEARNED
    content = changed(read(folder, name), path, value)
    reseal(folder, **{"manifest" if of_manifest else "learned": content})
    try:
        kept = read_learned(folder, AS_OF)
    except FixableError:
        return
    assessor = assessor_of(DEMO)
    learning = assessor.with_own_failures(kept.learning, AS_OF)
    chances = assessor.assess(AS_OF, 365, learning).ranking.filter(regex="^p_").to_numpy()
    assert ((chances >= 0) & (chances <= 1)).all()
