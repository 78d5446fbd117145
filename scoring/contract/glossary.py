"""The words of this house: one word for one thing, in code, in files and on screens."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Term:
    """A word, what it means here, and what it is not called.

    Attributes
    ----------
    word : str
        The word.
    meaning : str
        One line for a person.
    replaces : tuple of str
        Names, written as in code, that are not used for it: a test looks for them in names of
        files, modules and everything in them.
    """

    word: str
    meaning: str
    replaces: tuple[str, ...] = ()


GLOSSARY: tuple[Term, ...] = (
    Term("action", "re-work of one kind; it cures checks, and may renew a part"),
    Term(
        "assessed fleet",
        "a fleet with its assessment, how often its re-work succeeds, and what re-work takes there",
        ("standing_fleet", "as_it_stands"),
    ),
    Term(
        "base rate",
        "hazard of a unit without faults, of usual duty and age; the field's hazard is higher",
    ),
    Term(
        "basis", "by what a unit is judged: the handbook, or the handbook and the fleet's failures"
    ),
    Term("chance", "probability of an event; of the first failure of a mode within the horizon"),
    Term("check", "one thing that an inspector looks at; a column of the walkdowns"),
    Term(
        "covariate",
        "a number that may explain why one unit fails sooner than another",
        ("explaining_column", "explaining_columns", "stands_for", "columns_stand_for"),
    ),
    Term(
        "credible interval",
        "where a quantity lies with a probability of 90 %, given prior and records",
    ),
    Term(
        "crew",
        "who hung a unit, or re-worked it; the column installer of the units is the first one",
        ("installers", "of_installers"),
    ),
    Term("damage", "a finding that only a new part cures: metal in the oil, a worn seat, a slip"),
    Term("detail", "what belongs to a look and is no check: where metal touches, which seal it is"),
    Term("effect", "a state that checks show, and by what it multiplies each hazard"),
    Term(
        "exceedance",
        "how far a value lies beyond what is good: 0 is good, more is worse",
        ("badness",),
    ),
    Term(
        "expected", "failures that hazard and exposure add up to, to be held against those observed"
    ),
    Term(
        "expected loss", "chance of each failure within the horizon times what it costs, added up"
    ),
    Term(
        "exposure",
        "time in service under observation, in which a failure would have been written down",
        ("person_period", "person_periods", "person_period_cuts", "rests_on", "rows_it_rests_on"),
    ),
    Term("failure mode", "how a unit fails: low-speed bearing, seal leak, joint slip, other"),
    Term("finding", "a check found worse than good: an exceedance above 0"),
    Term(
        "handbook", "what is known before this fleet's failures: base rates and effects; the prior"
    ),
    Term("hanging check", "a check that can be seen only while a unit is being hung on its shaft"),
    Term("hazard", "failures a year of a unit that has not failed yet; its hazard rate"),
    Term(
        "hold, correct, watch, no_finding", "the verdicts, worst first; a unit on hold must not run"
    ),
    Term("horizon", "how far ahead a chance reaches; a year where nothing else is said"),
    Term("hung anew", "put on its shaft again after it was off, which makes earlier looks void"),
    Term(
        "hypothetical re-work",
        "re-work that is weighed and not done",
        ("thought_of", "re_work_thought_of"),
    ),
    Term("look", "one check seen on one visit"),
    Term(
        "look plan",
        "which looks to take in the inspector's hours, and what they are worth",
        ("route_for", "looking_route"),
    ),
    Term(
        "look status",
        "what of the checks that matter was not seen, is due again, or is only reported cured",
    ),
    Term("multiplier", "by what an effect multiplies a hazard; 1 where the state is good"),
    Term("not seen", "nobody has looked, or the look is void; never the same as good"),
    Term("observed", "failures that came, to be held against those expected or predicted"),
    Term("posterior", "what handbook and this fleet's failures say together"),
    Term(
        "predicted",
        "said as of a day, from what was recorded by then, of failures after it",
        ("foretold", "foretell", "foretells", "foretelling"),
    ),
    Term(
        "prepared",
        "of a store: it has its tables, of this version's schema",
        ("laid_out", "lays_out"),
    ),
    Term("prevalence", "how usual each state is where nobody has looked"),
    Term("prior", "what was believed before this fleet's failures were counted"),
    Term("reported cured", "re-work says so, and nobody has looked since"),
    Term("re-work", "a visit that changed something at a unit"),
    Term(
        "route",
        "units in the order in which an inspector walks to them",
        ("units_on_route",),
    ),
    Term("slip margin", "torque that a joint carries over the torque that it has to carry"),
    Term(
        "success of re-work",
        "an action succeeds if the first look after it finds good what it cures",
        ("take_chances", "takes_chart", "did_not_take", "rework_takes", "takes"),
    ),
    Term("symptom", "temperature, vibration, damp: tells of damage and causes none"),
    Term(
        "uncensored",
        "still under observation at an age; what is not was lost to follow-up",
        ("in_sight", "sight_table"),
    ),
    Term("unit", "one reducer on one shaft"),
    Term(
        "unit-day",
        "one unit at the end of one day",
        ("moments", "states_along", "check_along", "ages_along"),
    ),
    Term("verdict", "what the rules say of a unit"),
    Term("walkdown", "one visit of an inspector to one unit, and what was seen"),
)
"""In the order of the alphabet."""
