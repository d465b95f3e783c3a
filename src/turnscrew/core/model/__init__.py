"""The nouns: frozen, checked when made, never half-built."""
