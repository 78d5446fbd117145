"""A plain page of a few words: signing in and out, and what is refused before any page."""

from html import escape

from scoring.drawing.look_tokens import colour_variables
from scoring.language.markup import told_markup
from scoring.language.reading import current_reading

_HTML = """<!DOCTYPE html>
<html lang="{language}"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>:root {{ color-scheme: light dark; }}
{colours}
body {{ margin: 0 auto; max-width: 40rem; padding: 1rem; font: 1.2rem/1.45 system-ui, sans-serif;
  color: var(--ink); background: var(--ground); overflow-wrap: anywhere; }}
a {{ color: inherit; }}
button {{ min-height: 3.2rem; padding: .6rem 1.4rem; font: inherit; font-weight: 700;
  border: 0; border-radius: .6rem; background: var(--action); color: var(--ground); }}
</style></head><body><main><h1>{title}</h1><p>{words}</p>{more}</main></body></html>
"""


def plain_page(title: str, words: str, more: str = "") -> str:
    """Return a page, told as its reader reads.

    Parameters
    ----------
    title, words : str
        Plain text.
    more : str
        Markup that follows.

    Examples
    --------
    >>> "&lt;b&gt;" in plain_page("Signed out", "<b>")
    True
    """
    return told_markup(
        _HTML.format(
            language=current_reading().language,
            title=escape(title),
            words=escape(words),
            more=more,
            colours=colour_variables(),
        )
    )
