"""The tables that every workshop began with, by the question they answer."""
