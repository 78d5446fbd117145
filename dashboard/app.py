"""Router: one entry for all pages."""

import altair as alt

from dashboard import appearance, session
from dashboard import choices_in_address as kept
from dashboard import spoken as st
from dashboard.launch_settings import NothingToShowError, latest_if_ahead
from dashboard.long_work import say_what_is_worked_out
from dashboard.pages_there_are import BRINGING_IN, PAGES
from dashboard.presenters.clock_words import clock_words
from dashboard.presenters.words import plain
from dashboard.said_in_words import said_in_words
from dashboard.views import day_asked, finding
from dashboard.views.header import Header, show_reading_link
from dashboard.views.who_uses_it import show_who
from dashboard.views.working import Working
from scoring.access.who_asks import require, who_asks
from scoring.contract.cautions import CAUTIONS
from scoring.language.reading import current_reading, read_as, reading_from

read_as(reading_from(st.context.cookies, st.context.locale))
st.set_page_config(page_title="mount-risk", page_icon="⚙", layout="wide")
st.html(appearance.style_sheet())
alt.theme.register("of these pages", enable=True)(
    lambda: appearance.chart_look(st.context.theme.type, current_reading())
)

with said_in_words():
    asker = who_asks()

pages = [
    st.Page(one.file, title=one.title, url_path=one.path, default=one is PAGES[0])
    for one in PAGES
    if asker.may(one.act)
]
if not pages:
    st.error("Your role opens none of these pages.")
    show_who(asker)
    st.stop()
page = st.navigation(pages, position="hidden")
kept.on_page(page.url_path)
header = Header(pages)
header.show()
say_what_is_worked_out(Working())

with said_in_words():
    require(next(one.act for one in PAGES if one.path == (page.url_path or PAGES[0].path)))

if page.url_path == BRINGING_IN.path:
    with st.container(horizontal=True, key="band"):
        show_reading_link()
    with said_in_words():
        page.run()
    header.show()
    st.caption(CAUTIONS)
    show_who(asker)
    st.stop()

with said_in_words():
    try:
        changed = session.renew()
        fleet = session.open_fleet()
        clock = clock_words(latest_if_ahead())
    except NothingToShowError:
        if asker.may(BRINGING_IN.act):
            st.switch_page(BRINGING_IN.file)
        raise

with st.container():  # of its own, so that nothing below shifts when one comes or goes
    if session.shows_own():
        st.caption(
            "These records are seen in this session alone, and go when it ends. All tables as "
            "files: What to fix first."
        )
    if changed:
        st.info(plain(changed))
    if clock:
        st.warning(clock)
    for note in fleet.notes:
        st.warning(plain(note))
with st.container(horizontal=True, vertical_alignment="center", key="band"):
    day_asked.show_day()
    finding.ask_for_unit()
    show_reading_link()
day_asked.show_which_day()
with said_in_words():
    page.run()
kept.write_down()
header.show()
st.caption(CAUTIONS)
show_who(asker)
