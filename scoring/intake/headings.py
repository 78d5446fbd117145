"""Which heading stands for which column of the contract, and in which unit."""

from collections import Counter
from dataclasses import dataclass, field
from difflib import get_close_matches

from scoring.contract import Column, Kind, Table
from scoring.contract.quantities import Conversion, alternative_names, ambiguous_names
from scoring.intake.faults import Faults
from scoring.intake.look_alike_texts import foreign_in, looks_like, named, unseen_in


@dataclass(frozen=True)
class Source:
    """A heading that fills a column of the contract.

    Attributes
    ----------
    place : int
        Which of the table's headings.
    heading : str
        As found.
    conversion : Conversion or None
        How its unit becomes the contract's.
    """

    place: int
    heading: str
    conversion: Conversion | None = None

    def unit_of(self, column: Column) -> str:
        """Return the unit of the values as given."""
        return self.conversion.unit if self.conversion else column.unit


@dataclass
class Headings:
    """How the headings of one table are understood.

    Attributes
    ----------
    sources : dict of str to list of Source
        For each column of the contract, the headings that fill it.
    aside : list of str
        Headings that the contract does not know; kept aside.
    """

    sources: dict[str, list[Source]] = field(default_factory=dict)
    aside: list[str] = field(default_factory=list)

    def kinds(self, table: Table) -> dict[str, Kind]:
        """Return for each heading that fills a column what kind its cells are."""
        return {s.heading: table[name].kind for name, many in self.sources.items() for s in many}


def understand_headings(
    found: tuple[str, ...], table: Table, mapping: dict[str, str], faults: Faults
) -> Headings:
    """Understand the headings of a table.

    Parameters
    ----------
    found : tuple of str
        Headings as found.
    table : Table
        The table of the contract.
    mapping : dict of str to str
        A plant's own headings and the columns they stand for; empty for *leave aside*.
    faults : Faults
        Where doubles, ambiguous units and missing columns are added.

    Returns
    -------
    Headings
    """
    meaning = _meanings(table)
    ambiguous = {n: a for c in table.columns for n, a in ambiguous_names(c.name).items()}
    understood = Headings()
    for place, heading in enumerate(found):
        name = mapping.get(heading, heading)
        if name in meaning:
            column_name, conversion = meaning[name]
            source = Source(place, heading, conversion)
            understood.sources.setdefault(column_name, []).append(source)
        elif name in ambiguous:
            faults.add_one(1, heading, heading, "leaves its unit open", ambiguous[name])
        elif heading:
            understood.aside.append(heading)
            if heading not in mapping and looks_like(heading) in meaning:
                seen = unseen_in(heading)
                strange = named(seen) if seen else foreign_in(heading)
                faults.add_one(
                    1,
                    heading,
                    heading,
                    f"looks like {looks_like(heading)} and is not: it has {strange}",
                    f"the heading typed anew: {looks_like(heading)}",
                )
    faults.heading_of = {name: many[0].heading for name, many in understood.sources.items()}
    _fault_doubles(found, faults)
    _fault_shared(table, understood, faults)
    _fault_missing(table, understood, faults)
    return understood


def _meanings(table: Table) -> dict[str, tuple[str, Conversion | None]]:
    """Return for every heading of the contract its column and conversion."""
    meaning: dict[str, tuple[str, Conversion | None]] = {
        c.name: (c.name, None) for c in table.columns
    }
    for column in table.columns:
        for name, conversion in alternative_names(column.name).items():
            meaning.setdefault(name, (column.name, conversion))
    return meaning


def _fault_doubles(found: tuple[str, ...], faults: Faults) -> None:
    for heading, count in Counter(found).items():
        if count > 1 and heading:
            faults.add_one(
                1, heading, heading, f"stands {count} times among the headings", "each heading once"
            )


def _fault_shared(table: Table, understood: Headings, faults: Faults) -> None:
    """Two headings may fill one column only where their values can be compared as numbers."""
    for name, sources in understood.sources.items():
        headings = list(dict.fromkeys(source.heading for source in sources))
        if len(headings) > 1 and not table[name].is_numeric:
            faults.add_one(
                1,
                headings[1],
                headings[1],
                f"fills the column {name}, as {headings[0]} does",
                f"one heading for {name}; set the other aside in the file of headings",
            )


def _fault_missing(table: Table, understood: Headings, faults: Faults) -> None:
    for name in table.required:
        if name not in understood.sources:
            by_lower_case = {heading.lower(): heading for heading in understood.aside}
            near = get_close_matches(name, list(by_lower_case), n=1, cutoff=0.6)
            hint = f"; is it {by_lower_case[near[0]]!r}?" if near else ""
            faults.add_one(
                1,
                name,
                "",
                f"this column is missing{hint}",
                f"a column {name}: {table[name].meaning}; or map your own headings: "
                "mount-risk headings FLEET",
            )


def known_names(table: Table) -> dict[str, str]:
    """Return every heading that fills a column of the table, with what the column means.

    Examples
    --------
    >>> from scoring.contract import UNITS
    >>> known_names(UNITS)["shaft_diameter_in"]
    'nominal diameter of the driven shaft, in in'
    """
    names = {column.name: column.meaning for column in table.columns}
    for column in table.columns:
        for name, conversion in alternative_names(column.name).items():
            names.setdefault(name, f"{column.meaning}, in {conversion.unit}")
    return names
