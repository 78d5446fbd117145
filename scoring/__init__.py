"""Post-install inspection and failure-risk scoring of shaft-mounted gear reducers.

For a notebook or a pipeline::

    records = scoring.take(units, walkdowns)      # or scoring.read(FOLDER)
    records.faults                                # what is wrong, and what would be right
    stands = scoring.assess(records, as_of="2026-06-30")
    stands.ranking                                # and .what_if(), .plan(), .look(), .explain()
    scoring.columns()                             # what every column means

All else is inside, and may change: data flows one way, a package for each step::

    files, store -> intake -> timeline -> consequences -> rules, handbook -> learning -> risk
        -> validation -> assessment -> what_if -> planning, looking -> explanation, trends
        -> files, entering, asking, cli

``contract`` declares the tables once; it, ``limits`` and ``mechanics`` serve every step. Only
``files``, ``store``, ``entering``, ``asking`` and ``cli`` touch a disk, a database or a screen.
``FleetAssessor.assess`` is the chain of one day.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scoring.asking.assessed import Assessed, assess, rank
    from scoring.asking.checked_records import Records, read, take
    from scoring.asking.documented_columns import columns
    from scoring.asking.learn_of_a_fleet import Learned, learn
    from scoring.errors import FaultyRecordsError, FixableError, UnreadableFleetError

__all__ = [
    "Assessed",
    "FaultyRecordsError",
    "FixableError",
    "Learned",
    "Records",
    "UnreadableFleetError",
    "assess",
    "columns",
    "learn",
    "rank",
    "read",
    "take",
]

_LIES_IN = {
    "scoring.asking.assessed": ("Assessed", "assess", "rank"),
    "scoring.asking.documented_columns": ("columns",),
    "scoring.asking.learn_of_a_fleet": ("Learned", "learn"),
    "scoring.asking.checked_records": ("Records", "read", "take"),
    "scoring.errors": ("FaultyRecordsError", "FixableError", "UnreadableFleetError"),
}


if not TYPE_CHECKING:  # a type checker would let any name pass

    def __getattr__(name: str) -> object:
        """Return what is offered, loaded when it is first asked for."""
        for module, names in _LIES_IN.items():
            if name in names:
                found: object = getattr(import_module(module), name)
                return found
        raise AttributeError(f"module 'scoring' has no attribute {name!r}; it offers {__all__}")


def __dir__() -> list[str]:
    """Return what is offered."""
    return __all__
