"""All that writes: one function a verb, one transaction each."""
