"""Why a check was not seen: four reasons, each one tap; none of them says anything of the check."""

NOT_SEEN_REASONS: dict[str, str] = {
    "guard_on": "guard on",
    "running": "machine running",
    "no_access": "no access",
    "not_asked": "not asked for",
}
"""By the word that is kept: what a person reads."""
