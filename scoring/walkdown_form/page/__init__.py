"""The walkdown form as one self-contained page: its looks, its scripts, and their assembly."""
