"""Records that a person is bringing in: files, plan, answers, cells that were put right.

All of it is one session's own, and nothing is written before the person takes it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import pandas as pd
import streamlit as st

from dashboard import launch_settings
from scoring.entering.load_filled_forms import load_with_filled_forms
from scoring.errors import FaultyRecordsError, FixableError, UnreadableFleetError
from scoring.files.dropped_files import grids_of_files, plan_among, require_bounded
from scoring.files.read_fleet import FoundFleet
from scoring.files.write_rejected_rows import rejected_as_zip
from scoring.intake import CheckedFleet, RawTable, check_fleet
from scoring.intake.mend_cells import FaultyRows, Place, faulty_rows, with_mends
from scoring.reading_plan import (
    Grid,
    Plan,
    PlannedColumn,
    PlannedTable,
    Question,
    answer,
    open_questions,
    plan_as_toml,
    propose,
    read_by_plan,
)
from scoring.store.load_records import Incoming, Loaded
from scoring.store.stored_records import StoredRecords

__all__ = ["CheckedFleet", "FaultyRows", "Place", "PlannedColumn", "PlannedTable"]

KEPT = "records that are being brought in"


@dataclass
class Bringing:
    """What a person is bringing in.

    Attributes
    ----------
    files : dict of str to bytes
        As dropped, by name; empty where the records are those that the command line named.
    told : dict of str to str
        Answers and corrections, by their keys.
    mends : dict
        Cells that were put right, by table, row and heading.
    turn : int
        Another one after every change.
    """

    files: dict[str, bytes] = field(default_factory=dict)
    told: dict[str, str] = field(default_factory=dict)
    mends: dict[str, dict[Place, dict[str, str]]] = field(default_factory=dict)
    turn: int = 0
    _grids: list[Grid] = field(default_factory=list)
    _base: Plan = field(default_factory=Plan)
    _plan: Plan = field(default_factory=Plan)
    _found: FoundFleet | None = None
    _mapping: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    _checked: CheckedFleet | None = None
    _mended: dict[str, RawTable] = field(default_factory=dict)

    def drop(self, files: Mapping[str, bytes]) -> None:
        """Take files in the place of those before; answers stay, what was put right does not.

        Raises
        ------
        FixableError
            If one cannot be read; then all is as it was before.
        """
        base = plan_among(files)
        grids = grids_of_files(files, base)
        plan = _proposed(grids, base, {})
        kept = {key: said for key, said in self.told.items() if _fits(plan, key, said)}
        self.files, self._grids, self._base = dict(files), grids, base
        self.told, self.mends, self._mapping = kept, {}, {}
        self._plan = _proposed(grids, base, kept)
        self._found = None
        self._changed()

    def take_up(self, found: FoundFleet, mapping: Mapping[str, Mapping[str, str]]) -> None:
        """Take up the records that the command line named."""
        self.files, self.told, self.mends, self._grids = {}, {}, {}, []
        self._base = self._plan = Plan()
        self._found, self._mapping = found, mapping
        self._changed()

    def tell(self, key: str, said: str) -> None:
        """Answer a question, or correct a proposal.

        Raises
        ------
        FixableError
            If it is no answer; then all is as it was before.
        """
        self._told(key, said)
        self._changed()

    def put_right(self, table: str, mends: Mapping[Place, Mapping[str, str]]) -> None:
        """Put cells of faulty rows right."""
        of_table = self.mends.setdefault(table, {})
        for place, said in mends.items():
            of_table.setdefault(place, {}).update(said)
        self._changed()

    @property
    def is_there(self) -> bool:
        """Whether there is anything."""
        return bool(self._grids) or self._found is not None

    @property
    def is_by_plan(self) -> bool:
        """Whether a plan reads it."""
        return bool(self._grids)

    @property
    def plan(self) -> Plan:
        """The reading plan, as answered so far."""
        return self._plan

    @property
    def grids(self) -> list[Grid]:
        """The tables as they were dropped."""
        return self._grids

    def open_questions(self) -> tuple[Question, ...]:
        """Return what is asked and not answered."""
        return open_questions(self._plan)

    def notes(self) -> tuple[str, ...]:
        """Return what a person should know of the reading."""
        checked = self.checked()
        return (
            () if checked is None or self._found is None else (*self._found.notes, *checked.notes)
        )

    def checked(self) -> CheckedFleet | None:
        """Return what checking found, beside the store where there is one.

        Returns
        -------
        CheckedFleet or None
            None while a question is open, or nothing is there.

        Raises
        ------
        FixableError
            If the records cannot be read.
        """
        found = self._read()
        if found is None:
            return None
        if self._checked is None:
            self._mended = with_mends(found.tables, self.mends)
            self._checked = _checked_beside_store(self._mended, self._mapping)
        return self._checked

    def faulty(self) -> list[FaultyRows]:
        """Return the faulty rows of each table that has any that can be put right by hand."""
        checked = self.checked()
        if checked is None:
            return []
        found = (faulty_rows(raw, checked) for raw in self._mended.values())
        return [one for one in found if one is not None]

    def rows_read(self) -> int:
        """Count the rows that were read, of all tables."""
        return sum(len(raw.rows) + len(raw.ragged) for raw in self._mended.values())

    def rejects(self) -> bytes:
        """Return the rejected rows as a file."""
        checked = self.checked()
        return rejected_as_zip(checked.rejected if checked else {})

    def plan_text(self) -> str:
        """Return the plan as its file."""
        return plan_as_toml(self._plan)

    def load(self, by: str, *, keep_good: bool) -> Loaded:
        """Put it into the store behind the pages: all, the good rows, or nothing.

        Raises
        ------
        FixableError
            If it cannot be put there, in words; nothing was changed then.
        """
        store = launch_settings.store()
        if store is None or self._read() is None:
            raise FixableError("there is no store behind these pages")
        self.checked()
        source = ", ".join(self.files) or "records"

        def allow(checked: CheckedFleet) -> None:
            if checked.unusable or (checked.how_many_faults and not keep_good):
                raise FaultyRecordsError(
                    f"{checked.how_many_faults} faults; nothing was taken in. Put them right, or "
                    "take the good rows"
                )

        incoming = Incoming(self._mended, source, self._mapping, {})
        return load_with_filled_forms(store, incoming, {}, actor=by, allow=allow)

    def _read(self) -> FoundFleet | None:
        if self._found is None and self._grids and not self.open_questions():
            read = read_by_plan(self._plan, self._grids)
            left = tuple(f"{one.name}: left aside, nothing in it is read" for one in read.unread)
            if not read.tables:
                raise UnreadableFleetError(
                    "no table is read from these files; say below what each of them is"
                )
            self._found = FoundFleet(read.tables, (*read.notes, *left))
        return self._found

    def _told(self, key: str, said: str) -> None:
        told = {**{k: v for k, v in self.told.items() if k != key}, key: said}
        self._plan = _proposed(self._grids, self._base, told)
        self.told = told
        self._found = None

    def _changed(self) -> None:
        self._checked = None
        self.turn += 1


def current() -> Bringing:
    """Return what this session is bringing in."""
    if KEPT not in st.session_state:
        st.session_state[KEPT] = Bringing()
    kept: Bringing = st.session_state[KEPT]
    return kept


def take_up_named(bringing: Bringing) -> None:
    """Take up the records that the command line named, where files were named.

    Raises
    ------
    FixableError
        If they cannot be read.
    """
    if launch_settings.is_named() and launch_settings.store() is None:
        bringing.take_up(*launch_settings.read_named())


def forget() -> None:
    """Begin anew."""
    st.session_state.pop(KEPT, None)


def refuse_too_many(sizes: list[tuple[str, int]]) -> None:
    """Refuse files before they are read.

    Raises
    ------
    FixableError
        With what is allowed.
    """
    require_bounded(sizes)


def _proposed(grids: list[Grid], base: Plan, told: Mapping[str, str]) -> Plan:
    """Propose a plan with what was told; what no longer fits is left out, but for the newest."""
    plan = propose(grids, base, told)
    for key, said in told.items():
        try:
            plan = answer(plan, {key: said})
        except FixableError:
            if key == list(told)[-1]:
                raise
    return plan


def _fits(plan: Plan, key: str, said: str) -> bool:
    try:
        answer(plan, {key: said})
    except FixableError:
        return False
    return True


def _checked_beside_store(
    tables: Mapping[str, RawTable], mapping: Mapping[str, Mapping[str, str]]
) -> CheckedFleet:
    today, store = pd.Timestamp.today(), launch_settings.store()
    if store is None:
        if "units" not in tables:
            raise UnreadableFleetError(
                "no table gives the units, and there is nothing to rank without them; drop the "
                "list of units too, or say below which table holds them"
            )
        return check_fleet(tables, today, mapping)
    with store.reading() as connection:
        return check_fleet(tables, today, mapping, StoredRecords(connection, store.name))
