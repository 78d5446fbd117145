"""What is asked once a visit: why, in which state the machine is, in which units of measure."""

from scoring.contract.declaration import Seen
from scoring.contract.mountings import (
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    TAPERED_BUSHING,
)
from scoring.contract.quantities import INCH, METRIC
from scoring.contract.walkdowns import AFTER_REWORK, AFTER_START, PERIODIC, POST_INSTALL

KINDS: tuple[tuple[str, str, str], ...] = (
    (POST_INSTALL, "after installation", "the unit was just hung, before it runs"),
    (AFTER_START, "after first start", "after its first hours of running"),
    (PERIODIC, "on a round", "a look at a unit in service"),
    (AFTER_REWORK, "after re-work", "to see whether what was done has succeeded"),
)
"""Kinds of walkdown: as kept, for a person, and when."""

STATES: tuple[tuple[str, str, tuple[Seen, ...]], ...] = (
    ("hanging", "being hung", (Seen.HANGING, Seen.STOPPED)),
    ("stopped", "hung, machine stopped", (Seen.STOPPED,)),
    ("running", "machine running, guards on", (Seen.RUNNING,)),
)
"""States of the machine: as kept in the form, for a person, and what can be seen in them."""

MEASURES: tuple[tuple[str, str], ...] = ((METRIC, "mm, N·m, °C"), (INCH, "in, lbf·ft, °F"))
"""Units of measure that a person may write in."""

MOUNTING_WORDS: dict[str, str] = {
    KEYED_BORE: "keyed bore",
    TAPERED_BUSHING: "tapered bushing",
    SHRINK_DISC: "shrink disc",
    SHRINK_DISC_SUPPORT_BUSHINGS: "shrink disc with support bushings",
}
"""What a person calls the mountings."""
