"""Tell what stands between the marks of a text for a screen: HTML, SVG or Markdown."""

import re
from html import escape, unescape

from scoring.language.tell import is_as_read, told

_TAG = re.compile(
    r"(<!--.*?-->|<(?:style|script)\b.*?</(?:style|script)>|<[A-Za-z/!][^>]*>)", re.DOTALL
)
_SAID = re.compile(r'\b(aria-label|alt|title|placeholder|summary)="([^"]*)"')
_KEPT = re.compile(r'<(\w+)[^>]*\btranslate="no"')
_MARKS = re.compile(
    r"(\*\*|\n|`[^`]*`|\]\([^)]*\)|(?<!\\)\[|^#+ |^- |:[a-z]+-?[a-z]*\[)", re.MULTILINE
)
_DOES_MORE = r"[\\`*_\[\]()#$:<>!|~{}+-]"
_MEANING, _ESCAPED = re.compile(f"({_DOES_MORE})"), re.compile(rf"\\({_DOES_MORE})")


def told_markup(markup: str) -> str:
    """Tell the words of HTML or SVG: what stands between tags, and what a screen reader says.

    What an element marked ``translate="no"`` holds stays as it is.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> with reading_as(Reading("de")):
    ...     told_markup('<p title="breather">breather</p><b translate="no">breather</b>')
    '<p title="Entlüfter">Entlüfter</p><b translate="no">breather</b>'
    """
    if is_as_read(markup):
        return markup
    said, kept = [], ""
    for part in _TAG.split(markup):
        if part.startswith("<"):
            if kept and part.startswith(f"</{kept}"):
                kept = ""
            elif not kept and (mark := _KEPT.match(part)):
                kept = mark[1]
            said.append(_SAID.sub(_attribute, part))
        else:
            said.append(part if kept else _words_told(part))
    return "".join(said)


def _words_told(part: str) -> str:
    """Tell what stands between two tags, where a line ends nowhere but for the writer's sake."""
    words = unescape(part)
    core = " ".join(words.split())
    if not core:
        return part
    before, after = (" " if words[end].isspace() else "" for end in (0, -1))
    return f"{before}{escape(told(core), quote=False)}{after}"


def _attribute(found: re.Match[str]) -> str:
    return f'{found[1]}="{escape(told(unescape(found[2])))}"'


def told_markdown(markdown: str) -> str:
    r"""Tell the words of Markdown, its marks and escapes kept.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> with reading_as(Reading("de")):
    ...     told_markdown(r"**breather**\: breather")
    '**Entlüfter**\\: Entlüfter'
    """
    if is_as_read(markdown):
        return markdown
    return "".join(
        part if _MARKS.fullmatch(part) else _escaped_told(part) for part in _MARKS.split(markdown)
    )


def escaped_markdown(text: str) -> str:
    r"""Write text so that Markdown shows it as it is, whatever is in it.

    Examples
    --------
    >>> escaped_markdown("U_1 ![x](y)")
    'U\\_1 \\!\\[x\\]\\(y\\)'
    """
    return _MEANING.sub(r"\\\1", text)


def _escaped_told(part: str) -> str:
    said = told(_ESCAPED.sub(r"\1", part))
    return escaped_markdown(said) if _ESCAPED.search(part) else said
