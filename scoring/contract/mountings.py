"""The four ways in which a shaft-mounted reducer holds its shaft."""

KEYED_BORE = "keyed_bore"
TAPERED_BUSHING = "tapered_bushing"
SHRINK_DISC = "shrink_disc"
SHRINK_DISC_SUPPORT_BUSHINGS = "shrink_disc_support_bushings"

EVERY_MOUNTING = (KEYED_BORE, TAPERED_BUSHING, SHRINK_DISC, SHRINK_DISC_SUPPORT_BUSHINGS)
SHRINK_DISCS = (SHRINK_DISC, SHRINK_DISC_SUPPORT_BUSHINGS)

CLAMPED = (TAPERED_BUSHING, *SHRINK_DISCS)
"""Mountings whose screws clamp the shaft: torque passes only by friction."""
