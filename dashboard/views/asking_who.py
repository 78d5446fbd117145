"""Ask who does it, where the device does not say."""

from dashboard import kept_by_name
from dashboard import spoken as st

KEY = "name of who keeps"
FIELD_PX = 400
"""Width of a field for a name. [px]"""


def ask_who(key: str) -> str:
    """Return who holds the device; ask, within a form, where nobody has said so yet.

    Parameters
    ----------
    key : str
        Of the widget: a page may ask in several places.
    """
    known = kept_by_name.person()
    if known:
        st.caption(f"In the name of {known}.")
        return known
    said = st.text_input(
        "your name", value=str(st.session_state.get(KEY, "")), key=key, width=FIELD_PX
    )
    st.session_state[KEY] = said
    return str(said)
