"""What to do in a shutdown: holds lifted against loss avoided, and the plan that was chosen."""

from collections.abc import Callable
from functools import partial

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard import spoken as st
from dashboard.charts.holds_and_loss import front_chart
from dashboard.charts.hours import hours_chart
from dashboard.day_in_address import AS_OF
from dashboard.presenters import front_words as say
from dashboard.presenters import plan_list as as_list
from dashboard.presenters import plan_tables as present
from dashboard.presenters import shutdown_windows as asked
from dashboard.presenters.kept_plan_words import KEPT
from dashboard.presenters.words import plain, plain_lines
from dashboard.views import shutdowns_asked as ask_for
from dashboard.views.folded import show_when_opened
from dashboard.views.kept_plan import show_kept_plan
from dashboard.views.offering_work_order import offer_work_order
from dashboard.views.plans_by_name import list_kept, offer_to_keep
from dashboard.views.views_by_name import with_the_day
from dashboard.views.with_links import show_html, show_table
from dashboard.work_order_file import pdf_of_plan
from scoring.contract.ranking import HOLD
from scoring.errors import FixableError
from scoring.files.write_table import table_bytes
from scoring.planning.front import Front, table_of
from scoring.planning.plan import Plan
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.wishes import Wishes
from scoring.what_if.what_is_credited import CREDITED

USUAL_POINT: dict[str, object] = {"order": say.MOST_HOLDS}


def show() -> None:
    """Show the page, or a kept plan where the address names one."""
    if KEPT in st.query_params:
        show_kept_plan(st.query_params[KEPT])
        return
    ranking = session.assessment().ranking
    st.title("What to do in a shutdown")
    if ranking.empty:
        st.info("No unit was in service on that day. Choose another day above.")
        return
    currency = ranking["currency"].dropna().max()
    said, drawn = st.columns([2, 3], gap="medium")
    with said:
        answer, settings = st.container(), st.container()
    try:
        shutdowns, wishes, several = ask(settings, ranking)
        kept.start(USUAL_POINT, {"order": say.read_name})
        name = st.session_state["order"]
        front = session.front(shutdowns, wishes, say.holds_asked(name))
    except FixableError as error:
        st.error(plain_lines(str(error)))
        return
    points = table_of(front, session.bundles(), int((ranking["verdict"] == HOLD).sum()))
    with answer:
        st.markdown(f"**{plain(say.what_hours_buy(points, shutdowns, currency))}**")
    with said:
        at = ask_point(front, points, currency)
    with drawn:
        if len(points) > 1:
            names = say.names_of(front)
            shown = say.points_drawn(points, names, names[at])
            st.markdown("**Each point is a plan of these hours; none does more of both**")
            st.altair_chart(front_chart(shown, currency), width="stretch")
    plan = session.plan(front.choices[at], shutdowns, wishes)
    with st.container():  # of its own, so that nothing below shifts when one comes or goes
        for words in say.unmet_said(
            wishes.unmet(session.bundles(), shutdowns, plan.choice.window >= 0)
        ):
            st.warning(plain(words))
    place_of_kept = st.container()
    show_plan(plan, wishes, currency, several=several)
    with place_of_kept:  # after a plan may have been kept
        list_kept()


def ask(
    place: "st.delta_generator.DeltaGenerator", ranking: pd.DataFrame
) -> tuple[Shutdowns, Wishes, bool]:
    """Ask for shutdowns and wishes below a folded line that says what is set."""
    sites = ranking["site"]
    several = ask_for.start(sites, ranking["unit_id"])
    line = say.settings_said(ask_for.chosen(), several=several)
    with place, st.expander(line, key="settings"):
        rows = ask_for.ask_shutdowns(sites)
        wishes = ask_for.ask_wishes(session.bundles()["unit_id"])
    return asked.shutdowns_of(rows, sites, session.open_fleet().as_of), wishes, several


def ask_point(front: Front, points: pd.DataFrame, currency: object) -> int:
    """Ask which plan of the front it shall be; return its place."""
    names = say.names_of(front)
    if len(names) == 1:
        return 0
    st.session_state["order"] = say.nearest_name(front, st.session_state["order"])
    rows = dict(zip(names, (row for _, row in points.iterrows()), strict=True))
    name = st.radio(
        "Choose a plan",
        names,
        format_func=lambda one: say.point_said(rows[one], one, currency),
        key="order",
        persist_state="session",
    )
    return names.index(name)


