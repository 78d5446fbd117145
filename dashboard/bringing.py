"""Records that a person is bringing in: files, queries, plan, answers, cells put right.

All of it is one session's own, and nothing is written before the person takes it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import pandas as pd
import streamlit as st

from dashboard import launch_settings
from scoring.access.acts import Act
from scoring.access.who_asks import require
from scoring.entering.load_filled_forms import load_with_filled_forms
from scoring.errors import FaultyRecordsError, FixableError, UnreadableFleetError
from scoring.files.database_file import (
    ADDRESS_OF_A_FILE,
    DATABASE_ENDINGS,
    TableThere,
    ask_database_file,
    tables_of_database,
    whole_table,
)
from scoring.files.dropped_files import grids_of_files, names_apart, plan_among, require_bounded
from scoring.files.query_answer import Bounds
from scoring.files.query_grid import read_query_grid
from scoring.files.read_fleet import FoundFleet
from scoring.files.rows_of_all_plants import plants_together
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
from scoring.reading_plan.what_a_plan_says import Query
from scoring.store.load_records import Incoming, Loaded
from scoring.store.stored_records import StoredRecords

__all__ = [
    "CheckedFleet",
    "FaultyRows",
    "Place",
    "PlannedColumn",
    "PlannedTable",
    "TableThere",
    "names_apart",
    "whole_table",
]

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
    plants : dict of str to str
        Whose records a file or an answer holds, where they are of several plants.
    turn : int
        Another one after every change.
    """

    files: dict[str, bytes] = field(default_factory=dict)
    told: dict[str, str] = field(default_factory=dict)
    mends: dict[str, dict[Place, dict[str, str]]] = field(default_factory=dict)
    plants: dict[str, str] = field(default_factory=dict)
    turn: int = 0
    _grids: list[Grid] = field(default_factory=list)
    _answers: dict[str, Grid] = field(default_factory=dict)
    _databases: dict[str, list[TableThere]] = field(default_factory=dict)
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
        databases = {
            name: tables_of_database(name, data)
            for name, data in files.items()
            if name.lower().endswith(DATABASE_ENDINGS)
        }
        base = plan_among(files)
        asked = {one.name: one for one in (*self._base.queries, *base.queries)}
        answers = {name: self._answers[name] for name in asked if name in self._answers}
        for name, query in asked.items():
            inside = _file_asked(query)
            if inside in files:
                answers[name] = ask_database_file(query, files[inside])
            elif inside in self.files:
                answers.pop(name, None)
        known = {*base.queries, *(asked[name] for name in answers)}
        base = replace(base, queries=tuple(one for one in asked.values() if one in known))
        grids = [*grids_of_files(files, base), *answers.values()]
        plan = _proposed(grids, base, {})
        kept = {key: said for key, said in self.told.items() if _fits(plan, key, said)}
        self.files, self._answers, self._databases = dict(files), answers, databases
        self._begin_anew(grids, base, kept)

    def ask(self, query: Query, password: str = "") -> None:
        """Ask a database, and bring in its answer.

        Parameters
        ----------
        query : Query
            Of a database that was dropped, or of one that the command line lets people ask.
        password : str
            Used for this one question, and kept nowhere.

        Raises
        ------
        FixableError
            If it does not answer; then all is as it was before.
        """
        if query.name in self.files:
            raise FixableError(
                f"a file is called {query.name} already; give the answer another name"
            )
        inside = _file_asked(query)
        if inside in self.files:
            grid = ask_database_file(query, self.files[inside])
        elif launch_settings.may_ask_databases():
            grid = read_query_grid(query, password=password, bounds=Bounds())
        else:
            raise FixableError(
                "these pages may not ask a database by its address; start them with "
                "--ask-databases, or drop the file of a database"
            )
        self._with_answers(
            {**self._answers, query.name: grid},
            (*(one for one in self._base.queries if one.name != query.name), query),
        )

    def leave_answer(self, name: str) -> None:
        """Leave the answer to a query out again."""
        self._with_answers(
            {one: grid for one, grid in self._answers.items() if one != name},
            tuple(one for one in self._base.queries if one.name != name),
        )

    def _with_answers(self, answers: dict[str, Grid], queries: tuple[Query, ...]) -> None:
        base = replace(self._base, queries=queries)
        files = [grid for grid in self._grids if grid.file not in self._answers]
        grids = [*files, *answers.values()]
        plan = _proposed(grids, base, {})
        kept = {key: said for key, said in self.told.items() if _fits(plan, key, said)}
        self._answers = answers
        self._begin_anew(grids, base, kept)

    def _begin_anew(self, grids: list[Grid], base: Plan, told: dict[str, str]) -> None:
        self._grids = [self._in_plant(grid) for grid in grids]
        self._base, self.told, self.mends, self._mapping = base, told, {}, {}
        self._plan = _proposed(self._grids, base, told)
        self._found = None
        self._changed()

    def of_plants(self, plants: Mapping[str, str]) -> None:
        """Say whose records each file holds; with no name for it, its ids stay as they are."""
        self.plants = {name: plant.strip() for name, plant in plants.items() if plant.strip()}
        self._begin_anew(self._grids, self._base, self.told)

    def _in_plant(self, grid: Grid) -> Grid:
        return replace(grid, folder=self.plants.get(grid.file, ""))

    def take_up(self, found: FoundFleet, mapping: Mapping[str, Mapping[str, str]]) -> None:
        """Take up the records that the command line named."""
        self.files, self.told, self.mends, self.plants = {}, {}, {}, {}
        self._grids, self._answers, self._databases = [], {}, {}
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
        return bool(self.files) or bool(self._grids) or self._found is not None

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

    @property
    def databases(self) -> dict[str, list[TableThere]]:
        """The databases among the files, and the tables that each holds."""
        return self._databases

    @property
    def answered(self) -> dict[str, Query]:
        """The queries whose answers are brought in, by name."""
        return {one.name: one for one in self._base.queries if one.name in self._answers}

    @property
    def to_ask_again(self) -> list[Query]:
        """The queries of the plan whose database was not asked yet."""
        return [one for one in self._base.queries if one.name not in self._answers]

    def parts(self) -> dict[str, int]:
        """Return the files and answers that hold records, each with its number of rows."""
        found: dict[str, int] = {}
        for grid in self._grids:
            found[grid.file] = found.get(grid.file, 0) + len(grid.rows)
        return found

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

        asker = require(Act.BRING)
        incoming = Incoming(self._mended, source, self._mapping, {})
        return load_with_filled_forms(store, incoming, {}, actor=asker.name or by, allow=allow)

    def _read(self) -> FoundFleet | None:
        if self._found is None and self._grids and not self.open_questions():
            found = [(plant, self._read_plant(plant)) for plant in self._plants_there()]
            together = plants_together([one for one in found if one[1].tables] or found)
            if not together.tables:
                raise UnreadableFleetError(
                    "no table is read from these files; say below what each of them is"
                )
            self._found = together
        return self._found

    def _plants_there(self) -> list[str]:
        return list(dict.fromkeys(grid.folder for grid in self._grids))

    def _read_plant(self, plant: str) -> FoundFleet:
        read = read_by_plan(self._plan, [one for one in self._grids if one.folder == plant])
        left = tuple(f"{one.name}: left aside, nothing in it is read" for one in read.unread)
        return FoundFleet(read.tables, (*read.notes, *left))

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


def _file_asked(query: Query) -> str:
    """Return the name of the dropped file that a query is about, if it is about one."""
    place = query.database.removeprefix(ADDRESS_OF_A_FILE)
    return "" if place == query.database else place.replace("\\", "/").rpartition("/")[2]


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
