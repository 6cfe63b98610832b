"""Facts of the trade: trays, papers, label stocks, crops, days to emergence. Each figure has its origin in `data/`."""
