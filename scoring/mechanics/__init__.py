"""What findings do to the machine: one physical thing per file.

Coherent SI inside (N, m, Pa, N·m, s, rad) unless a name says otherwise; arrays broadcast. A
missing value (NaN) gives a missing result; a value outside the range of a formula is refused.
"""
