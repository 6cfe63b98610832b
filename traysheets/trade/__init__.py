"""Facts of the trade: trays, papers, label stocks, crops, days to emergence. Each figure stands with its origin in `data/`."""
