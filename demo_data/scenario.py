"""What sets one invented plant apart from another: sites, lines, surroundings, currency."""

from dataclasses import dataclass

from scoring.contract.mountings import EVERY_MOUNTING

ENVIRONMENTS = ("dry_indoor", "dusty", "washdown", "outdoor")

_SITE_POOL = (
    "Upper pit",
    "Crusher hall",
    "Stone shed",
    "North quay",
    "Silo house",
    "Rail shed",
    "Wash house",
    "Long belt",
    "Stock yard",
    "Lower bench",
    "Transfer tower",
    "River landing",
)


@dataclass(frozen=True, kw_only=True)
class Scenario:
    """An invented plant, before anything is drawn.

    Attributes
    ----------
    currency : str
        ISO 4217 code of every cost.
    site_names : tuple of str
        Names of sites in the order in which they are used up.
    lines : tuple of (str, str)
        Line and what its reducers drive.
    environment_weights : tuple of float
        Weight of dry_indoor, dusty, washdown, outdoor.
    mounting_weights : tuple of float
        Weight of each mounting, in the contract's order.
    cost_level : float
        Costs against those of a middling plant.
    """

    currency: str
    site_names: tuple[str, ...] = _SITE_POOL
    lines: tuple[tuple[str, str], ...]
    environment_weights: tuple[float, ...] = (0.2, 0.4, 0.1, 0.3)
    mounting_weights: tuple[float, ...] = (0.3, 0.35, 0.25, 0.1)
    cost_level: float = 1.0

    def __post_init__(self) -> None:
        """Refuse weights that do not fit their lists."""
        if len(self.environment_weights) != len(ENVIRONMENTS):
            raise ValueError(f"environment_weights needs {len(ENVIRONMENTS)} numbers")
        if len(self.mounting_weights) != len(EVERY_MOUNTING):
            raise ValueError(f"mounting_weights needs {len(EVERY_MOUNTING)} numbers")

    def sites(self, number: int) -> tuple[str, ...]:
        """Return the names of that many sites; numbered yards once the names are used up.

        Examples
        --------
        >>> Scenario(currency="EUR", site_names=("Pit",), lines=(("L", "belt"),)).sites(2)
        ('Pit', 'Yard 2')
        """
        yards = (f"Yard {i}" for i in range(len(self.site_names) + 1, number + 1))
        return (*self.site_names, *yards)[:number]


GENERAL = Scenario(
    currency="EUR",
    lines=(
        ("feed line", "feed conveyor"),
        ("main line", "belt conveyor"),
        ("main line", "take-up conveyor"),
        ("stacking line", "stacker belt"),
        ("loading line", "loading conveyor"),
        ("return line", "screw conveyor"),
    ),
)
"""The plant that is drawn when no other is asked for."""


def usual_sites(units: int) -> int:
    """Return how many sites a plant of that many units has, from 1 to 12.

    Examples
    --------
    >>> usual_sites(60), usual_sites(400), usual_sites(2000), usual_sites(100_000)
    (1, 2, 6, 12)
    """
    return max(1, min(12, -(-units // 340)))
