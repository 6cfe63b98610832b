"""The words of a finished page: marks in millimetres, lettering, QR codes, hatches, palette. Knows nothing of seeds."""
