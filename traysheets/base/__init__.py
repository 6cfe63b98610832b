"""Ground floor: errors, notices, limits, lengths, days, words of the sheets, shared work. Imports no room."""
