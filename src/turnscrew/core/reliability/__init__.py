"""
How often does what fail, how sure is that, and what will come?

Every result names its convention: limits, rule of the p-value, variance, estimator,
termination, risk set.
"""
