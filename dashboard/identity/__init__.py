"""Who uses the pages: signed in at a provider of OpenID Connect, asked of at every request.

One gate before the whole server, so that the pages of Streamlit, their connection, files and
the routes of the walkdown form know the same person, and what forgets to ask is closed.
"""

ASKER = "mount_risk.asker"
"""Where the scope of a request says who asks."""
