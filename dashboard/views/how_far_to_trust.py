"""How far to trust the numbers: on what they rest, and whether they came true."""

from functools import partial

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard import spoken as st
from dashboard.charts.trust import groups_chart, said_chart, worst_tenth_chart, years_chart
from dashboard.presenters import trust_tables as present
from dashboard.presenters.words import plain
from dashboard.views.with_links import show_table
from scoring.contract.events import MODE_WORDS
from scoring.explanation.what_the_fleet_says import FEW_FAILURES_PROVE_LITTLE, WhatWasLearned
from scoring.explanation.what_would_improve import what_would_improve
from scoring.validation.validate import Validation


def show() -> None:
    """Show the page."""
    st.title("How far to trust it")
    learned = session.what_was_learned()
    if learned.failures_are_kept:
        show_whether_it_came_true()
    else:
        st.info(
            "Failures of this fleet are not kept, so that nothing can be learned or tried: every "
            "number rests on the handbook."
        )
    show_what_would_improve()
    show_bases()
    show_what_is_said(learned)
    if learned.failures_are_kept:
        show_whether_it_is_better()  # last with what follows, for it takes some seconds
        show_harder_trials()


def show_bases() -> None:
    """Show what each failure's chances rest on, and why."""
    with st.expander("What the chances rest on"):
        bases = session.shown_once("bases", lambda: present.bases(session.learning()))
        for failure, basis in bases.items():
            st.markdown(f"**{failure}: {basis.words}**")
            st.text(present.learned_from(basis))
            st.text(basis.why)


def show_whether_it_came_true() -> None:
    """Show what was predicted as of earlier days beside what came."""
    predictions = session.learning().predictions
    if predictions.empty:
        st.info("The records do not reach back far enough to predict anything and wait for it.")
        return
    first, *others = MODE_WORDS.values()
    table = session.shown_once("years", lambda: present.years(predictions))
    came = session.shown_once(
        "came_true", lambda: present.came_true(predictions, session.learning().basis)
    )
    said, drawn = st.columns([2, 3], gap="medium")
    with said:
        for words in came:
            st.markdown(f"**{plain(words)}**")
        st.caption(
            "As of earlier days one learned from what had been recorded by then, and predicted the "
            "year that followed. Filled marks with lines: failures that came, and what chance "
            "would make of as many, 9 times in 10; open marks: what was predicted."
        )
    with drawn:
        st.markdown(f"**{first.capitalize()}s, predicted and recorded, year by year**")
        draw_years(table, first)
    with st.expander(f"{' and '.join(f'{one}s' for one in others)}, year by year".capitalize()):
        for failure in others:
            st.markdown(f"**{failure}s, year by year**")
            draw_years(table, failure)


def draw_years(table: pd.DataFrame, failure: str) -> None:
    """Draw the years of one failure."""
    chart = session.chart("years", lambda: years_chart(table, failure), failure)
    st.altair_chart(chart, width="stretch")


def show_whether_it_is_better() -> None:
    """Show whether a plant could do as well without it."""
    answers = session.shown_once(
        "better_than_others", lambda: present.better_than_others(session.validation())
    )
    if not answers:
        return
    with st.expander("Is it better than counting findings, or than a plain regression?"):
        for failure, answer in answers.items():
            st.markdown(f"**{failure}**")
            st.text(answer)
        st.caption(present.OTHERS_MEAN)


def show_harder_trials() -> None:
    """Show how well later failures were predicted, of the same units, other units, other sites."""
    validation = session.validation()
    with st.expander("Tried on units and sites it had not seen", key="trials"):
        if validation.scores.empty:
            st.info("The records do not reach back far enough to try it.")
            return
        schemes = list(validation.scores["scheme"].unique())
        kept.start({"scheme": schemes[0]}, {"scheme": kept.one_of(schemes)})
        scheme = st.selectbox("tried on", schemes, key="scheme", persist_state="session")
        show_scheme(validation, scheme)


def show_scheme(validation: Validation, scheme: str) -> None:
    """Show how one trial went."""
    st.markdown("**Do the worst as predicted fail?** A tenth would be chance.")
    worst = session.chart(
        "worst_tenth", lambda: worst_tenth_chart(present.scores(validation, scheme)), scheme
    )
    st.altair_chart(worst, width="stretch")
    for failure in MODE_WORDS.values():
        st.markdown(f"**{failure}s that came over those predicted, by group of like risk**")
        draw_groups(validation, scheme, failure)
    with st.expander("All scores"):
        table = session.shown_once(
            "scores", lambda: present.score_table(validation, scheme), scheme
        )
        show_table(table)
        st.caption(present.SCORES_MEAN)


def draw_groups(validation: Validation, scheme: str, failure: str) -> None:
    """Draw groups of like risk of one trial and one failure."""
    chart = session.chart(
        "groups",
        lambda: groups_chart(present.groups(validation, scheme), failure),
        scheme,
        failure,
    )
    st.altair_chart(chart, width="stretch")


def show_what_is_said(learned: WhatWasLearned) -> None:
    """Show what the handbook says, and what the fleet's own failures make of it."""
    with st.expander("What the failures say"):
        for failure in MODE_WORDS.values():
            st.markdown(f"**{failure}: what most of them speak of**")
            said = session.shown_once("said", partial(present.said, learned, failure), failure)
            if said.empty:
                st.text(present.nothing_said(failure))
            else:
                draw_said("said", said, failure)
        st.caption(
            "◆ grey: the handbook with its range; ● blue: with this fleet's own failures; prior "
            "only: they narrowed its standard deviation by less than 5 %, which says nothing."
        )
        st.caption(plain(FEW_FAILURES_PROVE_LITTLE))
    if learned.failures_are_kept:
        with st.expander("Nameplate"):
            for failure in MODE_WORDS.values():
                on_it = session.shown_once(
                    "nameplate", partial(present.nameplate, learned, failure), failure
                )
                if not on_it.empty:
                    st.markdown(f"**{failure}**")
                    draw_said("nameplate", on_it, failure)
        with st.expander("Sites"):
            for failure in MODE_WORDS.values():
                st.markdown(f"**{failure}**")
                of_site = session.shown_once(
                    "sites", partial(present.sites, learned, failure), failure
                )
                draw_said("sites", of_site, failure)
        with st.expander("Crews"):
            crews = session.shown_once("crews", lambda: present.crews(learned))
            show_table(crews)
    with st.expander("Every effect, finding, site and number on the nameplate"):
        everything = session.shown_once("everything_said", lambda: present.everything_said(learned))
        st.dataframe(everything, hide_index=True)


def draw_said(name: str, said: pd.DataFrame, failure: str) -> None:
    """Draw what is said of a failure, and tell of what failures taught nothing."""
    st.altair_chart(session.chart(name, lambda: said_chart(said), failure), width="stretch")
    alone = present.prior_only(said)
    if alone:
        st.text(alone)


def show_what_would_improve() -> None:
    """Show what to do for better numbers."""
    st.header("What would improve it")
    ways = session.shown_once(
        "what_would_improve_it", lambda: what_would_improve(session.assessment())
    )
    show_table(present.ways_shown(ways))


show()
