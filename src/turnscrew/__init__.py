"""Turnscrew: memory and arithmetic for mending fleets of portable computers."""
