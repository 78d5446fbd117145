"""The data of a page as JSON that is small, and that cannot end the element it stands in."""

import json
from typing import Any

from scoring.walkdown_form.shared_steps import share_steps


def page_data(form: dict[str, Any], **more: object) -> str:
    """Write the data of a page.

    Parameters
    ----------
    form : dict
        The form as ``form_document`` makes it.
    **more : object
        What else the page has to know.

    Returns
    -------
    str
        JSON in which no letter of a name can be read as markup. Steps that units share stand
        once, under ``steps``; each unit names the places of its own there.

    Examples
    --------
    >>> unit = {"unit_id": "</script>", "steps": [{"check": "guard"}]}
    >>> page_data({"units": [unit, unit]}, mode="online").count("guard")
    1
    """
    text = json.dumps(
        {"form": share_steps(form), **more},
        ensure_ascii=True,
        allow_nan=False,
        separators=(",", ":"),
    )
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")
