"""What was learned of one failure as plain data, and back, every number to its last bit.

Python writes a float with as many digits as bring the same float back; JSON keeps them.
"""

from dataclasses import replace

import numpy as np
from threadpoolctl import threadpool_limits

from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files.json_entries import Entries, Floats, refuse
from scoring.learning.column_prior import ColumnPrior
from scoring.learning.covariates import PLAIN_STATES, Covariates
from scoring.learning.learned import LearnedMode
from scoring.learning.posterior import Posterior

NAMES = (
    "columns",
    "share",
    "spread",
    "sites",
    "coefficients",
    "held",
    "scale",
    "laplace",
    "sandwich",
    "events",
    "expected",
    "n_steps",
    "converged",
)
"""Entries of one failure."""

OF_OTHERS = ("prior_mean", "prior_covariance")
"""Those it has besides where learning began with other plants."""

MOST_LOG = 10.0
"""Size of a coefficient beyond which it is no correction: failures 20,000 times as frequent. Ours.
No sum of them over all columns is then too large for its exponential. [-]"""

MOST_VARIANCE = 100.0
"""Variance of a coefficient beyond which it says nothing; priors are below 1. Ours. [-]"""

LEAST_VARIANCE = 1e-9
"""Variance below which no plant tells of another: they differ by more. Ours. [-]"""

LEAST_SPREAD = 1e-12
"""Spread of a finding that no records come near: a day in a billion years has more. Ours. [-]"""

ROUNDING = 1e-8
"""How far, relative to the largest, a covariance may be off by rounding. Ours. [-]"""


def learned_to_plain(learned: LearnedMode | None) -> dict[str, object] | None:
    """Turn what was learned of a failure into plain data.

    Parameters
    ----------
    learned : LearnedMode or None
        None where nothing was.

    Returns
    -------
    dict or None
        Text, numbers, flags and lists of them, under ``NAMES``, and of other plants ``OF_OTHERS``.
    """
    if learned is None:
        return None
    columns, posterior = learned.columns, learned.posterior
    of_others: dict[str, object] = {}
    if columns.prior is not None:
        both = (columns.prior.mean.tolist(), columns.prior.covariance.tolist())
        of_others = dict(zip(OF_OTHERS, both, strict=True))
    values = (
        list(columns.names),
        columns.share.tolist(),
        columns.spread.tolist(),
        list(columns.sites),
        posterior.coefficients.tolist(),
        posterior.held.tolist(),
        posterior.scale.tolist(),
        posterior.laplace.tolist(),
        posterior.sandwich.tolist(),
        float(posterior.events),
        float(posterior.expected),
        int(posterior.n_steps),
        bool(posterior.converged),
    )
    return dict(zip(NAMES, values, strict=True)) | of_others


def learned_from_plain(mode: str, where: str, found: object) -> LearnedMode | None:
    """Turn plain data back into what was learned of a failure, after looking at all of it.

    Parameters
    ----------
    mode : str
        The failure.
    where : str
        Where it stands, as a person finds it.
    found : object
        From a file that anybody may have written.

    Returns
    -------
    LearnedMode or None

    Raises
    ------
    FixableError
        If an entry is missing, unknown, of the wrong kind, shape or range; if the columns or
        their scales are not those of this handbook; if a coefficient lies below its bound; if a
        matrix is no covariance.
    """
    if mode not in MODES:
        raise FixableError(f"{where}: {mode!r} is given; right is one of {', '.join(MODES)}")
    if found is None:
        return None
    of_others = OF_OTHERS if isinstance(found, dict) and set(OF_OTHERS) & set(found) else ()
    entries = Entries(where, found, (*NAMES, *of_others))
    columns = _columns(mode, entries)
    return LearnedMode(columns, _posterior(columns, entries))


