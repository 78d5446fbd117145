"""What findings do, in newtons and millimetres: one physical thing per file.

Coherent SI inside (N, m, Pa, s, rad) unless a name says otherwise; arrays broadcast.
"""
