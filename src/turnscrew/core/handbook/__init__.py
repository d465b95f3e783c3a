"""
Which other published figures does the bench lean on?

Small modules by topic; ``equations.py`` says for each reckoning which equation it uses
and where that comes from.
"""
