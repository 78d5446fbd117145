"""A user's script against the installed wheel: it passes the strictest check of types, and runs."""

import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SCRIPT = """\
from pathlib import Path

import pandas as pd

import scoring


def worst_of(units: pd.DataFrame, out: Path) -> str:
    records: scoring.Records = scoring.take(units)
    wrong: pd.DataFrame = records.faults
    if len(wrong):
        raise scoring.FixableError(str(wrong))
    stands: scoring.Assessed = scoring.assess(records, as_of="2026-06-30", horizon_days=180)
    ranking: pd.DataFrame = stands.ranking
    worst = str(ranking.loc[0, "unit_id"])
    answer = stands.what_if(worst, found={"oil_level": "low"})
    plan = stands.plan(crew_hours=8, must_out=[worst])
    route = stands.look(hours={"quarry": 4}).route.visits
    learned: scoring.Learned = scoring.learn(records)
    written: list[Path] = stands.export(out, plan=plan)
    sizes = [len(frame) for frame in (answer, plan.jobs, route, learned.effects)]
    assert sizes and written and len(scoring.columns("ranking"))
    return worst


units = pd.DataFrame(
    {
        "unit_id": ["A-1"], "site": ["quarry"], "installed_on": ["2026-01-31"],
        "mounting": ["keyed_bore"], "shaft_diameter_mm": [80],
    }
)
print(scoring.__file__)
print(worst_of(units, Path("out")))
"""
WRONG = """\
import scoring

scoring.assess(scoring.read("demo:small_quarry"), horizon="long")
scoring.ranks
ranking: str = scoring.rank(scoring.read("demo:small_quarry"))
"""


def place_of(what, environment):
    """Return where an environment keeps something, on any system."""
    base = str(environment)
    return sysconfig.get_path(what, vars={"base": base, "platbase": base, "installed_base": base})


@pytest.fixture(scope="module")
def user(tmp_path_factory):
    """Install the wheel, and nothing else, into an environment that sees our libraries."""
    folder = tmp_path_factory.mktemp("user")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    subprocess.run(
        [sys.executable, "-m", "venv", "--without-pip", str(folder / "venv")], check=True
    )
    (wheel,) = folder.glob("*.whl")
    site = Path(place_of("purelib", folder / "venv"))
    unpack = [sys.executable, "-m", "zipfile", "-e", str(wheel), str(site)]
    subprocess.run(unpack, check=True)
    libraries = sysconfig.get_paths()["purelib"]  # as a path alone: its own .pth are not read
    (site / "libraries.pth").write_text(f"{libraries}\n", encoding="utf-8")
    (folder / "script.py").write_text(SCRIPT, encoding="utf-8")
    (folder / "wrong.py").write_text(WRONG, encoding="utf-8")
    return folder


def python_of(user):
    return str(Path(place_of("scripts", user / "venv"), Path(sys.executable).name))


def checked(user, script):
    strict = ["-m", "mypy", "--strict", "--python-executable", python_of(user), "--cache-dir"]
    return subprocess.run(
        [sys.executable, *strict, str(user / "cache"), script],
        cwd=user,
        check=False,
        capture_output=True,
        text=True,
    )


def test_it_runs(user):
    done = subprocess.run(
        [python_of(user), "script.py"], cwd=user, check=True, capture_output=True, text=True
    )
    where, worst = done.stdout.splitlines()
    assert Path(where).is_relative_to(user)
    assert worst == "A-1"


@pytest.mark.slow
def test_it_passes_the_strictest_check_of_types(user):
    done = checked(user, "script.py")
    assert done.returncode == 0, done.stdout + done.stderr
    wrong = checked(user, "wrong.py")
    assert wrong.stdout.count("error:") == 3, wrong.stdout
    assert 'Unexpected keyword argument "horizon"' in wrong.stdout
    assert 'Module has no attribute "ranks"' in wrong.stdout
