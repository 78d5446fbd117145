"""The three plants that come with the project."""

from dataclasses import dataclass
from pathlib import Path

from demo_data.fleet import Fleet
from demo_data.generate import generate_fleet
from demo_data.scenario import Scenario

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Plant:
    """A named plant: what to generate it from."""

    units: int
    seed: int
    sites: int
    scenario: Scenario

    def generate(self) -> Fleet:
        """Generate it anew."""
        return generate_fleet(self.units, self.seed, self.sites, scenario=self.scenario)


PLANTS: dict[str, Plant] = {
    "small_quarry": Plant(
        units=60,
        seed=41,
        sites=1,
        scenario=Scenario(
            currency="EUR",
            site_names=("Stone shed",),
            lines=(
                ("crusher line", "feed conveyor"),
                ("crusher line", "screen conveyor"),
                ("stock line", "stacker belt"),
                ("wash line", "screw conveyor"),
            ),
            environment_weights=(0.1, 0.6, 0.1, 0.2),
            mounting_weights=(0.35, 0.4, 0.2, 0.05),
            cost_level=0.6,
        ),
    ),
    "grain_port": Plant(
        units=400,
        seed=8,
        sites=3,
        scenario=Scenario(
            currency="CAD",
            site_names=("North quay", "Silo house", "Rail shed"),
            lines=(
                ("ship loading", "loading belt"),
                ("ship loading", "bucket elevator"),
                ("silo feed", "drag conveyor"),
                ("silo feed", "screw conveyor"),
                ("rail loading", "belt conveyor"),
            ),
            environment_weights=(0.3, 0.4, 0.02, 0.28),
            mounting_weights=(0.3, 0.35, 0.25, 0.1),
            cost_level=1.0,
        ),
    ),
    "ore_works": Plant(
        units=2000,
        seed=122,
        sites=6,
        scenario=Scenario(
            currency="AUD",
            site_names=(
                "Upper pit",
                "Crusher hall",
                "Long belt",
                "Wash house",
                "Stock yard",
                "Train loading",
            ),
            lines=(
                ("primary line", "belt conveyor"),
                ("primary line", "apron feeder"),
                ("overland line", "belt conveyor"),
                ("overland line", "take-up conveyor"),
                ("wash line", "screw conveyor"),
                ("stacking line", "stacker belt"),
                ("loading line", "loading belt"),
            ),
            environment_weights=(0.1, 0.45, 0.15, 0.3),
            mounting_weights=(0.2, 0.35, 0.3, 0.15),
            cost_level=1.6,
        ),
    ),
}
"""By name of the folder beside this file that holds the plant's records."""
