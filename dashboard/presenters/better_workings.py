"""How the sentences of the page that says whether it gets better are worked out."""

WORKINGS = {
    "Loss": (
        "Expected loss of a unit = sum over failures of (chance within the days looked ahead x "
        "(repair + repair hours x cost of an hour's standstill)), as in the ranking. Its mean over "
        "the units in service is compared with that of a year ago. What the fleet's failures "
        "taught is used as known today for both days; how usual faults are where nobody has looked "
        "is as known on each day.\n\n"
        "Change: mean now less mean then. 90 % interval: normal law over units, each counted "
        "whole with both its days, so that what a unit has on both days, and an error that all "
        "hazards share, cancels. How unsure the effect of one kind of finding is, is not in it, "
        "and units are taken as independent of each other. A finding that was there before and "
        "was first seen this year counts as a rise.\n\n"
        "Inputs: units (costs; where blank, the median of the site or the fleet, else planning "
        "values of ours), walkdowns, re-work, failures."
    ),
    "Must not run": (
        "Share of the units in service whose verdict is hold, now and a year ago; interval of the "
        "change as for loss. How long: from the day on which what holds the unit was first seen, "
        "while it is held at one month's end after the other; the limits of 30 and 90 days are "
        "planning values of ours. Who was told: from signatures in the store."
    ),
    "Right the first time": (
        "Units hung in the 365 days up to now, and in the 365 before. Judged: a post-install "
        "walkdown before any re-work saw every check that is critical at the mounting. Right: the "
        "first such walkdown found none of these wrong. Interval of a share: Wilson's score "
        "interval, 90 %; of the change: both put together by the square-and-add rule (textbook, "
        "from memory)."
    ),
    "Sites and crews": (
        "All judged installations on record. Limits of luck: binomial law with the share of all "
        "together, so wide that in 9 of 10 fleets in which all sites (or all crews) are alike none "
        "lies outside. Changes at sites have intervals so wide that all of them hold the true "
        "change in 9 of 10 fleets. Whoever lies outside differs; the reason is not known from "
        "this: the work, the shafts, the machines or who looked."
    ),
    "Re-work": (
        "Cost = hours on record x people x cost of an hour + parts. The cost of an hour and of "
        "parts, and hours where they are not written down, are planning values of ours. Loss "
        "removed: expected loss of a year the day before the work less that of the day after; what "
        "it spares in later years is not in it."
    ),
}
"""By what is spoken of; formula, inputs and source."""