def show_plan(plan: Plan, wishes: Wishes, currency: object, *, several: bool) -> None:
    """Show a plan: its jobs, what missed the cut, holds that stay, then more about it."""
    st.header("The plan")
    st.text(say.plan_said(plan, currency))
    chosen = kept.in_a_link(
        ask_for.USUAL, ask_for.USUAL_SHUTDOWN, ask_for.USUAL_WISHES, USUAL_POINT
    )
    if plan.jobs.empty:
        st.info("Nothing that avoids a loss, or lifts a hold, fits. Give more hours or people.")
    else:
        out = None if several else _link(chosen, "must_out", "must_in")
        show_html(
            as_list.list_of_jobs(
                plan.jobs, wishes.must_in, currency, out, several=len(plan.windows) > 1
            )
        )
        if len(plan.jobs) > as_list.LISTED:
            st.caption(f"The first {as_list.LISTED} of {len(plan.jobs)} jobs; a file has them all.")
        offer_files(plan)
        stands, fleet = session.assessed_fleet(), session.open_fleet()
        offer_work_order(lambda hours: pdf_of_plan(plan, stands, fleet, hours), "work_order.pdf")
    show_link(chosen, several=several)
    fleet = session.open_fleet()
    pinned = {**with_the_day(chosen), AS_OF: [str(fleet.as_of.date())]}
    offer_to_keep(plan.jobs, fleet, "" if several else say.plan_link(pinned))
    show_holds_left(plan)
    if not plan.missed.empty:
        st.header("What just missed the cut")
        put_in = None if several else _link(chosen, "must_in", "must_out")
        show_html(as_list.list_of_missed(plan.missed, currency, put_in))
    show_windows(plan)
    show_curve(plan)
    st.caption(
        f"Of what was known on {fleet.as_of.date()}; losses within {fleet.horizon_days} days; "
        f"basis: {session.learning().words}. "
        "Hours, people, crane, parts and costs of re-work are planning values of ours, every "
        "set-up at a unit counted once. Loss avoided is "
        "averaged over whether re-work succeeds, which is learned from the walkdowns after it. "
        + CREDITED
    )


def _link(chosen: dict[str, list[str]], to: str, other: str) -> Callable[[str], str]:
    """Return what makes links that move a unit to one list, and take it off the other."""

    def link(unit_id: str) -> str:
        there = [one for one in chosen.get(to, []) if one != unit_id]
        rest = [one for one in chosen.get(other, []) if one != unit_id]
        return say.plan_link(chosen, **{to: [*there, unit_id], other: rest})

    return link


def show_link(chosen: dict[str, list[str]], *, several: bool) -> None:
    """Say how a plan is kept and shared."""
    if several:
        st.caption("Several shutdowns are not in the address of this page: keep their file.")
        return
    st.markdown(
        f"[Link of this plan]({say.plan_link(with_the_day(chosen))}): whoever opens it sees the "
        "same plan."
    )


def show_holds_left(plan: Plan) -> None:
    """Show the units that must not run and that the plan does not free."""
    if plan.holds_left.empty:
        return
    st.header(f"■ Must not run, and not freed by this plan: {len(plan.holds_left)}")
    show_html(as_list.list_of_holds_left(plan.holds_left))


def show_windows(plan: Plan) -> None:
    """Show how full each of several shutdowns is."""
    if len(plan.windows) == 1:
        return
    st.header("Shutdowns")
    show_table(present.windows_shown(plan.windows))


def offer_files(plan: Plan) -> None:
    """Offer the plan, and all that was weighed, as files safe to open in a spreadsheet."""
    with st.container(horizontal=True):
        for words, rows, suffix in (
            ("Save the plan as CSV", plan.jobs, ".csv"),
            ("Save the plan as XLSX", plan.jobs, ".xlsx"),
            ("Save all that was weighed as CSV", plan.weighed, ".csv"),
        ):
            st.download_button(
                words,
                data=partial(table_bytes, rows, suffix, sheet="plan"),
                file_name=("plan" if rows is plan.jobs else "weighed") + suffix,
                mime="text/csv" if suffix == ".csv" else "application/octet-stream",
                on_click="ignore",
            )


@st.fragment
def show_curve(plan: Plan) -> None:
    """Offer the loss avoided against hours, folded: the front is the picture of this page."""
    show_when_opened(words="What more hours would avoid", show=partial(draw_curve, plan))


def draw_curve(plan: Plan) -> None:
    """Show the loss avoided against hours."""
    hours = float(plan.windows["crew_hours"].sum())
    st.altair_chart(
        hours_chart(
            present.curve_shown(plan.curve, hours),
            hours,
            float(plan.jobs["hours"].sum()),
            plan.choice.avoided,
        ),
        width="stretch",
    )
    st.caption(
        "Line: the most that so many crew-hours could avoid, were all in one shutdown of all "
        "sites, with people, crane and parts for anything, and no hold to be lifted first; "
        f"dashed: the hours there are. {present.all_weighed(plan)}"
    )


show()
