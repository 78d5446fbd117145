"""The walkdown form behind the pages: served beside Streamlit, kept in the store.

A rerun of a script for every tap, and a session that a lost connection takes away, are not for a
person in gloves. So the form is a page of its own, light and quick, that answers by itself and
sends each answer to the store at once.
"""
