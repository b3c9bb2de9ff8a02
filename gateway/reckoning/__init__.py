"""What it means: battery, bilge, holes, tanks, cold food, monoxide, drift, dew, cable. Pure sums with their sources.

Numbers are floats here: nothing of it is hashed, and no published figure has more digits than a float. What is shown
of a number is a Decimal, whose text can be recorded and compared.
"""
