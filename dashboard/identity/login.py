"""The login of this server, if there is one, and who asks by it."""

from functools import cache

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard import launch_settings
from dashboard.identity.sessions import MOST, Session, Sessions
from scoring.access.grants import granted_to
from scoring.access.login_settings import LoginSettings, login_settings
from scoring.access.who_asks import Asker


class Login:
    """How people sign in here, and who has.

    Parameters
    ----------
    settings : LoginSettings
        The provider, and the address of these pages.
    """

    def __init__(self, settings: LoginSettings) -> None:
        self.settings = settings
        self.sessions = Sessions(is_encrypted=settings.is_encrypted)
        self.owners: dict[str, str] = {}

    def asker(self, session: Session | None) -> Asker | None:
        """Return who asks, as roles are granted now; none where nothing is."""
        kept = launch_settings.store()
        if session is None or kept is None:
            return None
        with kept.reading() as connection:
            found = granted_to(connection, session.who)
        return None if found is None else found.asker

    def asker_of_page(self) -> Asker | None:
        """Return who asks by the page that is drawn in this thread; none outside of pages."""
        context = get_script_run_ctx(suppress_warning=True)
        if context is None:
            return None
        session = self.sessions.find(st.context.cookies)
        if session is not None:
            self.owners[context.session_id] = session.who.subject
            if len(self.owners) > MOST:
                self.owners = dict(list(self.owners.items())[-MOST // 2 :])
        return self.asker(session)


@cache
def login() -> Login:
    """Return the login of this server.

    Raises
    ------
    FixableError
        If it is not set up.
    """
    return Login(login_settings())
