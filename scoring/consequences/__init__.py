"""What the findings do at each unit: loads, lives, slip margins, run-out at the seal.

Records and nameplates meet mechanics here. What is not known enters as a declared distribution,
never as zero, and is listed under assumed.
"""
