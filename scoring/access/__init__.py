"""Who may do what, and at which sites: declared once, asked by everything that reads or writes."""
