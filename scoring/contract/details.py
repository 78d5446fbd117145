"""Details of a look: what a check leaves open, as the place of a contact. No checks themselves."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from scoring.contract.declaration import Column, Kind

INBOARD, OUTBOARD, BOTH = "inboard", "outboard", "both"
SEAL_SIDES = (INBOARD, OUTBOARD, BOTH)
"""Which output seal: toward the conveyor, away from it, or both."""

CONTACT_PLACES = ("arm_bracket", "washer_stack", "housing", "motor", "guard")
"""Where metal may touch metal."""


@dataclass(frozen=True, kw_only=True)
class Detail(Column):
    """What belongs to a look at some checks, and is no check itself.

    Attributes
    ----------
    label : str
        What a person calls it.
    of : tuple of str
        The checks that it belongs to.
    options : mapping of str to str
        Its words, each with what a person reads on it; ``allowed`` follows from it.
    says : str
        What those checks were found to be wherever it is filled; empty: it says nothing of them.
    """

    label: str
    of: tuple[str, ...]
    options: Mapping[str, str] = field(default_factory=dict, hash=False)
    says: str = ""

    def __post_init__(self) -> None:
        """Fill in the words that are allowed."""
        object.__setattr__(self, "allowed", tuple(self.options))


def seal_side(meaning: str) -> Column:
    """Return the column that says which output seal is meant."""
    return Column(name="seal_side", kind=Kind.CHOICE, allowed=SEAL_SIDES, meaning=meaning)


CONTACT_AT = Detail(
    name="contact_at",
    kind=Kind.SEVERAL,
    meaning="where metal touches metal; filled means that it does",
    label="where metal touches",
    of=("metal_contact",),
    options=dict(
        zip(
            CONTACT_PLACES,
            (
                "torque arm and its bracket",
                "washers and bolt of the anchor joint",
                "housing",
                "motor",
                "guard",
            ),
            strict=True,
        )
    ),
    says="yes",
)

SEAL_SIDE = Detail(
    name="seal_side",
    kind=Kind.CHOICE,
    meaning="which output seal was found so; blank: both",
    label="which output seal",
    of=("seal_lip", "seal_weep"),
    options={
        INBOARD: "inboard, toward the conveyor",
        OUTBOARD: "outboard, away from the conveyor",
        BOTH: "both",
    },
)

DETAILS: tuple[Detail, ...] = (CONTACT_AT, SEAL_SIDE)
"""In the order in which they are asked."""
