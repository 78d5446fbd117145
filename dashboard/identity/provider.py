"""Signing in and out: OpenID Connect, by the authorization code with PKCE, state and nonce."""

import logging
import re
import time
from html import escape
from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode, urlsplit

import httpx2
from authlib.common.errors import AuthlibBaseError
from authlib.integrations.starlette_client import OAuth, OAuthError
from joserfc.errors import JoseError
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from dashboard.identity.login import Login
from dashboard.identity.plain_page import plain_page
from dashboard.identity.sessions import LASTS_S
from scoring.access.grants import SignedInAs

SIGN_IN, BACK, SIGN_OUT = "/sign-in", "/sign-in/back", "/sign-out"

FLOW_S = 600
"""So long may somebody take at the provider. Planning value of ours. [s]"""

MOST_FLOWS = 10_000
"""Begun at once; the oldest go first. Planning value of ours."""

_OWN_ADDRESS = re.compile(r"/(?![/\\])[^\\\x00-\x1f]*\Z")

_log = logging.getLogger("mount_risk.login")


class Flows:
    """What was begun at the provider and is not back yet; each comes back once."""

    def __init__(self) -> None:
        self._begun: dict[str, tuple[float, str]] = {}

    async def get(self, key: str) -> str | None:
        """Return what was kept; as Authlib asks for it."""
        until, kept = self._begun.get(key, (0.0, ""))
        return kept if until > time.time() else None

    async def set(self, key: str, value: str, expires: float) -> None:
        """Keep it for some seconds."""
        now = time.time()
        begun = {k: one for k, one in self._begun.items() if one[0] > now}
        self._begun = {**dict(list(begun.items())[1 - MOST_FLOWS :]), key: (now + expires, value)}

    async def delete(self, key: str) -> None:
        """Forget it: who comes a second time is not known."""
        self._begun.pop(key, None)


class Provider:
    """The provider, and the requests by which people sign in and out.

    Parameters
    ----------
    login : Login
        Where it is kept who has signed in.
    """

    def __init__(self, login: Login) -> None:
        self._login = login
        settings = login.settings
        self._client: Any = OAuth(cache=Flows()).register(
            "provider",
            client_id=settings.client_id,
            client_secret=settings.client_secret,
            server_metadata_url=f"{settings.issuer.rstrip('/')}/.well-known/openid-configuration",
            client_kwargs={
                "scope": "openid profile",
                "code_challenge_method": "S256",
                "timeout": 15,
            },
        )

    async def sign_in(self, request: Request) -> Response:
        """Go to the provider, and remember where one wanted to go."""
        to = request.query_params.get("to", "/")
        request.session["to"] = to if _OWN_ADDRESS.match(to) else "/"
        try:
            await self._require_issuer()
            back = f"{self._login.settings.public_url}{BACK}"
            sent: Response = await self._client.authorize_redirect(request, back)
        except _FAULTS as error:
            return _not_reached(error)
        return sent

    async def back(self, request: Request) -> Response:
        """Take what the provider says of somebody, once, and begin a session."""
        to = str(request.session.get("to", "/"))
        try:
            token = await self._client.authorize_access_token(
                request, claims_options={"iss": {"essential": True, "value": self._issuer}}
            )
        except (httpx2.HTTPError, RuntimeError) as error:
            return _not_reached(error)
        except _FAULTS as error:
            return _refused(error)
        request.session.clear()
        claims = token.get("userinfo") or {}
        subject = str(claims.get("sub") or "")
        if not subject:
            return _refused(ValueError("nobody is named"))
        who = SignedInAs(self._issuer, subject)
        sessions = self._login.sessions
        sessions.end(request.cookies)
        response = RedirectResponse(to, HTTPStatus.SEE_OTHER)
        response.set_cookie(
            sessions.cookie,
            sessions.begin(who, str(token.get("id_token", ""))),
            max_age=LASTS_S,
            path="/",
            secure=sessions.is_encrypted,
            httponly=True,
            samesite="lax",
        )
        return response

    async def ask_sign_out(self, request: Request) -> Response:
        """Offer to sign out."""
        del request
        place = urlsplit(await self._place_to_sign_out())
        after = f" {place.scheme}://{place.netloc}" if place.netloc else ""
        policy = (
            "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; "
            f"frame-ancestors 'none'; form-action 'self'{after}"
        )
        return HTMLResponse(
            headers={"Content-Security-Policy": policy, "Cache-Control": "no-store"},
            content=plain_page(
                "Sign out",
                "Who signs out here is signed out at the provider of the login, too.",
                f'<form method="post" action="{SIGN_OUT}"><button>Sign out</button></form>'
                '<p><a href="/">Back to the pages</a></p>',
            ),
        )

    async def sign_out(self, request: Request) -> Response:
        """End the session here, and at the provider where it has a place for that."""
        sessions = self._login.sessions
        ended = sessions.end(request.cookies)
        to = "/signed-out"
        if ended is not None:
            to = await self._end_at_the_provider(ended.id_token) or to
        response = RedirectResponse(to, HTTPStatus.SEE_OTHER)
        response.delete_cookie(
            sessions.cookie,
            path="/",
            secure=sessions.is_encrypted,
            httponly=True,
            samesite="lax",
        )
        return response

    @property
    def _issuer(self) -> str:
        return self._login.settings.issuer

    async def _require_issuer(self) -> None:
        """Refuse a provider that names itself otherwise than the settings do."""
        said = (await self._client.load_server_metadata()).get("issuer")
        if said != self._issuer:
            raise OAuthError(description=f"the provider calls itself {said!r}")

    async def _place_to_sign_out(self) -> str:
        try:
            said = (await self._client.load_server_metadata()).get("end_session_endpoint")
        except _FAULTS as error:
            _log.warning("the provider was not reached: %s", type(error).__name__)
            return ""
        return str(said or "")

    async def _end_at_the_provider(self, id_token: str) -> str:
        place = await self._place_to_sign_out()
        if not place:
            return ""
        settings = self._login.settings
        asked = {
            "id_token_hint": id_token,
            "client_id": settings.client_id,
            "post_logout_redirect_uri": f"{settings.public_url}/signed-out",
        }
        return f"{place}{'&' if '?' in place else '?'}{urlencode(asked)}"


_FAULTS = (
    AuthlibBaseError, JoseError, httpx2.HTTPError, RuntimeError, ValueError, KeyError, TypeError,
)  # fmt: skip
"""What goes wrong between these pages and a provider, or with what somebody made up."""


def signed_out() -> Response:
    """Say that nobody is signed in any more."""
    return HTMLResponse(
        plain_page("Signed out", "Nobody is signed in here now.", _again("/")),
    )


def _again(to: str) -> str:
    query = escape(urlencode({"to": to}))
    return f'<p><a href="{SIGN_IN}?{query}">Sign in</a></p>'


def _refused(error: BaseException) -> Response:
    _log.warning("a sign-in was refused: %s", type(error).__name__)
    words = (
        "Not signed in: what came back from the provider of the login does not fit what was "
        "asked, was used before, or is too old."
    )
    return HTMLResponse(plain_page("Not signed in", words, _again("/")), HTTPStatus.FORBIDDEN)


def _not_reached(error: BaseException) -> Response:
    _log.warning("the provider of the login did not answer: %s", type(error).__name__)
    words = (
        "Not signed in: the provider of the login does not answer as it should. Try again; if it "
        "stays so, tell who runs these pages."
    )
    return HTMLResponse(plain_page("Not signed in", words, _again("/")), HTTPStatus.BAD_GATEWAY)
