"""Rows of failures taken apart and put together again, for tests of what they teach."""

from dataclasses import fields, replace

import numpy as np

from scoring.learning.failure_rows import FailureRows, RowsOfMode


class OwnAsGiven(RowsOfMode):
    """Rows that hold on to the own failures they were given."""

    def state_by(self, place, by):
        del place, by
        return self.state


def own_as_given(rows: FailureRows) -> FailureRows:
    modes = {}
    for mode, one in rows.modes.items():
        parts = {part.name: getattr(one, part.name) for part in fields(one)}
        modes[mode] = OwnAsGiven(**{**parts, "state": one.state_by(rows.place, -1)})
    return replace(rows, modes=modes)


def taken(rows: FailureRows, some: np.ndarray) -> FailureRows:
    """Return some of the rows, or all in another order."""

    def of_mode(one: RowsOfMode) -> RowsOfMode:
        columns = {
            part.name: getattr(one, part.name)[some] for part in fields(one) if part.name != "state"
        }
        return replace(one, state=one.state.where(some), **columns)

    columns = ("place", "start_on", "stop_on", "period")
    return replace(
        rows,
        modes={mode: of_mode(one) for mode, one in rows.modes.items()},
        **{name: getattr(rows, name)[some] for name in columns},
    )
