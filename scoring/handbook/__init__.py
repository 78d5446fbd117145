"""What is known of failures before a fleet has had any: effects, usual faults, base rates."""
