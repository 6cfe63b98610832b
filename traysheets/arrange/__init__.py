"""Which batch stands in which cell; proves that nothing is lost or doubled."""
