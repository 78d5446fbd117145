"""What mutants of the code are: one slip each, where something is worked out, in a lasting draw."""

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import judged_mutants
import mutants
import mutations
import pytest
from judged_mutants import judged, why_equivalent
from mutant_runs import Trial
from mutations import Mutant, draw, sites_of
from tests_that_reach import LikeliestFirst, Reach

ROOT = Path(__file__).parents[2]
HERE = Path("some_module.py")
SOURCE = '''"""Of 5 things."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    LEAST = 3
__all__ = ["load"][0:1]
MOST = 2.5


@cache(maxsize=8)
def load(force: float | None, share: "int < 3" = 4) -> int | None:
    """Return 3 times 4."""
    if force > MOST:
        raise ValueError(f"{force + 1:.2f} is more than {MOST - 1}" + "!" * 6)
    return force * 7 / share
'''


def kinds_by_line(source):
    return sorted((site.line, site.kind) for site in sites_of(HERE, source))


def test_slips_are_made_where_something_is_worked_out_and_nowhere_else():
    assert kinds_by_line(SOURCE) == [
        (8, "number"),  # MOST
        (12, "number"),  # what share is if nobody says it
        (14, "comparison"),
        (14, "condition"),
        (16, "arithmetic"),
        (16, "arithmetic"),
        (16, "number"),
        (16, "returned value"),
    ]


@pytest.mark.parametrize(
    ("line", "kind", "slips"),
    [
        ("a = low + 1", "arithmetic", {"a = low - 1", "a = low * 1", "a = low ** 1"}),
        ("a = 2.0", "number", {"a = 3.0", "a = 1.0", "a = (3.0)"}),
        ("a = x.min()", "like function", {"a = (x.max)()"}),
        ("a = where(k, 1, 2)", "swapped choices", set()),
        ("a = np.where(k, x, y)", "swapped choices", {"a = (np.where(k, y, x))"}),
        ("a[0] += x", "left out", {"pass"}),
        ("a = x is None", "comparison", {"a = x is not None"}),
        ("a = not x", "sign or not", {"a =  x"}),
        ("a = f(side='left')", "other side", {"a = f(side=('right'))"}),
    ],
)
def test_slips_of_each_kind(line, kind, slips):
    made = {
        slip.of(line).replace("  ", " ").strip()
        for site in sites_of(HERE, line)
        if site.kind == kind
        for slip in site.slips
    }
    assert {slip.replace("  ", " ") for slip in slips} <= made
    assert bool(made) == bool(slips)


def test_a_mutant_differs_by_its_line_and_still_compiles():
    drawn = draw(ROOT, "planning", 12, seed=3)
    assert len(drawn) == 12
    for one in drawn:
        source = (ROOT / one.path).read_text(encoding="utf-8")
        assert ast.dump(ast.parse(one.source)) != ast.dump(ast.parse(source))
        rows, changed = source.splitlines(), one.source.splitlines()
        same_before = next(
            n for n, pair in enumerate(zip(rows, changed, strict=False)) if pair[0] != pair[1]
        )
        assert one.line - 1 <= same_before
        assert one.before != one.after


def test_a_larger_sample_holds_the_smaller_and_another_seed_draws_others():
    few, many = draw(ROOT, "rules", 5, seed=1), draw(ROOT, "rules", 15, seed=1)
    assert many[:5] == few
    assert draw(ROOT, "rules", 5, seed=2) != few


def test_what_changes_elsewhere_moves_no_draw(tmp_path):
    package = tmp_path / "scoring" / "some"
    package.mkdir(parents=True)
    (package / "one.py").write_text(SOURCE, encoding="utf-8")
    few = draw(tmp_path, "some", 4, seed=1)
    longer = SOURCE.replace("MOST = 2.5\n", "MOST = 2.5\n\n\ndef other(): ...\n\n")
    (package / "one.py").write_text(longer, encoding="utf-8")
    moved = draw(tmp_path, "some", 4, seed=1)
    assert [(one.before, one.after) for one in moved] == [(one.before, one.after) for one in few]


def test_tests_are_started_by_how_near_they_are_to_the_module(tmp_path):
    """What names the module, then what names a module that takes something from it, then others."""
    for path, text in {
        "scoring/some/one.py": "",
        "scoring/some/two.py": "from scoring.some.one import load",
        "scoring/some/three.py": "from scoring.some.two import load",
        "tests/some/test_a.py": "from scoring.some.three import load",
        "tests/some/test_b.py": "from scoring.some.two import load",
        "tests/some/test_c.py": "from scoring.some import one",
        "tests/some/test_d.py": "from scoring.some.one_more import load",
    }.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_text(text, encoding="utf-8")
    mutant = Mutant(Path("scoring/some/one.py"), 1, "number", "x = 1", "x = 2", "")
    stages = Trial("some", mutant).stages(tmp_path)
    assert stages == [
        ["scoring/some/one.py", "tests/some/test_c.py"],
        ["tests/some/test_b.py"],
        ["tests/some/test_a.py", "tests/some/test_d.py"],
    ]
    reach = Reach({"tests/some/test_a.py::test": 0.1, "tests/some/test_b.py::test": 0.1}, {})
    known = LikeliestFirst(reach, {"tests/some/test_b.py::test"}, {"tests/some/test_b.py"})
    in_one = known.worth_starting(stages)
    assert in_one == [[one for stage in stages for one in stage if "test_a" not in one]]
    assert LikeliestFirst(Reach({}, {}), set(), set()).worth_starting(stages) == stages


def test_judged_mutants_are_told_apart_by_line_and_change(tmp_path, monkeypatch):
    kept = tmp_path / "judged.toml"
    kept.write_text(
        '[["a.py"]]\nline = "x = 1"\nbecomes = ["x = 2"]\nwhy = "nobody reads x"\n',
        encoding="utf-8",
    )
    monkeypatch.setattr(judged_mutants, "JUDGED", kept.name)
    known = judged(tmp_path)
    same = Mutant(Path("a.py"), 1, "number", "x = 1", "x = 2", "")
    assert why_equivalent(same, known) == "nobody reads x"
    for other in (
        ("b.py", "x = 1", "x = 2"),
        ("a.py", "y = 1", "x = 2"),
        ("a.py", "x = 1", "x = 0"),
    ):
        path, before, after = other
        assert why_equivalent(Mutant(Path(path), 1, "number", before, after, ""), known) is None


def test_every_judged_line_still_stands_and_can_slip_so():
    sites = cache(sites_of)
    for one in judged(ROOT):
        source = (ROOT / one.path).read_text(encoding="utf-8")
        parts = [row.strip() for row in source.splitlines()]
        can_be = {
            slip_lines(source, slip)[1]
            for site in sites(Path(one.path), source)
            if parts[site.line - 1] in one.line or one.line in parts[site.line - 1]
            for slip in site.slips
        }
        assert set(one.becomes) <= can_be, (one.path, one.line)
        assert len(one.why) > 20


def slip_lines(source, slip):
    return mutations.lines_that_differ(source, slip.of(source))


def test_a_small_sample_is_noticed_or_judged():
    """Of four mutants of each package; DEVELOPERS.md tells what larger samples came to.

    In one run, for a copy of the tree and what is imported serve all packages.
    """
    command = [sys.executable, ".ci/mutants.py", *mutants.PACKAGES, "--sample", "4", "--seed", "1"]
    done = subprocess.run(
        [*command, "--plain", "--at-once", "1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    for package in mutants.PACKAGES:
        assert f"{package}: 4 mutants, " in done.stdout
