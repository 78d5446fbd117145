"""The first page: what this is, for which plant, what its words mean, and where to go."""

from dashboard import day_in_address, kept_in_store, session
from dashboard import spoken as st
from dashboard.presenters import about
from dashboard.presenters import start_page as present
from dashboard.presenters.words import plain
from dashboard.views.with_links import show_html
from scoring.access.who_asks import who_asks
from scoring.contract.amounts_in_words import span_said


def show() -> None:
    """Show the page, or go on to the ranking, which stood here once, where a link means that."""
    asked = {key: st.query_params.get_all(key) for key in st.query_params}
    if asked.keys() - {day_in_address.AS_OF, day_in_address.AHEAD}:
        st.switch_page("views/what_to_fix_first.py", query_params=asked)
    fleet = session.open_fleet()
    ranking = session.ranked_so_far().units  # of which only verdicts are shown
    st.title(plain(about.plant_name(fleet.name)))
    if ranking.empty:
        st.info("No unit was in service on that day. Choose another day above.")
        return
    st.markdown(f"**{plain(present.how_it_stands(ranking))}**")
    st.markdown(plain(about.WHAT_THIS_IS))
    if about.is_invented(fleet.name):
        st.markdown("The plant, its people and its records are invented.")
    show_html(present.doors(who_asks(), into_a_store=kept_in_store.is_kept_in_store()))
    st.header("What a verdict means")
    show_html(present.verdicts(ranking))
    st.caption(
        "Each verdict rests on what was seen and written down by the day that is shown; "
        f"chances and losses on the other pages are for {span_said(fleet.horizon_days)} from then."
    )


show()
