"""Ground floor: errors, notices, lengths, days, bundled files, words of the sheets. Imports nothing of the house."""
