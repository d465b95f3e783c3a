"""Slow, obvious versions of what the engines do; they share no code with them."""
