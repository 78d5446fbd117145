"""Post-install inspection and failure-risk scoring of shaft-mounted gear reducers.

Data flows one way, a package for each step::

    contract -> intake -> timeline -> limits -> rules -> assessment -> files, cli

``contract`` declares the tables once; everything else is a function from table to table.
Only ``files`` and ``cli`` touch a disk or a screen.
"""
