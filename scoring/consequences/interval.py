"""How wide a 90 % interval is."""

Z90 = 1.6448536269514722
"""Half-width of a 90 % interval in standard deviations. [-]"""
