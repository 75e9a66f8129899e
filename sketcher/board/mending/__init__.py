"""Ways out of what is wrong: a clash, a condition that is redundant, a side in doubt, leftovers.

Each way is tried with the solver before it is offered; nothing here mends unasked.
"""
