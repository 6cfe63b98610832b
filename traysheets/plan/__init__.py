"""The plan file, and every complaint about it."""
