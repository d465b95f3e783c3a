"""
What is the cheapest way to reach parts of a device, and how does it go back?

Method: exact best-first search, see ``docs/methods.md``.
"""
