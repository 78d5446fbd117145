"""Where records come from that are brought in: what a database is asked, whose each file is."""

from dashboard import spoken as st
from dashboard.bringing import Bringing, whole_table
from dashboard.launch_settings import may_ask_databases
from dashboard.presenters import sources_words as present
from dashboard.presenters.words import plain
from scoring.errors import FixableError
from scoring.reading_plan.what_a_plan_says import Query

ROWS_PX = 120
PASSWORD = "password"  # noqa: S105 - how keys of such fields begin


def show_databases(now: Bringing) -> None:
    """Let a person say what databases are asked: dropped ones, and those at an address."""
    for name, tables in now.databases.items():
        st.header(plain(f"What to ask of {name}"))
        st.caption(
            "Choose tables, or write a query for a part of them. The file stays in this session, "
            "and nothing in it is changed."
        )
        with st.form(f"tables of {name} {now.turn}"):
            offered = present.tables_offered(tables)
            chosen = st.multiselect("whole tables", list(offered), placeholder="choose")
            if st.form_submit_button("Bring in these tables") and chosen:
                for one in chosen:
                    ask(
                        now,
                        Query(offered[one], present.address_of(name), whole_table(offered[one])),
                    )
                st.rerun()
        ask_in_sql(now, present.address_of(name))
    if may_ask_databases():
        with st.expander("From a database, by its address", expanded=bool(now.to_ask_again)):
            show_again(now)
            ask_in_sql(now, "")
    show_answered(now)


def ask_in_sql(now: Bringing, database: str) -> None:
    """Let a person write a query."""
    with st.form(f"query of {database} {now.turn}"):
        address = database or st.text_input(
            "address of the database, without a password",
            placeholder="postgresql://reader@server/maintenance",
        )
        password = "" if database else ask_password(f"{PASSWORD} {now.turn}")
        query = st.text_area(
            "query: SELECT ...", height=ROWS_PX, placeholder="SELECT no, place FROM equipment"
        )
        name = st.text_input("what its answer is called", value=present.next_name(now.answered))
        if st.form_submit_button("Ask the database"):
            if not address.strip() or not query.strip():
                st.error("Write an address and a query first.")
            elif ask(now, Query(name.strip() or "query", address.strip(), query), password):
                forget_passwords()
                st.rerun()


def show_again(now: Bringing) -> None:
    """Offer to ask once more what a plan asks."""
    again = now.to_ask_again
    if not again:
        return
    with st.form(f"again {now.turn}"):
        for one in again:
            st.text(f"{one.name}: {one.database}")
        password = ask_password(f"{PASSWORD} again {now.turn}")
        if st.form_submit_button("Ask what the plan asks"):
            said = [ask(now, one, password) for one in again]
            if any(said):
                forget_passwords()
                st.rerun()


def ask_password(key: str) -> str:
    """Ask for a password; it is used for the one question, and kept nowhere."""
    return str(
        st.text_input(
            "password",
            type="password",
            key=key,
            autocomplete="off",
            help="Used for this one question. It is not kept, and stands in no plan.",
        )
    )


def forget_passwords() -> None:
    """Forget what was written into fields for passwords."""
    for key in [str(one) for one in st.session_state if str(one).startswith(PASSWORD)]:
        del st.session_state[key]


def ask(now: Bringing, query: Query, password: str = "") -> bool:
    """Ask a database; say what is wrong where it does not answer."""
    try:
        with st.spinner("Asking the database"):
            now.ask(query, password)
    except FixableError as error:
        st.error(plain(str(error)))
        return False
    return True


def show_answered(now: Bringing) -> None:
    """Show what was asked, and offer to leave it out again."""
    if not now.answered:
        return
    rows = now.parts()
    for name, query in now.answered.items():
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(present.answered_said(name, query, rows.get(name, 1) - 1))
            if st.button("Leave out", key=f"leave {name} {now.turn}"):
                now.leave_answer(name)
                st.rerun()


def show_plants(now: Bringing) -> None:
    """Let a person name the plant of each file, where there are several."""
    parts = now.parts()
    if len(parts) < 2:
        return
    with st.expander("These are records of several plants", expanded=bool(now.plants)):
        st.caption(
            "Where plants number their units alike, name the plant of each file: its name is put "
            "before every number. Files of one plant have the same name; without one, numbers "
            "stay as they are."
        )
        with st.form(f"plants {now.turn}", border=False):
            said = {
                name: st.text_input(
                    present.as_label(f"plant of {name}"), value=now.plants.get(name, "")
                )
                for name in parts
            }
            if st.form_submit_button("Keep numbers of these plants apart"):
                now.of_plants({name: str(text) for name, text in said.items()})
                st.rerun()
