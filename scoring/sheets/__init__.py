"""Sheets to print and sign, as data: what stands on them, and in which order.

Each kind is one file, from results to a ``Sheet``. How a sheet becomes PDF or HTML is the matter of
``scoring.printing``; nothing here knows paper, fonts or a screen.
"""
