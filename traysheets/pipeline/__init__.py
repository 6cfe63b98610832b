"""The order of the stages, and nothing else: plan, reckon, codes, arrange, sheets, export.

`check` stops before anything is drawn and writes nothing. `make` draws and writes all or nothing; the batches it prints
are entered in the book once every file is whole, just before the files get their names.

What is wanted is imported from its own file, so that checking a plan loads nothing that draws.
"""
