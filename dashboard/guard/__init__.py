"""What stands between the network and the pages: which requests are let in, and what answers carry.

One middleware around the whole server, Streamlit's pages and files and the form's routes alike, so
that no route can be forgotten.
"""
