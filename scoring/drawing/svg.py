"""From a picture to SVG text: nothing is loaded from outside, nothing runs."""

import re
from dataclasses import asdict
from xml.sax.saxutils import escape, quoteattr

from scoring.drawing.look_tokens import (
    DARK,
    LIGHT,
    ON_DARK,
    ON_LIGHT,
    ON_PAPER,
    PAPER,
    Materials,
    Tokens,
)
from scoring.drawing.shapes import LINE_HEIGHT, Circle, Label, Line, Mark, Picture, Polygon, Role


def _theme(tokens: Tokens, materials: Materials) -> dict[str, str]:
    return {
        "ink": tokens.ink,
        "paper": tokens.ground,
        "quiet": tokens.quiet,
        "alarm": tokens.hold,
        **asdict(materials),
    }


THEMES: dict[str, dict[str, str]] = {
    "light": _theme(LIGHT, ON_LIGHT),
    "dark": _theme(DARK, ON_DARK),
    "paper": _theme(PAPER, ON_PAPER),
}
"""Colours by what they are for; ``paper`` is black and white, for sheets."""

_FILL = {
    Role.SHAFT: "shaft",
    Role.HOUSING: "metal",
    Role.PART: "metal",
    Role.RUBBER: "rubber",
    Role.SEAL: "rubber",
    Role.BEARING: "paper",
    Role.GROUND: "metal",
    Role.INK: "ink",
}
_STROKE = {
    Role.CENTRE: ("quiet", 0.25, "4 1 1 1"),
    Role.DIMENSION: ("quiet", 0.3, ""),
    Role.REQUIRED: ("required", 0.5, "2 1"),
    Role.FINDING: ("alarm", 0.6, ""),
    Role.FORCE: ("force", 0.8, ""),
    Role.QUIET: ("quiet", 0.3, ""),
    Role.UNSEEN: ("quiet", 0.35, "1.2 0.8"),
}
_INK = {
    Role.REQUIRED: "required",
    Role.FINDING: "alarm",
    Role.FORCE: "force",
    Role.DIMENSION: "quiet",
    Role.QUIET: "quiet",
    Role.UNSEEN: "quiet",
}
_PLAIN_STROKE = ("ink", 0.4, "")
_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def to_svg(picture: Picture, theme: str = "light") -> str:
    """Write a picture.

    Parameters
    ----------
    picture : Picture
        The picture.
    theme : str
        ``light``, ``dark`` or ``paper``.

    Returns
    -------
    str
        A whole SVG document with title and description, sized in millimetres, that shrinks with
        the room it is given.

    Examples
    --------
    >>> to_svg(Picture("a dot", "One dot.", 10, 10, ()))[:4]
    '<svg'
    """
    colours = THEMES[theme]
    width, height = picture.width, picture.height
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(width)} {_n(height)}" '
        f'style="width:100%;max-width:{_n(width * 4)}px;height:auto" role="img" '
        f"aria-label={quoteattr(picture.title)}>"
        f"<title>{escape(picture.title)}</title><desc>{escape(picture.description)}</desc>"
        f"<defs>{_hatch(colours)}{_heads(colours)}</defs>"
        f'<rect width="{_n(width)}" height="{_n(height)}" fill="{colours["paper"]}"/>'
    )
    text = head + "".join(_one(shape, colours) for shape in picture.shapes) + "</svg>"
    return _NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)  # a name may hold anything


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _hatch(colours: dict[str, str]) -> str:
    return (
        '<pattern id="cut" width="2.4" height="2.4" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="2.4" '
        f'stroke="{colours["quiet"]}" stroke-width="0.35"/></pattern>'
    )


def _heads(colours: dict[str, str]) -> str:
    return "".join(
        f'<marker id="head-{name}" viewBox="0 0 6 6" refX="5.4" refY="3" markerWidth="3.2" '
        'markerHeight="3.2" markerUnits="userSpaceOnUse" orient="auto-start-reverse">'
        f'<path d="M0 0.6 L6 3 L0 5.4 z" fill="{colours[name]}"/></marker>'
        for name in ("ink", "quiet", "required", "alarm", "force")
    )


def _stroke(role: Role, colours: dict[str, str]) -> str:
    name, width, dashes = _STROKE.get(role, _PLAIN_STROKE)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'stroke="{colours[name]}" stroke-width="{width}"{dashed}'


def _one(shape: object, colours: dict[str, str]) -> str:
    match shape:
        case Polygon():
            return _polygon(shape, colours)
        case Circle():
            return (
                f'<circle cx="{_n(shape.centre[0])}" cy="{_n(shape.centre[1])}" '
                f'r="{_n(shape.radius)}" fill="{_fill(shape.role, colours)}" '
                f"{_stroke(shape.role, colours)}/>"
            )
        case Line():
            return _line(shape, colours)
        case Label():
            return _label(shape, colours)
        case Mark():
            return _mark(shape, colours)
    raise TypeError(f"{type(shape).__name__} is no shape")


def _fill(role: Role, colours: dict[str, str]) -> str:
    return colours[_FILL[role]] if role in _FILL else "none"


def _polygon(shape: Polygon, colours: dict[str, str]) -> str:
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)
    body = (
        f'<polygon points="{points}" fill="{_fill(shape.role, colours)}" '
        f"{_stroke(shape.role, colours)}/>"
    )
    return body + (f'<polygon points="{points}" fill="url(#cut)"/>' if shape.cut else "")


def _line(shape: Line, colours: dict[str, str]) -> str:
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)
    name = _STROKE.get(shape.role, _PLAIN_STROKE)[0]
    ends = f' marker-end="url(#head-{name})"' if shape.head else ""
    ends += f' marker-start="url(#head-{name})"' if shape.tail else ""
    return f'<polyline points="{points}" fill="none" {_stroke(shape.role, colours)}{ends}/>'


def _label(shape: Label, colours: dict[str, str]) -> str:
    x, y = shape.at
    ink = colours[_INK.get(shape.role, "ink")]
    lines = "".join(
        f'<tspan x="{_n(x)}" y="{_n(y + n * shape.size * LINE_HEIGHT)}">{escape(line)}</tspan>'
        for n, line in enumerate(shape.lines)
    )
    return (
        f'<text font-family="sans-serif" font-size="{_n(shape.size)}" fill="{ink}" '
        f'text-anchor="{shape.anchor}" paint-order="stroke" stroke="{colours["paper"]}" '
        f'stroke-width="{_n(0.3 * shape.size)}" stroke-linejoin="round">{lines}</text>'
    )


def _mark(shape: Mark, colours: dict[str, str]) -> str:
    (x, y), r = shape.at, shape.radius
    outline = (
        f'<rect x="{_n(x - r)}" y="{_n(y - r)}" width="{_n(2 * r)}" height="{_n(2 * r)}" '
        if shape.severe
        else f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" '
    )
    return (
        f'{outline}fill="{colours["paper"]}" stroke="{colours["alarm"]}" stroke-width="0.7"/>'
        f'<text x="{_n(x)}" y="{_n(y + 0.36 * 3.4)}" font-family="sans-serif" font-size="3.4" '
        f'font-weight="bold" fill="{colours["alarm"]}" text-anchor="middle">{shape.number}</text>'
    )
