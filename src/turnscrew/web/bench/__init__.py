"""The pages that stand on an arm at the bench; they go on without a network."""
