"""Every sum, one formula a function, each with its source."""
