"""The book: batch codes and what was noted about every batch, in SQLite."""
