"""What every answer carries, so that a browser does no more with it than we mean."""

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from pathlib import Path

import streamlit
from starlette.datastructures import MutableHeaders

POLICY = "Content-Security-Policy"

ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), display-capture=(), geolocation=(), microphone=(), "
    "payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

NOTHING = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
"""For an answer that shows nothing but itself."""

_READ_BY_SCRIPTS = ("_streamlit_xsrf",)
"""The framework's script sends this cookie's value back, by which its own pages are known."""

_INLINE = re.compile(r"<script>(.*?)</script>", re.DOTALL)


@cache
def streamlit_policy() -> str:
    """Return what Streamlit's pages may load and run: what stands on this server.

    Its styles are made by script, and our own style sheet stands in the page: so styles may be
    inline. Scripts may not, but for the one that stands in its page, and nothing is made from text.
    """
    page = Path(streamlit.__file__).with_name("static") / "index.html"
    inline = _INLINE.findall(page.read_text(encoding="utf-8"))
    scripts = " ".join(["'self'", *map(hash_of, inline)])
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {scripts}",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self' data:",
            "connect-src 'self'",
            "media-src 'self'",
            "manifest-src 'self'",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'none'",
        )
    )


def hash_of(text: str) -> str:
    """Return an inline script or style as a policy names it.

    Examples
    --------
    >>> hash_of("")
    "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
    """
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def put_headers(headers: MutableHeaders, *, policy: str, is_encrypted: bool) -> None:
    """Add what every answer carries, and harden its cookies.

    Parameters
    ----------
    headers : MutableHeaders
        Of an answer; a policy of its own stays.
    policy : str
        What its page may load and run, where it does not say so itself.
    is_encrypted : bool
        Whether the browser asked by TLS.
    """
    for name, value in ALWAYS.items():
        headers[name] = value
    headers.setdefault(POLICY, policy)
    cookies = headers.getlist("set-cookie")
    if cookies:
        del headers["set-cookie"]
        for cookie in cookies:
            headers.append("set-cookie", hardened(cookie, is_encrypted=is_encrypted))


def hardened(cookie: str, *, is_encrypted: bool) -> str:
    """Return a cookie that no script reads, that other sites' requests lack, and TLS alone carries.

    Examples
    --------
    >>> hardened("person=Ann; Path=/; SameSite=lax", is_encrypted=True)
    'person=Ann; Path=/; SameSite=lax; HttpOnly; Secure'
    """
    there = {part.strip().partition("=")[0].lower() for part in cookie.split(";")[1:]}
    name = cookie.partition("=")[0]
    more = []
    if "httponly" not in there and name not in _READ_BY_SCRIPTS:
        more.append("HttpOnly")
    if "samesite" not in there:
        more.append("SameSite=Lax")
    if is_encrypted and "secure" not in there:
        more.append("Secure")
    return "; ".join((cookie, *more))
