"""Reading a finished sheet back: whether it is whole, to scale and scannable. Knows no plan, only the file."""
