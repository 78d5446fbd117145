"""What a check is: one thing an inspector looks at, and all that only this check needs."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf

from scoring.contract.declaration import About, Column, Kind, Seen, Worse
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.places_to_look import NOT_SAID, USUAL_PLACE, Place
from scoring.contract.plausible import NEVER_QUESTIONED, Plausible
from scoring.contract.stations import STATION_BY_LETTER, usual_station
from scoring.contract.walkdown_kinds import WALKDOWN_KINDS

LOOK_AGAIN_DAYS = 730
"""How long a good look at something that can change is relied on; planning value of ours. [d]"""

USUAL_MINUTES = 5.0
"""What a look takes where a check says nothing; planning value of ours. [min]"""


@dataclass(frozen=True, kw_only=True)
class Check(Column):
    """One thing an inspector looks at: a column of the walkdowns.

    What has a default may be left out, and every command, page and picture still works.

    Attributes
    ----------
    kind : Kind
        What a cell holds: one of a list, unless it is told otherwise.
    meaning : str
        One line for a person; what is good, unless it is told otherwise.
    label : str
        What a person calls it.
    about : About
        The joint, the shaft, the arm or the housing.
    seen : Seen
        In which state of the machine it can be seen.
    how_to_look : str
        One line on how to look.
    good : str
        One line on what good is.
    options : mapping of str to str
        The words of the list, the worst last, each with what a person reads on it; of a count of
        few values these values. ``allowed`` follows from it.
    worse : Worse
        Which way it gets worse.
    right_on : mapping of str to str
        By mounting, the word that is good there, where that is not the first of the list.
    mountings : tuple of str
        The mountings that have it.
    critical_for : tuple of str
        Mountings on which a unit cannot be called clean while this was not seen.
    due_after_days : int or None
        When a good look grows too old to rely on; planning value of ours. Of a critical check at a
        stopped unit ``LOOK_AGAIN_DAYS``, unless it is told otherwise. [d]
    optional : bool
        Whether it may well be that nobody ever looks: that re-work is said to have cured it then
        asks for no look by itself.
    only_where : str
        A column of ``units`` that has to say yes; empty: every unit of these mountings has it.
    asked_on : tuple of str
        The kinds of walkdown on which it is asked; empty: on all.
    damage_from : str
        The word from which on a finding is damage, or a part is missing: only an action that
        ``cures_damage`` of it does away with it, and no new hanging or adjusting. Empty: it never
        is.
    symptom : bool
        A symptom shows damage under way; it is no cause and is forgotten in time.
    tells_of : str
        The part whose damage it shows; a new one makes earlier looks void. Empty: none.
    made_anew_by_hanging : bool
        Whether hanging the unit makes it anew: an earlier look, good or bad, tells nothing of it.
    undone_by_hanging : bool
        Whether hanging the unit may undo it though it is neither of the joint nor of the arm.
    harms_people_only : bool
        Whether a finding endangers people and does nothing to bearing or seal.
    minutes : float
        What a look takes beside the visit; planning value of ours. [min]
    behind_guard : bool
        Whether the guard of the stopped unit has to come off to see it; planning value of ours.
    station : str
        Letter of the station of the walk at which it is made.
    place : Place
        Where it is looked for, framed in the picture beside the question.
    plausible : Plausible
        Within what a measured value is not questioned; planning values of ours.
    beside : str
        The column of ``units`` whose value stands beside the question: a nominal size.
    at_most : str
        The column of ``units`` that a count cannot exceed; empty: none.
    part_of : str
        The count that includes this one, so that this one cannot exceed it; empty: none.

    Raises
    ------
    ValueError
        If the declaration contradicts itself.

    Examples
    --------
    >>> noise = Check(
    ...     name="bearing_noise",
    ...     label="noise of the bearing",
    ...     about=About.HOUSING,
    ...     seen=Seen.RUNNING,
    ...     how_to_look="listen at the low-speed bearing",
    ...     good="even",
    ...     options={"even": "even", "rough": "rough or knocking"},
    ... )
    >>> noise.allowed, noise.station, noise.minutes, noise.words_of("rough")
    (('even', 'rough'), 'G', 5.0, 'rough or knocking')
    """

    kind: Kind = Kind.CHOICE
    meaning: str = ""
    label: str
    about: About
    seen: Seen
    how_to_look: str
    good: str
    options: Mapping[str, str] = field(default_factory=dict, hash=False)
    worse: Worse = Worse.LATER_IN_LIST
    right_on: Mapping[str, str] = field(default_factory=dict, hash=False)
    mountings: tuple[str, ...] = EVERY_MOUNTING
    critical_for: tuple[str, ...] = ()
    due_after_days: int | None = None
    optional: bool = False
    only_where: str = ""
    asked_on: tuple[str, ...] = ()
    damage_from: str = ""
    symptom: bool = False
    tells_of: str = ""
    made_anew_by_hanging: bool = False
    undone_by_hanging: bool = False
    harms_people_only: bool = False
    minutes: float = USUAL_MINUTES
    behind_guard: bool = False
    station: str = ""
    place: Place = NOT_SAID
    plausible: Plausible = NEVER_QUESTIONED
    beside: str = ""
    at_most: str = ""
    part_of: str = ""

    def __post_init__(self) -> None:
        """Fill in what was left out, and refuse a declaration that contradicts itself."""
        self._fill_in("meaning", self.good)
        self._fill_in("station", usual_station(self.about, self.seen))
        if self.place == NOT_SAID:
            object.__setattr__(self, "place", USUAL_PLACE[self.about])
        if self.kind is Kind.CHOICE:
            self._fill_in("allowed", tuple(self.options))
        if self.critical_for and self.seen is Seen.STOPPED:
            self._fill_in("due_after_days", LOOK_AGAIN_DAYS)
        self._refuse_contradictions()

    @property
    def good_is_lost_by_hanging(self) -> bool:
        """Whether a good look tells nothing any more once the unit was hung anew.

        Examples
        --------
        >>> from scoring.contract import CHECK_BY_NAME
        >>> lost = ("retention", "arm_bolts", "guard", "breather", "shaft_runout_mm")
        >>> [CHECK_BY_NAME[name].good_is_lost_by_hanging for name in lost]
        [True, True, True, False, False]
        """
        return self.about in (About.JOINT, About.ARM) or self.undone_by_hanging

    def words_of(self, value: str) -> str:
        """Return what a person reads on an answer; what is kept is the contract's word."""
        return self.options.get(value, value.replace("_", " "))

    def words_on(self, mounting: str) -> tuple[str, ...]:
        """Return the words of the list as they count on a mounting, the good one first.

        Examples
        --------
        >>> from scoring.contract import CHECK_BY_NAME
        >>> CHECK_BY_NAME["tightening_order"].words_on("tapered_bushing")
        ('star', 'circular', 'no_order')
        """
        right = self.right_on.get(mounting)
        return tuple(sorted(self.allowed, key=lambda word: word != right))

    @property
    def damage_exceedance(self) -> float:
        """From which exceedance on a finding is damage; infinite where it never is.

        Examples
        --------
        >>> from scoring.contract import CHECK_BY_NAME
        >>> CHECK_BY_NAME["oil_condition"].damage_exceedance
        3.0
        """
        return float(self.allowed.index(self.damage_from)) if self.damage_from else inf

    def _fill_in(self, name: str, usual: object) -> None:
        if not getattr(self, name):
            object.__setattr__(self, name, usual)

    def _refuse_contradictions(self) -> None:
        by_word = self.worse in (Worse.LATER_IN_LIST, Worse.BY_MOUNTING)
        if by_word is not (self.kind is Kind.CHOICE):
            raise ValueError(f"{self.name}: {self.worse.value} does not go with {self.kind}")
        if self.kind is Kind.CHOICE and tuple(self.options) != self.allowed:
            raise ValueError(f"{self.name}: every word of the list needs its words, in one order")
        if self.right_on and self.worse is not Worse.BY_MOUNTING:
            raise ValueError(f"{self.name}: right_on does not go with {self.worse.value}")
        if not set(self.right_on.values()) <= set(self.allowed):
            raise ValueError(f"{self.name}: right_on names a word that is not in the list")
        self._refuse_words_that_there_are_not()
        station = STATION_BY_LETTER.get(self.station)
        if station is None or station.state is not self.seen:
            raise ValueError(
                f"{self.name}: station {self.station!r} is none at which a check is made "
                f"{self.seen.words}"
            )
        for name in ("mountings", "critical_for", "right_on"):
            if not set(getattr(self, name)) <= set(self.mountings) & set(EVERY_MOUNTING):
                raise ValueError(f"{self.name}: {name} names a mounting that has it not")

    def _refuse_words_that_there_are_not(self) -> None:
        if (self.at_most or self.part_of) and self.kind is not Kind.COUNT:
            raise ValueError(f"{self.name}: at_most and part_of go with counts only")
        if self.damage_from and self.damage_from not in self.allowed[1:]:
            raise ValueError(f"{self.name}: damage_from names no word of a finding in the list")
        if not set(self.asked_on) <= set(WALKDOWN_KINDS):
            raise ValueError(f"{self.name}: asked_on names a kind of walkdown that there is not")
