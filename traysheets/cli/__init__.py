"""Words typed to exit status: the only room that knows click, the clock and stdout."""