def _columns(mode: str, entries: Entries) -> Covariates:
    size = (len(PLAIN_STATES),)
    share = entries.numbers("share", size, 0.0, 1.0)
    spread = entries.numbers("spread", size, 0.0, 1.0)
    if (hair := (spread > 0) & (spread < LEAST_SPREAD)).any():
        refuse(entries.at("spread"), float(spread[hair][0]), f"0, or at least {LEAST_SPREAD:g}")
    sites = entries.texts("sites")
    of_others = OF_OTHERS[0] in entries.found
    if not (sites or of_others) or list(sites) != sorted(set(sites)):
        refuse(entries.at("sites"), list(sites), "at least one site, each once, sorted")
    columns = Covariates(mode, share, spread, sites)
    if of_others:
        columns = replace(columns, prior=_prior(columns, entries))
    if (names := entries.texts("columns")) != columns.names:
        other = next((n for n in names if n not in columns.names), list(names))
        refuse(entries.at("columns"), other, f"{', '.join(columns.names[:2])} and so forth")
    return columns


def _prior(columns: Covariates, entries: Entries) -> ColumnPrior:
    size, floor = int(columns.passes.sum()), columns.floor[columns.passes]
    mean = entries.numbers(OF_OTHERS[0], (size,), -MOST_LOG, MOST_LOG)
    if (below := mean < floor).any():
        first = int(np.argmax(below))
        refuse(entries.at(OF_OTHERS[0]), float(mean[first]), f"at least its bound {floor[first]:g}")
    return ColumnPrior(mean, covariance_in(entries, OF_OTHERS[1], size, least=LEAST_VARIANCE))


def _posterior(columns: Covariates, entries: Entries) -> Posterior:
    size = len(columns.names)
    scale = entries.numbers("scale", (size,))
    if (scale <= 0).any():
        refuse(entries.at("scale"), float(scale[scale <= 0][0]), "above 0, for it is a deviation")
    if not np.allclose(scale, columns.scale, rtol=ROUNDING, atol=0):
        other = int(np.argmax(np.abs(scale / columns.scale - 1)))
        refuse(entries.at("scale"), float(scale[other]), f"{columns.scale[other]:g}, the prior's")
    coefficients = entries.numbers("coefficients", (size,), -MOST_LOG, MOST_LOG)
    held = entries.flags("held", size)
    floor = columns.floor
    below = (coefficients < floor - ROUNDING) | (held & (coefficients != floor))
    if below.any():
        first = int(np.argmax(below))
        right = f"at its bound {floor[first]:g} where held, above it elsewhere"
        refuse(entries.at("coefficients"), float(coefficients[first]), right)
    return Posterior(
        coefficients=coefficients,
        held=held,
        scale=scale,
        laplace=covariance_in(entries, "laplace", size),
        sandwich=covariance_in(entries, "sandwich", size),
        events=entries.number("events", 0.0),
        expected=entries.number("expected", 0.0),
        n_steps=entries.whole("n_steps", 1 if columns.prior is None else 0),
        converged=entries.flag("converged"),
        before=columns.before,
    )


def covariance_in(
    entries: Entries, name: str, size: int, *, least: float = 0.0, most: float = MOST_VARIANCE
) -> Floats:
    """Return a matrix that is symmetric and gives no sum of columns a variance below 0.

    Parameters
    ----------
    entries : Entries
        What it is part of.
    name : str
        The entry.
    size : int
        How many rows and columns it must have.
    least : float
        Least variance of any sum of columns whose squares add up to 1. [-]
    most : float
        Largest size of a number in it. [-]

    Returns
    -------
    ndarray, shape (size, size)

    Raises
    ------
    FixableError
        If it is anything else.
    """
    found = entries.numbers(name, (size, size), -most, most)
    room = ROUNDING * float(np.abs(found).max())
    off = np.abs(found - found.T)
    if off.max() > room:
        row, column = (int(place) for place in np.unravel_index(int(off.argmax()), off.shape))
        given = [float(found[row, column]), float(found[column, row])]
        what = f"{entries.at(name)}, row {row + 1}, column {column + 1} and the other way round"
        refuse(what, given, "twice the same, for a covariance is symmetric")
    with threadpool_limits(limits=1, user_api="blas"):
        lowest = float(np.linalg.eigvalsh((found + found.T) / 2)[0])
    if lowest < (least or -room):
        right = f"a covariance, whose least eigenvalue is not below {least:g}"
        refuse(entries.at(name), lowest, right)
    return found
