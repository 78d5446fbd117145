"""What is said, told in the language, the numbers and the measures of who reads it.

Results are worked out once for all people, so everything inside speaks English. What is about to
be shown goes through ``told`` at the border, and nowhere else.
"""
