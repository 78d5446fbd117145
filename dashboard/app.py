"""Router: one entry for all pages."""

import altair as alt
import streamlit as st

from dashboard import appearance, session
from dashboard.presenters import about
from dashboard.presenters.words import plain
from dashboard.views import finding
from scoring.contract.cautions import CAUTIONS
from scoring.errors import FixableError

st.set_page_config(page_title="mount-risk", page_icon="⚙", layout="wide")
st.html(appearance.style_sheet())
alt.theme.register("of these pages", enable=True)(
    lambda: appearance.chart_look(st.context.theme.type)
)

pages = [
    st.Page("views/start.py", title="Start", url_path="start", default=True),
    st.Page("views/what_to_fix_first.py", title="What to fix first", url_path="fix"),
    st.Page("views/shutdown_plan.py", title="What to do in a shutdown", url_path="plan"),
    st.Page("views/where_to_look.py", title="Where to look next", url_path="look"),
    st.Page("views/one_unit.py", title="One unit", url_path="unit"),
    st.Page("views/enter_walkdowns.py", title="Walkdowns", url_path="walkdowns"),
    st.Page("views/getting_better.py", title="Is it getting better", url_path="trend"),
    st.Page("views/how_far_to_trust.py", title="How far to trust it", url_path="trust"),
]
page = st.navigation(pages, position="top")

try:
    changed = session.renew()
    fleet = session.open_fleet()
except FixableError as error:
    st.error(plain(str(error)))
    st.stop()

if changed:
    st.info(plain(changed))
for note in fleet.notes:
    st.warning(plain(note))
with st.container(horizontal=True, vertical_alignment="center", key="band"):
    st.caption(plain(about.band(fleet.name, fleet.as_of)))
    finding.ask_for_unit()
page.run()
st.caption(CAUTIONS)
