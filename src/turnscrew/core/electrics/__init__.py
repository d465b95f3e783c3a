"""
What do the readings on the power path mean, from the adapter to the board?

Every module is one stretch of the path; ``equations.py`` says for each reckoning which
equation it uses and where that comes from.
"""
