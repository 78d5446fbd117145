"""A section of a unit's page: what re-work, or another finding, would change."""

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard import spoken as st
from dashboard.presenters import what_if_tables as present
from dashboard.presenters.words import plain
from dashboard.views.with_links import show_table
from scoring.contract import Check
from scoring.contract.declaration import Kind
from scoring.errors import FixableError


@st.fragment
def show_what_rework_would_change(unit_id: str) -> None:
    """Ask for re-work and findings, and show at once what they would change."""
    st.header("What would re-work change?")
    offered = present.offered(session.assessment(), unit_id)
    kept.start({"rework": []}, {"rework": kept.some_of(offered.actions)})
    actions = st.multiselect(
        "re-work",
        list(offered.actions),
        format_func=lambda name: offered.actions[name],
        placeholder="choose; ▲ cures what was found here",
        key="rework",
        persist_state="session",
    )
    kept.write_down()
    found = ask_findings(unit_id, offered.checks)
    if not actions and not found:
        return
    try:
        asked = present.question(session.assessment(), unit_id, actions, found)
    except FixableError as error:
        st.error(plain(str(error)))
        return
    answer = session.what_if(asked).to_dict("records")[0]
    show_answer(answer, by_rework=bool(actions) and not found)
    if actions:
        st.text(present.work_said(answer))
        hung_anew = present.hung_anew_said(session.assessment(), asked)
        if hung_anew:
            st.text(hung_anew)
        show_table(present.steps(str(answer["actions"]), session.assessed_fleet().success))
    if found:
        st.caption("What a look would find counts as found today, after any re-work above.")


def ask_findings(unit_id: str, checks: dict[str, Check]) -> dict[str, object]:
    """Ask what a look would find."""
    with st.expander("If a look found something else"):
        names = st.multiselect(
            "checks",
            list(checks),
            format_func=lambda name: checks[name].label,
            placeholder="choose",
            key=f"checks of {unit_id}",
        )
        found = {}
        with st.container(horizontal=True):
            for name in names:
                value = ask_value(checks[name], f"{name} of {unit_id}")
                if value is not None:
                    found[name] = value
    return found


def ask_value(check: Check, key: str) -> object:
    """Ask for the value of one check."""
    label = f"{check.label}, {check.unit}" if check.unit else check.label
    if check.kind is Kind.CHOICE:
        return st.selectbox(
            label,
            check.allowed,
            index=None,
            key=key,
            format_func=lambda word: word.replace("_", " "),
        )
    least = check.minimum if check.minimum is not None else check.above
    floor = None if least is None else float(least)
    if check.kind is Kind.COUNT:
        return st.number_input(
            label, value=None, step=1, min_value=None if least is None else int(least), key=key
        )
    return st.number_input(label, value=None, min_value=floor, step=0.1, format="%g", key=key)


def show_answer(answer: present.Answer, *, by_rework: bool) -> None:
    """Show risk, verdict and loss afterwards, beside what they are."""
    with st.container(border=True):
        st.markdown(f"**{present.verdicts(answer)}**")
        with st.container(horizontal=True):
            for failure, (after, before) in present.chances(answer).items():
                quiet_metric(failure, after, f"was {before}")
            for label, (value, below) in present.losses(answer, by_rework=by_rework).items():
                quiet_metric(label, value, below)
        if by_rework and answer["expected_loss_after"] > answer["expected_loss"]:
            st.text("More is expected to be lost: hanging a unit anew can leave faults of its own.")


def quiet_metric(label: str, value: str, below: str) -> None:
    """Show a number with words below it."""
    st.metric(label, value, below, delta_color="off", delta_arrow="off", border=True)
