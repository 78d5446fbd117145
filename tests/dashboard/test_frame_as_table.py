"""Tables of a few columns: numbers, days, links and blanks as a person reads them, by hand."""

import pandas as pd

from dashboard.presenters.frame_as_table import frame_as_table, number_said
from scoring.contract.amounts_in_words import MINUS, NARROW_SPACE


def test_each_cell_is_said_as_what_it_is():
    shown = frame_as_table(
        pd.DataFrame(
            {
                "unit": ["A&1"],
                "seen on": [pd.Timestamp("2026-06-30")],
                "saved": [pd.Timestamp("2026-06-30 07:12")],
                "share": [0.426],
                "loss": [-1715.0],
                "remark": [None],
                "go on": ["/walkdown/x?a=1&b=2"],
            }
        ),
        shares=["share"],
        links={"go on": "go on"},
    )
    assert '<a href="/unit?unit=A%261" translate="no">A&amp;1</a>' in shown
    assert "<time>2026-06-30</time>" in shown
    assert "<time>2026-06-30 07:12</time>" in shown
    assert '<td role="cell" class="number"><span class="of">share: </span>43 %</td>' in shown
    assert f"{MINUS}1{NARROW_SPACE}715</td>" in shown
    assert '<td role="cell" class="blank"></td>' in shown
    assert '<a href="/walkdown/x?a=1&amp;b=2" target="_self">go on</a>' in shown


def test_what_stands_in_a_cell_is_never_markup():
    shown = frame_as_table(pd.DataFrame({"who": ["<b>x"], "a<b": ["y"]}))
    assert "&lt;b&gt;x" in shown
    assert "a&lt;b" in shown


def test_a_number_keeps_its_digits_and_no_more():
    assert [number_said(one) for one in (0.0, 3.0, 2.50, 0.12341)] == ["0", "3", "2.5", "0.1234"]


def test_a_table_without_rows_has_its_headings():
    shown = frame_as_table(pd.DataFrame({"check": [], "times": []}))
    assert "check</th>" in shown
    assert shown.endswith('<tbody role="rowgroup"></tbody></table>')
