"""The part, its history and its last solve: a step is done or refused, and all hear of it once.

Nothing here knows a tool, a row of the readout or a window.
"""
