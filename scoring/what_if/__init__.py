"""What re-work would change: risk before and after."""
