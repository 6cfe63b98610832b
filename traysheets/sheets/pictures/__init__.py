"""Pictures of the work of sowing, all in one hand: the same lines, tints and shapes on every sheet that shows them."""
