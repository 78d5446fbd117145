"""Post-install inspection and failure-risk scoring of shaft-mounted gear reducers.

Data flows one way, a package for each step::

    files, store -> intake -> timeline -> consequences -> rules, handbook -> learning -> risk
        -> validation -> assessment -> what_if -> planning, looking -> explanation, trends
        -> files, entering, cli

``contract`` declares the tables once; it, ``limits`` and ``mechanics`` serve every step. Only
``files``, ``store``, ``entering`` and ``cli`` touch a disk, a database or a screen.
``FleetAssessor.assess`` is the chain of one day.
"""
