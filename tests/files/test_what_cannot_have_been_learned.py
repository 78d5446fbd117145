"""What no fleet can have taught is refused, though its hashes fit."""

import json
from hashlib import sha256

import numpy as np
import pytest
from damaged_folders import AS_OF, DEMO, assessor_of, keep, read, refusal, reseal

from scoring.contract.events import MODES
from scoring.files.learned_folder import LEARNED, MANIFEST, read_learned
from scoring.learning.covariates import PLAIN_STATES

MODE = MODES[0]


@pytest.fixture
def folder(tmp_path):
    return keep(tmp_path / "kept")


def put(values: list, place: int, value: object) -> list:
    return [*values[:place], value, *values[place + 1 :]]


def lopsided(matrix: list) -> list:
    return put(matrix, 0, put(matrix[0], 1, matrix[0][1] + 0.1))


def times(factor: float):
    return lambda matrix: (np.array(matrix) * factor).tolist()


CHANGES = [
    ("columns", lambda v: v[::-1], "columns: ['level', 'old age', "),
    ("columns", lambda v: put(v, 0, "other"), "columns: 'other' is given"),
    ("columns", lambda v: put(v, 0, 1), "right is a list of texts"),
    (
        "share",
        lambda v: put(v, 0, 1.5),
        "share: 1.5 is given; right is a finite number of at least 0 and",
    ),
    ("share", lambda v: v[1:], f"...] is given; right is a list of {len(PLAIN_STATES)}"),
    ("share", lambda v: put(v, 0, "0.5"), "each a number"),
    ("share", lambda v: put(v, 0, True), "each a number"),
    ("share", lambda v: put(v, 0, None), "each a number"),
    ("spread", lambda v: put(v, 0, -0.1), "spread: -0.1 is given"),
    ("spread", lambda v: put(v, 0, 5e-324), "spread: 5e-324 is given; right is 0, or at least"),
    ("sites", lambda _: [], "sites: [] is given; right is at least one site, each once, sorted"),
    ("sites", lambda v: v * 2, "each once, sorted"),
    ("sites", lambda v: [v], "right is a list of texts"),
    ("coefficients", lambda v: v[1:], "right is a list of "),
    (
        "coefficients",
        lambda v: put(v, 0, 11.0),
        "11.0 is given; right is a finite number of at least -10",
    ),
    ("coefficients", lambda v: put(v, 0, -1.5), "-1.5 is given; right is at its bound -1 where"),
    ("coefficients", lambda v: put(v, 0, 10**400), "right is numbers that a computer can hold"),
    ("coefficients", lambda v: {str(n): x for n, x in enumerate(v)}, "right is a list of"),
    ("held", lambda v: put(v, 0, 0), "each true or false"),
    ("held", lambda v: v[1:], ", each true or false"),
    ("scale", lambda v: put(v, 0, 0.0), "scale: 0.0 is given; right is above 0"),
    ("scale", lambda v: put(v, 0, -0.5), "scale: -0.5 is given; right is above 0"),
    ("scale", lambda v: put(v, 0, 0.51), "scale: 0.51 is given; right is 0.5, the prior's"),
    ("laplace", lopsided, "laplace, row 1, column 2 and the other way round"),
    ("sandwich", lopsided, "sandwich, row 1, column 2 and the other way round"),
    ("laplace", times(-1), "right is a covariance, whose least eigenvalue is not below 0"),
    ("laplace", times(1e6), "a finite number of at least -100 and at most 100"),
    ("sandwich", lambda v: v[1:], "lists of"),
    ("sandwich", lambda v: put(v, 3, v[3][1:]), "lists of"),
    ("sandwich", lambda v: put(v, 3, "x" * len(v)), "lists of"),
    ("events", lambda _: -1.0, "events: -1.0 is given"),
    ("expected", lambda _: None, "right is one number"),
    ("n_steps", lambda _: 1.0, "n_steps: 1.0 is given; right is a whole number of at least 1"),
    ("converged", lambda _: "yes", "converged: 'yes' is given; right is true or false"),
]


@pytest.mark.parametrize(("name", "change", "words"), CHANGES)
def test_what_cannot_have_been_learned_is_refused(folder, name, change, words):
    learned = read(folder, LEARNED)
    learned[MODE][name] = change(learned[MODE][name])
    reseal(folder, learned=learned)
    reported = refusal(folder)
    assert f"{folder / LEARNED}, {MODE}, {name}" in reported
    assert words in reported
    assert len(reported) < 600


def test_a_failure_that_is_used_must_have_been_learned(folder):
    reseal(folder, learned=read(folder, LEARNED) | {MODE: None})
    assert "for manifest.json says that it is used" in refusal(folder)


@pytest.mark.parametrize("text", ["1e999", "-1e999"])
def test_numbers_too_large_for_a_float_are_refused(folder, text):
    learned = read(folder, LEARNED)
    learned[MODE]["events"] = "HERE"
    data = json.dumps(learned).replace('"HERE"', text).encode()
    (folder / LEARNED).write_bytes(data)
    digest = {"learned_sha256": sha256(data).hexdigest()}
    reseal(folder, manifest=read(folder, MANIFEST) | digest)
    assert "inf is given; right is a finite number of at least 0" in refusal(folder)


def test_the_worst_that_is_not_refused_still_ranks(folder):
    learned = read(folder, LEARNED)
    for mode in (mode for mode in MODES if learned[mode]):
        size = len(learned[mode]["columns"])
        learned[mode] |= {
            "coefficients": [10.0] * size,
            "held": [False] * size,
            "laplace": np.full((size, size), 100.0).tolist(),
        }
    reseal(folder, learned=learned)
    assessor = assessor_of(DEMO)
    kept = read_learned(folder, AS_OF).learning
    ranking = assessor.assess(AS_OF, 365, assessor.with_own_failures(kept, AS_OF)).ranking
    assert ranking["p_seal_leak"].between(0, 1).all()
