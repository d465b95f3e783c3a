"""
Is every entry of the journals still there and unchanged, and does everything add up?

Four journals, each a chain: every entry holds the digest of the one before. What
entries say of parts, fasteners, accessories and money must add up to nothing lost.
"""
