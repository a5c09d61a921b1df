"""A plan at once: every task in turn where the shop has room for it, forwards or backwards from the dates."""
