"""
What do recorded openings tell of a model that nobody has described yet?

Method: whatever was always undone before a thing stays a rule, see ``orders``.
"""
