"""A plan that was kept, beside what was done since."""

from functools import partial

from dashboard import kept_by_name, session
from dashboard import spoken as st
from dashboard.charts.done_of_plan import outcome_chart
from dashboard.presenters import kept_plan_lists as as_list
from dashboard.presenters import kept_plan_words as say
from dashboard.presenters.words import plain
from dashboard.views.asking_who import ask_who
from dashboard.views.offering_work_order import offer_work_order
from dashboard.views.with_links import show_html
from dashboard.work_order_file import pdf_of_kept_jobs
from scoring.access.acts import Act
from scoring.access.who_asks import who_asks
from scoring.entering.kept_plans import KeptPlan
from scoring.errors import FixableError
from scoring.files.write_table import table_bytes
from scoring.planning.plan_and_done import PlanAndDone, plan_and_done

BY = "who withdraws the plan"


def show_kept_plan(plan_id: str) -> None:
    """Show what a plan promised, and what became of it."""
    try:
        plan, jobs = kept_by_name.plan(plan_id)
    except FixableError as error:
        st.title("A kept plan")
        st.error(plain(str(error)))
        show_html('<p class="found"><a href="/plan">What to do in a shutdown</a></p>')
        return
    fleet = session.open_fleet()
    verdicts = session.assessment().ranking.set_index("unit_id")["verdict"]
    became = plan_and_done(
        jobs, fleet.assessor.fleet.rework, verdicts, kept_on=plan.kept_on, as_of=fleet.as_of
    )
    currency = jobs["currency"].dropna().max()
    st.title(plain(plan.name))
    said, drawn = st.columns([2, 3], gap="medium")
    with said:
        early = say.too_early(plan, fleet.as_of)
        if early:
            st.warning(early)
        st.markdown(f"**{plain(say.became_said(became, currency))}**")
        st.text(say.kept_said(plan))
        if say.hours_said(became):
            st.text(say.hours_said(became))
        links = [("All plans, and a new one", "/plan")]
        links += [("Make this plan anew from the records", plan.link)] if plan.link else []
        st.markdown(" · ".join(f"[{words}]({address})" for words, address in links))
    with drawn:
        st.altair_chart(
            outcome_chart(say.hours_by_outcome(became), say.chart_title(became)), width="stretch"
        )
    show_jobs(became, currency)
    stands = session.assessed_fleet()
    offer_work_order(
        lambda hours: pdf_of_kept_jobs(jobs, stands, fleet, hours), "work_order_of_kept_plan.pdf"
    )
    offer_to_withdraw(plan)
    st.caption(
        "A job is done once each of its actions is on record at its unit, done on the day the plan "
        "was kept or later; the loss that a job was to avoid counts once all of it is done. "
        "Crew-hours and losses are those promised when the plan was kept. Whether a hold stands is "
        f"what the records say on {fleet.as_of.date()}, whatever lifted it."
    )


def show_jobs(became: PlanAndDone, currency: object) -> None:
    """Show each job beside what was done, and what was done besides."""
    st.header("Planned and done")
    show_html(as_list.list_of_compared(became, currency))
    files = (
        ("Save plan and done as CSV", as_list.jobs_in_a_file(became), "plan_and_done.csv"),
        ("Save what was not planned as CSV", became.not_planned, "not_planned.csv"),
    )
    if not became.not_planned.empty:
        st.header("Done at these units beside the plan")
        show_html(as_list.list_of_not_planned(became))
    with st.container(horizontal=True):
        for words, rows, name in files:
            if not rows.empty:
                st.download_button(
                    words,
                    data=partial(table_bytes, rows, ".csv", sheet="plan"),
                    file_name=name,
                    mime="text/csv",
                    on_click="ignore",
                )


def offer_to_withdraw(plan: KeptPlan) -> None:
    """Offer to take the plan off the list."""
    if plan.withdrawn_at or not who_asks().may(Act.KEEP_PLAN):
        return
    with st.expander("Withdraw this plan"), st.form("withdraw plan", border=False):
        st.text("It goes off the list of kept plans; who has its link still sees it.")
        by = ask_who(BY)
        if not st.form_submit_button("Withdraw"):
            return
        try:
            kept_by_name.withdraw_plan(by, plan.plan_id)
        except FixableError as error:
            st.error(plain(str(error)))
            return
    st.rerun()
