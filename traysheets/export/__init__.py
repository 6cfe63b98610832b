"""Pages to PDF and SVG, records to HTML and CSV, and files written whole or not at all."""
