"""Rows to learn from, laid out for pieces of a fleet, as those of the whole."""

from collections.abc import Sequence
from dataclasses import fields, replace

import numpy as np

from scoring.contract.events import MODES
from scoring.learning.covariates import State
from scoring.learning.failure_rows import FailureRows, RowsOfMode


def rows_together(pieces: Sequence[FailureRows], units: Sequence[int]) -> FailureRows:
    """Put the rows of pieces below each other.

    Parameters
    ----------
    pieces : sequence of FailureRows
        At least one, all of the same days.
    units : sequence of int
        How many units each piece has, out of service or not.

    Returns
    -------
    FailureRows
        Units are counted through, in the order of the pieces.
    """
    before = np.concatenate([[0], np.cumsum(units)[:-1]])
    return replace(
        pieces[0],
        place=np.concatenate([p.place + n for p, n in zip(pieces, before, strict=True)]),
        start_on=np.concatenate([piece.start_on for piece in pieces]),
        stop_on=np.concatenate([piece.stop_on for piece in pieces]),
        period=np.concatenate([piece.period for piece in pieces]),
        modes={mode: _of_mode([piece.modes[mode] for piece in pieces]) for mode in MODES},
    )


def _of_mode(pieces: list[RowsOfMode]) -> RowsOfMode:
    parts = {
        part.name: np.concatenate([getattr(piece, part.name) for piece in pieces])
        for part in fields(RowsOfMode)
        if part.name != "state"
    }
    return RowsOfMode(state=_states([piece.state for piece in pieces]), **parts)


def _states(pieces: list[State]) -> State:
    sites = tuple(sorted({site for piece in pieces for site in piece.sites}))
    place = {site: number for number, site in enumerate(sites)}
    parts = {
        part.name: np.concatenate([getattr(piece, part.name) for piece in pieces])
        for part in fields(State)
        if part.name not in {"site", "sites", "unit"}
    }
    units = np.cumsum([0, *(len(piece.nameplates) for piece in pieces[:-1])])
    unit = [piece.unit + before for piece, before in zip(pieces, units, strict=True)]
    codes = [
        np.array([place[site] for site in piece.sites], dtype=np.int64)[piece.site]
        for piece in pieces
    ]
    return State(site=np.concatenate(codes), sites=sites, unit=np.concatenate(unit), **parts)
