"""How often faults are met on the day of installation, before anybody has looked.

Planning values of ours. They serve only where a check was not seen, and to take average faults out
of field rates; where a fleet has been looked at, its own frequencies correct them.
"""

USUAL_FRICTION_SHARES = (0.86, 0.08, 0.04, 0.02)
"""Bore and shaft: clean and dry, dust or dirt, oil film, anti-seize or grease."""

USUAL_PASSES_SHARES = (0.85, 0.15)
"""As many torque passes as asked for, or fewer."""

CHANCE_THAT_REWORK_SUCCEEDS = 0.85
"""That re-work reported done has cured the fault; planning value of ours. [-]"""

CHANCE_OF_A_CLAMP_MISSED = 0.1
"""That rubber holds the arm although an isolator turned by hand, where it is squeezed too much: one
of the two looks must be wrong, mostly the measured one; planning value of ours. [-]"""
