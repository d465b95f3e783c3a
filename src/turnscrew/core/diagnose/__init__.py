"""
What should be tested or exchanged next, at least expected cost?

Method: exact depth-first search with bounds from groups of faults, a look ahead where
proof is out of reach; see ``docs/methods.md``.
"""
