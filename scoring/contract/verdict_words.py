"""What the verdicts mean, in words."""

VERDICT_MEANS = {
    "hold": "must not run",
    "correct": "a finding that has a cure",
    "watch": "nothing found, something to look at",
    "no_finding": "all critical checks seen and good; no permission to run",
}


def verdict_said(verdict: str) -> str:
    """Say a verdict and what it means, without its shape, for pages that add one.

    Examples
    --------
    >>> verdict_said("hold"), verdict_said("")
    ('hold: must not run', 'not in service')
    """
    if not verdict:
        return "not in service"
    return f"{verdict.replace('_', ' ')}: {VERDICT_MEANS[verdict]}"
