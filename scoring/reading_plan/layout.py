"""Where in a grid the headings stand, over how many rows, and which rows are no records."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.dates_written import looks_like_date
from scoring.reading_plan.grid import Grid
from scoring.reading_plan.heading_matches import is_known_heading, matches_of
from scoring.reading_plan.numbers_written import looks_like_number
from scoring.reading_plan.tidy_text import tidy
from scoring.reading_plan.units_of_measure import unit_called

DEEPEST_HEADINGS = 60
"""Headings are looked for in so many rows; planning value of ours."""

KNOWN_HEADING = 85.0
"""A cell this much alike one of our lists counts as a heading; planning value of ours. [%]"""

FEWEST_GROUPS = 3
"""Fewer names above the headings, where no cells are merged, are a note; planning value of ours."""

SAME_ROW = 0.7
"""A row that repeats this share of the headings repeats them; planning value of ours."""


@dataclass(frozen=True)
class Layout:
    """Where the parts of a grid are.

    Attributes
    ----------
    first : int
        Place among the grid's rows at which the headings begin.
    heading_rows : int
        Over how many rows they stand.
    units : int
        Place of the row of units below them, -1: none.
    headings : tuple of str
        One for each column, each another; empty where a column has neither heading nor cells.
    """

    first: int
    heading_rows: int
    units: int
    headings: tuple[str, ...]

    @property
    def body(self) -> int:
        """Place of the first row below the headings."""
        return max(self.first + self.heading_rows, self.units + 1)


def find_layout(grid: Grid) -> Layout | None:
    """Find the headings of a grid; None where there are none.

    Examples
    --------
    >>> rows = [["Plant list 2025"], [""], ["Tag", "Shaft dia"], ["", "mm"], ["C-1", "80"]]
    >>> found = find_layout(Grid.from_rows("a.csv", "", rows))
    >>> found.first, found.units, found.headings, found.body
    (2, 3, ('Tag', 'Shaft dia'), 4)
    """
    depth = min(len(grid.rows), DEEPEST_HEADINGS)
    scores = [_like_headings(grid.row_texts(place)) for place in range(depth)]
    if not scores or max(scores) <= 0:
        return None
    best = int(np.argmax(scores))
    first, count = _spread(grid, best)
    return layout_at(grid, first, count)


def layout_at(grid: Grid, first: int, heading_rows: int) -> Layout:
    """Return the layout of a grid whose headings are known to begin at some row."""
    units = first + heading_rows
    if not (units < len(grid.rows) and _is_units(grid.row_texts(units))):
        units = -1
    headings = _unique(_joined(grid, first, heading_rows))
    body = max(first + heading_rows, units + 1)
    named = tuple(
        heading or (f"column {_letters(place)}" if _any_filled(grid.columns[place], body) else "")
        for place, heading in enumerate(headings)
    )
    return Layout(first, heading_rows, units, named)


def _like_headings(cells: list[str]) -> float:
    filled = [cell for cell in cells if cell]
    if len(filled) < 2:
        return 0.0
    score = 0.0
    for cell in filled:
        if looks_like_number(cell) or looks_like_date(cell):
            score -= 0.5
        elif len(cell) <= 80 and is_known_heading(cell, KNOWN_HEADING):
            score += 1.0
        else:
            score += 0.1
    return score


def _spread(grid: Grid, best: int) -> tuple[int, int]:
    """Return where headings begin and over how many rows they stand, the best row among them."""
    here = grid.row_texts(best)
    below = grid.row_texts(best + 1) if best + 1 < len(grid.rows) else [""] * len(here)
    above = grid.row_texts(best - 1) if best else [""] * len(here)
    # A heading that spans two rows leaves its place in one of them empty.
    gaps = [place for place, cell in enumerate(here) if not cell]
    if any(above[place] for place in gaps) and sum(map(bool, above)) >= 2 and _all_words(above):
        return best - 1, 2
    spanning = [place for place, cell in enumerate(here) if cell and not below[place]]
    if spanning and sum(map(bool, below)) >= 2 and _all_words(below) and not _is_units(below):
        known = sum(1 for c in below if c and matches_of(c)[:1])
        if known * 2 >= sum(map(bool, below)) and _under_groups(grid, best, here, below):
            return best, 2
    if _groups_above(grid, best, above, here):
        return best - 1, 2
    return best, 1


def _under_groups(grid: Grid, best: int, here: list[str], below: list[str]) -> bool:
    row = int(grid.rows[best])
    if any(top <= row < bottom for top, _, bottom, _ in grid.merged):
        return True
    return any(cell and not here[place] for place, cell in enumerate(below))


def _groups_above(grid: Grid, best: int, above: list[str], here: list[str]) -> bool:
    """Whether the row above names groups of columns, in merged cells or at their first column."""
    if not best or sum(map(bool, above)) < 1 or not _all_words(above):
        return False
    row = int(grid.rows[best - 1])
    wide = [
        right for top, left, bottom, right in grid.merged if top == bottom == row and right > left
    ]
    whole = len([cell for cell in here if cell])
    if not grid.merged:
        named = [place for place, cell in enumerate(above) if cell]
        over = all(here[place] for place in named)
        return len(named) >= FEWEST_GROUPS and over and len(named) * 2 <= whole
    return bool(wide) and sum(map(bool, above)) >= 2 and sum(map(bool, above)) < whole


def _all_words(cells: list[str]) -> bool:
    return not any(looks_like_number(cell) or looks_like_date(cell) for cell in cells if cell)


def _is_units(cells: list[str]) -> bool:
    filled = [cell for cell in cells if cell and cell not in {"-", "–", "—"}]
    units = [cell for cell in filled if unit_called(cell)]
    return bool(units) and len(units) >= 0.6 * len(filled) and not any(c.isdigit() for c in filled)


def _joined(grid: Grid, first: int, count: int) -> list[str]:
    """Return the headings, those over two rows with the name of their group before them."""
    rows = [[" ".join(c.split()) for c in grid.row_texts(first + i)] for i in range(count)]
    if count == 1:
        return rows[0]
    above, below = rows[0], rows[-1]
    group, joined = "", []
    for place, (top, bottom) in enumerate(zip(above, below, strict=True)):
        alone = bool(top) and not bottom
        group = top or (group if _same_group(grid, first, place) else "")
        if alone:
            group = ""
        joined.append(top if alone else (f"{group} / {bottom}" if group and bottom else bottom))
    return joined


def _same_group(grid: Grid, first: int, place: int) -> bool:
    """Whether a column stands under the group of the one before it."""
    row = int(grid.rows[first])
    areas = [area for area in grid.merged if area[0] <= row <= area[2]]
    if not areas:
        return True
    return any(left <= place + 1 <= right for _, left, _, right in areas)


def _unique(headings: list[str]) -> list[str]:
    seen: dict[str, int] = {}
    named = []
    for heading in headings:
        seen[heading] = seen.get(heading, 0) + 1
        again = heading and seen[heading] > 1
        named.append(f"{heading} ({seen[heading]})" if again else heading)
    return named


def _any_filled(column: Any, body: int) -> bool:  # noqa: ANN401 - pyarrow ships no types
    return any(str(text).strip() for text in column.slice(body).to_pylist())


def _letters(place: int) -> str:
    """Return how a spreadsheet names a column.

    Examples
    --------
    >>> _letters(0), _letters(27)
    ('A', 'AB')
    """
    letters = ""
    number = place + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def no_records(
    grid: Grid, layout: Layout, key_place: int | None, begins_with: tuple[str, ...]
) -> NDArray[np.bool_]:
    """Tell which rows of a grid are no records: headings and above, blank, totals, notes.

    Parameters
    ----------
    grid : Grid
        The cells.
    layout : Layout
        Where the headings are.
    key_place : int or None
        The column that names the unit.
    begins_with : tuple of str
        How the first filled cell of a row begins that is no record.

    Returns
    -------
    ndarray of bool, shape (n_rows,)
    """
    filled = grid.filled()
    out = np.arange(len(grid.rows)) < layout.body
    out |= filled == 0
    # Few rows are thin, or begin like a total or a heading: only these are looked at one by one.
    wide = sum(map(bool, layout.headings)) > 1
    thin = (filled <= 1) & wide
    if key_place is not None and (~out).any():
        blank_key = np.array([not str(t).strip() for t in grid.columns[key_place].to_pylist()])
        usual = float(np.median(filled[~out]))
        thin |= blank_key & (filled <= max(1, int(0.34 * usual)))
    out |= thin
    firsts = first_texts(grid)
    starts = tuple(begin.strip().lower() for begin in begins_with if begin.strip())
    if starts:
        out |= np.array([text.lower().startswith(starts) for text in firsts])
    known = {heading for heading in layout.headings if heading}
    tops = set(grid.row_texts(layout.first)) - {""}
    may_repeat = np.array([text in tops for text in firsts], dtype=bool) & ~out
    for place in np.flatnonzero(may_repeat):
        cells = [" ".join(c.split()) for c in grid.row_texts(int(place)) if c]
        same = sum(1 for cell in cells if cell in known or cell in tops)
        out[place] = same >= SAME_ROW * len(cells)
    return out


def first_texts(grid: Grid) -> list[str]:
    """Return the first filled cell of each row."""
    firsts = pa.array([""] * len(grid.rows), pa.string())
    for column in reversed(grid.columns):
        plain = pc.utf8_trim_whitespace(column)
        firsts = pc.if_else(pc.equal(plain, ""), firsts, plain)
    texts: list[str] = firsts.to_pylist()
    return texts


def begins_like_total(text: str) -> str:
    """Return the word for a total with which a text begins, or an empty text.

    Examples
    --------
    >>> begins_like_total("Summe:"), begins_like_total("Total units 12"), begins_like_total("T-1")
    ('Summe', 'Total', '')
    """
    plain = f"{tidy(text)} "
    for language in LANGUAGES:
        for word in language_words(language).tells.get("totals", ()):
            if (
                plain.startswith(f"{tidy(word)} ")
                and not plain.removeprefix(f"{tidy(word)} ")[:1].isdigit()
            ):
                return text[: len(word)]
    return ""
