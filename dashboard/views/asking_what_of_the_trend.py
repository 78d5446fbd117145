"""Which sites, and how many months, the page of the trend shows: kept in the address."""

from dataclasses import dataclass

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard import spoken as st
from dashboard.fleet_results import TrendSoFar
from dashboard.presenters import better_tables as lay_out
from dashboard.presenters.words import plain
from scoring.trends.month_ends import StateAtMonthEnd, at_sites

USUAL: dict[str, object] = {"trend_sites": [], "trend_months": 24}
"""What is shown where nobody has chosen anything, by the key of each widget."""

MONTHS = (24, 12, 6)
"""So many month-ends the pictures may show."""


@dataclass(frozen=True)
class Chosen:
    """What a person chose to see: some sites, all where none is named, and how many months."""

    sites: tuple[str, ...]
    months: int

    def of(self, table: pd.DataFrame) -> pd.DataFrame:
        """Return the rows of the sites that were chosen."""
        return table[table["site"].isin(self.sites)] if self.sites else table

    def at_month_ends(self, trend: TrendSoFar) -> list[StateAtMonthEnd]:
        """Return what is worked out of the sites that were chosen."""
        site_of = session.open_fleet().assessor.fleet.units.set_index("unit_id")["site"]
        return at_sites(trend.states, self.sites, site_of)


def ask(sites: list[str]) -> Chosen:
    """Ask which sites and how many months to show."""
    kept.start(USUAL, {"trend_sites": kept.some_of(sites), "trend_months": kept.one_of(MONTHS)})
    said = lay_out.settings_said(
        st.session_state["trend_sites"], int(st.session_state["trend_months"])
    )
    with st.expander(plain(said), key="trend_settings"):
        st.multiselect(
            "sites", sites, placeholder="all", key="trend_sites", persist_state="session"
        )
        st.radio(
            "months in the pictures",
            MONTHS,
            horizontal=True,
            key="trend_months",
            persist_state="session",
        )
        st.caption(
            "Sites and months hold for the sentences and pictures; tables by site and by crew, "
            "checks that nobody sees and re-work are of the whole plant."
        )
    return Chosen(tuple(st.session_state["trend_sites"]), int(st.session_state["trend_months"]))
