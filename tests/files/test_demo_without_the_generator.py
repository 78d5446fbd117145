"""A demo plant is read without the generator, so that a fault in it stops nobody."""

import subprocess
import sys

BROKEN = """
import sys

class Broken:
    tried = []
    def find_spec(self, name, path=None, target=None):
        if name.startswith("demo_data."):
            self.tried.append(name)
            raise RuntimeError(f"{name} is broken")

sys.meta_path.insert(0, Broken())
from scoring.cli.main import cli
cli(["rank", "demo:small_quarry", "--as-of", "2026-06-30"], standalone_mode=False)
assert not Broken.tried, Broken.tried
assert "demo_data" in sys.modules
try:
    import demo_data.true_hazard
except RuntimeError:
    print("the generator is truly broken")
"""


def test_rank_of_a_demo_plant_needs_no_generator() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", BROKEN], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.endswith("the generator is truly broken\n")
    assert "hold" in ran.stdout
