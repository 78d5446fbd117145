"""What a re-work action is: what it does, cures and renews, and what it takes."""

from dataclasses import dataclass, replace

from scoring.contract.effort import OFF_THE_SHAFT, USUAL_EFFORT, Effort
from scoring.contract.mountings import EVERY_MOUNTING


@dataclass(frozen=True, kw_only=True)
class Action:
    """One re-work action.

    Attributes
    ----------
    name : str
        As written in the column ``actions``.
    does : str
        What is done, in plain words, as an instruction.
    cures : tuple of str
        Checks that are reported cured.
    brings : tuple of str
        Actions that always come with it.
    renews : tuple of str
        Parts that are new afterwards.
    cures_damage : tuple of str
        Those of these checks of which it cures too what no hanging mends, for it brings the part:
        damage, or a shaft that is short though the unit is home.
    parts_where : tuple of (str, str)
        The findings that need its parts: a check, and the word from which on, empty for any
        finding. Where nothing is said they are always needed.
    off_shaft : bool
        Whether the unit comes off the shaft and is hung anew; then it needs every set-up.
    on_shaft_for : str
        The word of ``seal_side`` for which the unit stays on its shaft all the same.
    only_on : tuple of str
        The mountings that can have it, of those that have a check it cures.
    effort : Effort
        What it takes; planning values of ours. Where nothing is said, ``USUAL_EFFORT``.

    Examples
    --------
    >>> Action(name="turn_unit", does="turn it round", off_shaft=True).effort.set_ups
    ('lock_out', 'guard_off', 'lifting', 'off_and_on')
    """

    name: str
    does: str
    cures: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()
    renews: tuple[str, ...] = ()
    cures_damage: tuple[str, ...] = ()
    parts_where: tuple[tuple[str, str], ...] = ()
    off_shaft: bool = False
    on_shaft_for: str = ""
    only_on: tuple[str, ...] = EVERY_MOUNTING
    effort: Effort = USUAL_EFFORT

    def comes_off(self, seal_side: str = "") -> bool:
        """Tell whether the unit comes off its shaft, if it is done to that seal.

        Examples
        --------
        >>> from scoring.contract.rework import ACTION_BY_NAME
        >>> renew = ACTION_BY_NAME["renew_seal"]
        >>> renew.comes_off(), renew.comes_off("inboard"), renew.comes_off("outboard")
        (True, True, False)
        """
        return self.off_shaft and (not self.on_shaft_for or seal_side != self.on_shaft_for)

    def __post_init__(self) -> None:
        """Give a unit that comes off its shaft all that this takes."""
        if not set(self.cures_damage) <= set(self.cures):
            raise ValueError(f"{self.name}: cures_damage names a check that it does not cure")
        if not {check for check, _ in self.parts_where} <= set(self.cures):
            raise ValueError(f"{self.name}: parts_where names a check that it does not cure")
        if self.on_shaft_for and not self.off_shaft:
            raise ValueError(f"{self.name}: the unit stays on its shaft without on_shaft_for")
        if self.off_shaft:
            object.__setattr__(self, "effort", replace(self.effort, set_ups=OFF_THE_SHAFT))
