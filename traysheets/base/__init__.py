"""Ground floor: errors, notices, lengths, days, bundled files and the words of the sheets. Imports nothing of the house."""
